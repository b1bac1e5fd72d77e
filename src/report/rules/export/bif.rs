//! A network in the interchange format for Bayesian networks, version 0.15 (Cozman 1996), the one without XML.

use super::{Export, Node, names};
use crate::invariant::Hold;

/// The whole text; probabilities in the fewest digits that give the same double back
///
/// The format has no place for findings, nor for labels: what a name stands for is told in a comment.
pub fn bif(export: &Export) -> String {
    let mut out = String::new();
    for (what, text) in [
        ("case", &export.case),
        ("machine", &export.machine),
        ("rules", &export.rules_digest),
        ("case file", &export.case_digest),
    ] {
        comment(&mut out, &format!("{what}: {text}"));
    }
    out.push_str(&format!("network {} {{\n}}\n", names::Names::default().real(&export.case)));
    for node in &export.nodes {
        variable(&mut out, node);
    }
    for node in &export.nodes {
        probability(&mut out, node, &export.nodes);
    }
    out
}

fn variable(out: &mut String, node: &Node) {
    comment(out, &format!("{}: {}: {}", node.true_name, node.sort, node.label));
    let states: Vec<&str> = node.states.iter().map(|state| state.name.as_str()).collect();
    let count = states.len();
    out.push_str(&format!(
        "variable {} {{\n  type discrete [ {count} ] {{ {} }};\n}}\n",
        node.name,
        states.join(", ")
    ));
}

fn probability(out: &mut String, node: &Node, all: &[Node]) {
    let entries = |row: &[f64]| row.iter().map(|entry| format!("{entry:?}")).collect::<Vec<_>>().join(", ");
    if node.parents.is_empty() {
        let table = node.table.first().map(|row| entries(row)).hold("a node without parents has one row");
        out.push_str(&format!("probability ( {} ) {{\n  table {table};\n}}\n", node.name));
        return;
    }
    out.push_str(&format!("probability ( {} | {} ) {{\n", node.name, node.parents.join(", ")));
    let parents: Vec<&Node> =
        node.parents.iter().filter_map(|name| all.iter().find(|own| own.name == *name)).collect();
    for (number, row) in node.table.iter().enumerate() {
        out.push_str(&format!("  ({}) {};\n", configuration(&parents, number).join(", "), entries(row)));
    }
    out.push_str("}\n");
}

/// States of the parents that a row is for, the last parent running fastest
fn configuration<'a>(parents: &[&'a Node], row: usize) -> Vec<&'a str> {
    let mut left = row;
    let mut states: Vec<&str> = Vec::with_capacity(parents.len());
    for parent in parents.iter().rev() {
        let count = parent.states.len().max(1);
        states.push(parent.states.get(left % count).map_or("", |state| state.name.as_str()));
        left /= count;
    }
    states.reverse();
    states
}

/// A comment to the end of the line; a line end within it becomes a blank
fn comment(out: &mut String, text: &str) {
    let line: String = text.chars().map(|sign| if sign.is_control() { ' ' } else { sign }).collect();
    out.push_str(&format!("// {line}\n"));
}
