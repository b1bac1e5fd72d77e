//! What an evaluation gives: the probability of the evidence and the posterior marginals

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use crate::infer::number::{Number, Wide};
use crate::network::NodeId;

/// Place of each node's entries in a flat array
pub(crate) type Places = BTreeMap<NodeId, Range<usize>>;

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
        let mut places = Places::new();
        let mut values = Vec::new();
        for (node, marginal) in marginals {
            places.insert(node, values.len()..values.len() + marginal.len());
            values.extend(marginal);
        }
        Beliefs::new(evidence, Arc::new(places), values)
    }

    /// Posterior distribution of a node over its states, adding up to 1; `None` when the node is
    /// not among those worked out, or when the evidence is impossible
    pub fn marginal(&self, node: NodeId) -> Option<&[f64]> {
        self.places.get(&node).and_then(|place| self.values.get(place.clone()))
    }

    /// Posterior probability of one state of a node, `None` as in [`Beliefs::marginal`] or where
    /// there is no such state
    pub fn probability(&self, node: NodeId, state: usize) -> Option<f64> {
        self.marginal(node)?.get(state).copied()
    }

    /// All marginals worked out, by node; none when the evidence is impossible
    pub fn marginals(&self) -> impl Iterator<Item = (NodeId, &[f64])> {
        self.places.iter().filter_map(|(&node, place)| Some((node, self.values.get(place.clone())?)))
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
