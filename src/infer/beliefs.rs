//! What an evaluation gives: the probability of the evidence and the posterior marginals

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::infer::number::{Number, Wide};
use crate::network::NodeId;

/// Place of each node's entries in a flat array
#[derive(Clone, Default, Debug)]
pub(crate) struct Places {
    /// Nodes with the end of their entries, in the order of the nodes, which is that of the entries
    ends: Vec<(NodeId, usize)>,
}

impl Places {
    /// Places of nodes in rising order, each with its number of entries
    pub(crate) fn new(nodes: impl Iterator<Item = (NodeId, usize)>) -> Self {
        let ends = nodes.scan(0, |end, (node, entries)| {
            *end += entries;
            Some((node, *end))
        });
        Places { ends: ends.collect() }
    }

    /// Number of a node among those that have a place
    pub(crate) fn number(&self, node: NodeId) -> Option<usize> {
        self.ends.binary_search_by_key(&node, |&(node, _)| node).ok()
    }

    pub(crate) fn nodes(&self) -> impl Iterator<Item = NodeId> {
        self.ends.iter().map(|&(node, _)| node)
    }

    /// Entries of all nodes together
    pub(crate) fn entries(&self) -> usize {
        self.ends.last().map_or(0, |&(_, end)| end)
    }

    fn part<'v>(&self, number: usize, values: &'v [f64]) -> Option<&'v [f64]> {
        let before = number.checked_sub(1).and_then(|before| self.ends.get(before));
        values.get(before.map_or(0, |&(_, end)| end)..self.ends.get(number)?.1)
    }
}

/// Posterior marginals given the evidence
#[derive(Clone, Debug)]
pub struct Beliefs {
    /// Natural logarithm of the probability of the evidence, in the scale of the likelihoods given;
    /// minus infinity where the evidence is impossible
    pub log_evidence: f64,
    evidence: Wide,
    places: Arc<Places>,
    values: Vec<f64>,
}

impl Beliefs {
    pub(crate) fn new(evidence: Wide, places: Arc<Places>, values: Vec<f64>) -> Self {
        Beliefs { log_evidence: evidence.ln(), evidence, places, values }
    }

    pub(crate) fn gathered(evidence: Wide, marginals: BTreeMap<NodeId, Vec<f64>>) -> Self {
        let places = Places::new(marginals.iter().map(|(&node, marginal)| (node, marginal.len())));
        Beliefs::new(evidence, Arc::new(places), marginals.into_values().flatten().collect())
    }

    /// Posterior distribution of a node over its states, adding up to 1; `None` when the node is
    /// not among those worked out, or when the evidence is impossible
    pub fn marginal(&self, node: NodeId) -> Option<&[f64]> {
        self.places.part(self.places.number(node)?, &self.values)
    }

    /// Posterior probability of one state of a node, `None` as in [`Beliefs::marginal`] or where
    /// there is no such state
    pub fn probability(&self, node: NodeId, state: usize) -> Option<f64> {
        self.marginal(node)?.get(state).copied()
    }

    /// All marginals worked out, by node; none when the evidence is impossible
    pub fn marginals(&self) -> impl Iterator<Item = (NodeId, &[f64])> {
        let nodes = self.places.nodes().enumerate();
        nodes.filter_map(|(number, node)| Some((node, self.places.part(number, &self.values)?)))
    }

    /// Whether the evidence cannot be
    pub fn is_impossible(&self) -> bool {
        self.evidence.is_zero()
    }

    /// Probability of this evidence over that of `other`, 0 where this is impossible, infinite
    /// where only the other is
    pub fn evidence_over(&self, other: &Beliefs) -> f64 {
        if other.is_impossible() && !self.is_impossible() {
            return f64::INFINITY;
        }
        self.evidence.over(other.evidence).narrow()
    }

    pub(crate) fn evidence(&self) -> Wide {
        self.evidence
    }
}
