//! A network in the XML interchange format for Bayesian networks, version 0.3 (Cozman 1998).

use super::{Export, Node, names};
use crate::report::draw::picture::escaped;

/// The whole document; probabilities in the fewest digits that give the same double back
///
/// The format has no place for findings; tables stand as it orders them, the first parent slowest and the node itself
/// fastest.
pub fn xmlbif(export: &Export) -> String {
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    out.push_str("<BIF VERSION=\"0.3\">\n<NETWORK>\n");
    element(&mut out, "NAME", &names::Names::default().real(&export.case));
    property(&mut out, "case", &export.case);
    property(&mut out, "machine", &export.machine);
    property(&mut out, "rules_digest", &export.rules_digest);
    property(&mut out, "case_digest", &export.case_digest);
    for node in &export.nodes {
        variable(&mut out, node);
    }
    for node in &export.nodes {
        definition(&mut out, node);
    }
    out.push_str("</NETWORK>\n</BIF>\n");
    out
}

fn variable(out: &mut String, node: &Node) {
    out.push_str("<VARIABLE TYPE=\"nature\">\n");
    element(out, "NAME", &node.name);
    for state in &node.states {
        element(out, "OUTCOME", &state.name);
    }
    property(out, "name", &node.true_name);
    property(out, "sort", node.sort);
    property(out, "label", &node.label);
    out.push_str("</VARIABLE>\n");
}

fn definition(out: &mut String, node: &Node) {
    out.push_str("<DEFINITION>\n");
    element(out, "FOR", &node.name);
    for parent in &node.parents {
        element(out, "GIVEN", parent);
    }
    let rows = node.table.iter().map(|row| {
        let entries: Vec<String> = row.iter().map(|entry| format!("{entry:?}")).collect();
        entries.join(" ")
    });
    element(out, "TABLE", &rows.collect::<Vec<_>>().join("\n"));
    out.push_str("</DEFINITION>\n");
}

fn property(out: &mut String, name: &str, value: &str) {
    element(out, "PROPERTY", &format!("{name} = {value}"));
}

fn element(out: &mut String, tag: &str, text: &str) {
    out.push_str(&format!("<{tag}>{}</{tag}>\n", escaped(text)));
}
