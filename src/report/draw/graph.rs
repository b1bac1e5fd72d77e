//! The dependency graph as it is drawn: nodes with their words, edges, and the part of the machine each belongs to.

pub mod dot;
mod layered;
mod machine;
mod place;
mod rules;
pub mod svg;

use crate::invariant::Hold;
use std::collections::{BTreeMap, BTreeSet};

pub use machine::of_case;
pub use rules::of_rules;

/// A graph to be drawn; edges run from what brings about to what is brought about, and never in a ring
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Graph {
    /// What it shows
    pub title: String,
    /// Names of the clusters
    pub clusters: Vec<String>,
    /// Nodes, in the order of the rules
    pub nodes: Vec<Node>,
    /// Edges between nodes, by their numbers, none twice
    pub edges: Vec<Edge>,
}

/// A node
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Its name, with its place where it stands for one place: `flange_worn left`
    pub id: String,
    /// Its name in the rules
    pub name: String,
    /// Its label
    pub label: String,
    /// What sort of block it is
    pub sort: Sort,
    /// Number of its cluster
    pub cluster: usize,
    /// What more is written in it, a line each: its place, what was seen, its probability
    pub lines: Vec<String>,
    /// True when it was seen or read
    pub seen: bool,
    /// True when what was seen or read is not normal
    pub abnormal: bool,
}

/// What sort of block a node is
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Sort {
    /// A fact
    Fact,
    /// A cause
    Cause,
    /// A condition
    Condition,
    /// A symptom
    Symptom,
}

impl Sort {
    /// All of them, in the order of the legend
    pub const ALL: [Sort; 4] = [Sort::Fact, Sort::Cause, Sort::Condition, Sort::Symptom];

    /// The word for it
    pub fn word(self) -> &'static str {
        match self {
            Sort::Fact => "fact",
            Sort::Cause => "cause",
            Sort::Condition => "condition",
            Sort::Symptom => "symptom",
        }
    }
}

/// An edge, by the numbers of its nodes
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub struct Edge {
    /// What brings about, or sets the odds
    pub from: usize,
    /// What is brought about
    pub to: usize,
}

impl Graph {
    /// True for an edge from a fact, which opens a rule or sets its odds and brings nothing about by itself
    pub fn is_from_fact(&self, edge: Edge) -> bool {
        self.nodes.get(edge.from).is_some_and(|node| node.sort == Sort::Fact)
    }

    /// What lies within so many steps above and below all nodes of a name
    pub fn around(&self, name: &str, steps: usize) -> Graph {
        let start: Vec<usize> = self.numbers(|node| node.name == name);
        let up = self.within(&start, steps, |edge| (edge.to, edge.from));
        let down = self.within(&start, steps, |edge| (edge.from, edge.to));
        let label = start.first().and_then(|number| self.nodes.get(*number)).map_or("", |node| &node.label);
        let title = format!("{}: what lies above and below “{label}”", self.title);
        Graph { title, ..self.only(&up.union(&down).copied().collect()) }
    }

    /// What was found out of order and everything above it
    pub fn behind_the_findings(&self) -> Graph {
        let start = self.numbers(|node| node.abnormal);
        self.only(&self.within(&start, self.nodes.len(), |edge| (edge.to, edge.from)))
    }

    fn numbers(&self, wanted: impl Fn(&Node) -> bool) -> Vec<usize> {
        let nodes = self.nodes.iter().enumerate();
        nodes.filter(|(_, node)| wanted(node)).map(|(number, _)| number).collect()
    }

    fn within(&self, start: &[usize], steps: usize, along: fn(&Edge) -> (usize, usize)) -> BTreeSet<usize> {
        let mut seen: BTreeSet<usize> = start.iter().copied().collect();
        let mut front = seen.clone();
        for _ in 0..steps {
            let next = self.edges.iter().map(along).filter(|(from, _)| front.contains(from));
            front = next.map(|(_, to)| to).filter(|to| !seen.contains(to)).collect();
            if front.is_empty() {
                break;
            }
            seen.extend(&front);
        }
        seen
    }

    /// The same graph with these nodes alone, and no empty cluster
    fn only(&self, kept: &BTreeSet<usize>) -> Graph {
        let mut clusters: BTreeMap<usize, usize> = BTreeMap::new();
        for node in kept.iter().filter_map(|number| self.nodes.get(*number)) {
            clusters.insert(node.cluster, 0);
        }
        clusters.values_mut().enumerate().for_each(|(place, new)| *new = place);
        let new_number: BTreeMap<usize, usize> =
            kept.iter().enumerate().map(|(new, old)| (*old, new)).collect();
        let nodes = kept.iter().filter_map(|number| self.nodes.get(*number)).map(|node| {
            let cluster = *clusters.get(&node.cluster).hold("the clusters are those of the nodes kept");
            Node { cluster, ..node.clone() }
        });
        let edges = self.edges.iter().filter_map(|edge| {
            Some(Edge { from: *new_number.get(&edge.from)?, to: *new_number.get(&edge.to)? })
        });
        Graph {
            title: self.title.clone(),
            clusters: clusters.keys().filter_map(|old| self.clusters.get(*old).cloned()).collect(),
            nodes: nodes.collect(),
            edges: edges.collect(),
        }
    }
}
