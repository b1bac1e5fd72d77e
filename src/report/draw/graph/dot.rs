//! The graph in the DOT language, clusters by part.

use super::{Graph, Node, Sort};

/// The graph in the DOT language
pub fn dot(graph: &Graph) -> String {
    let mut text = String::from("digraph pinboss {\n");
    text.push_str(&format!("  label={}; labelloc=\"t\"; rankdir=\"LR\";\n", quoted(&graph.title)));
    text.push_str("  node [fontname=\"sans-serif\", fontsize=\"11\"];\n");
    for (number, cluster) in graph.clusters.iter().enumerate() {
        text.push_str(&format!("  subgraph cluster_{number} {{\n    label={};\n", quoted(cluster)));
        for node in graph.nodes.iter().filter(|node| node.cluster == number) {
            text.push_str(&format!("    {}\n", line(node)));
        }
        text.push_str("  }\n");
    }
    for edge in &graph.edges {
        if let (Some(from), Some(to)) = (graph.nodes.get(edge.from), graph.nodes.get(edge.to)) {
            let style = if graph.is_from_fact(*edge) { " [style=\"dashed\"]" } else { "" };
            text.push_str(&format!("  {} -> {}{style};\n", quoted(&from.id), quoted(&to.id)));
        }
    }
    text.push_str("}\n");
    text
}

fn line(node: &Node) -> String {
    let shape = match node.sort {
        Sort::Fact => "note",
        Sort::Cause => "hexagon",
        Sort::Condition => "ellipse",
        Sort::Symptom => "box",
    };
    let words: Vec<&str> =
        std::iter::once(node.label.as_str()).chain(node.lines.iter().map(String::as_str)).collect();
    let tooltip = format!("{}: {}", node.sort.word(), node.label);
    let width = if node.seen { ", penwidth=\"3\"" } else { "" };
    format!(
        "{} [label={}, shape=\"{shape}\", tooltip={}{width}];",
        quoted(&node.id),
        quoted(&words.join("\n")),
        quoted(&tooltip)
    )
}

/// A quoted string of the language: only the quote, the backslash and the line end stand for something else
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            other => quoted.push(other),
        }
    }
    quoted.push('"');
    quoted
}
