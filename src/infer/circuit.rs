//! Compiled circuit: a frame with the likelihoods of some findings, evaluated in one pass up and one down

use crate::invariant::Hold;
use std::sync::Arc;

use crate::infer::Finding;
use crate::infer::beliefs::Beliefs;
use crate::infer::frame::Frame;
use crate::infer::likelihood::Likelihood;
use crate::infer::number::{Number, Wide};
use crate::infer::pass::Pass;
use crate::infer::weights::Weights;
use crate::network::{Network, NodeId};
use fixedbitset::FixedBitSet;

/// Network and findings, compiled for any number of evaluations; cheap to clone
#[derive(Clone, Default, Debug)]
pub struct Circuit {
    pub(crate) frame: Arc<Frame>,
    found: Arc<[Likelihood]>,
}

/// Working memory of an evaluation, to be used again by the next one
#[derive(Clone, Default, Debug)]
pub struct Scratch {
    plain: Pass<f64>,
    wide: Pass<Wide>,
}

impl Circuit {
    /// Findings over a frame; `None` when it was made for another pattern and cannot hold them
    pub(crate) fn new(network: &Network, frame: Arc<Frame>, findings: &[Finding]) -> Option<Circuit> {
        let found: Option<Arc<[Likelihood]>> =
            findings.iter().map(|finding| Likelihood::new(network, &frame, finding)).collect();
        Some(Circuit { frame, found: found? })
    }

    /// Every finding on, nothing further seen
    pub fn weights(&self) -> Weights {
        Weights::new(Arc::clone(&self.frame), Arc::clone(&self.found))
    }

    /// Nodes that are variables of the circuit, whose marginals every evaluation gives
    pub fn nodes(&self) -> impl Iterator<Item = NodeId> {
        self.frame.places.nodes()
    }

    /// Whether a node is a variable of the circuit
    pub fn has(&self, node: NodeId) -> bool {
        self.frame.places.number(node).is_some()
    }

    /// Entries of the largest table, 0 without variables
    pub fn largest_table(&self) -> usize {
        self.frame.largest_table()
    }

    /// Entries of all tables together
    pub fn total(&self) -> usize {
        self.frame.base.len()
    }

    /// Evidence and marginals of all variables
    pub fn evaluate(&self, weights: &Weights) -> Beliefs {
        self.evaluate_in(weights, &mut Scratch::default())
    }

    /// The same with memory of the caller's, for many evaluations
    pub fn evaluate_in(&self, weights: &Weights, scratch: &mut Scratch) -> Beliefs {
        if let Some(total) = scratch.plain.up(&self.frame, weights) {
            self.beliefs(weights, total, &mut scratch.plain)
        } else {
            // Some product left the range of a double: once more with exponents that cannot.
            let total = scratch.wide.up(&self.frame, weights).hold(Wide::NEVER_LOST);
            self.beliefs(weights, total, &mut scratch.wide)
        }
    }

    /// Natural logarithm of the evidence alone, which takes the way up only
    pub fn log_evidence_in(&self, weights: &Weights, scratch: &mut Scratch) -> f64 {
        let plain = scratch.plain.up(&self.frame, weights);
        let total = plain.or_else(|| scratch.wide.up(&self.frame, weights)).hold(Wide::NEVER_LOST);
        total.times(weights.constant(), &mut false).ln()
    }

    /// Every bucket's posterior table, one after another, each adding up to 1; none when the evidence is impossible
    pub(crate) fn posterior_tables(&self, weights: &Weights) -> Option<Vec<f64>> {
        if weights.constant().is_zero() {
            return None;
        }
        let mut plain = Pass::<f64>::default();
        if let Some(total) = plain.up(&self.frame, weights) {
            return plain.posterior_tables(&self.frame, total);
        }
        let mut wide = Pass::<Wide>::default();
        let total = wide.up(&self.frame, weights)?;
        wide.posterior_tables(&self.frame, total)
    }

    /// Upper bound on the evidence, with the variables of some buckets maximised over
    pub(crate) fn most(&self, weights: &Weights, maximised: &FixedBitSet, scratch: &mut Scratch) -> Wide {
        let plain = scratch.plain.most(&self.frame, weights, maximised);
        let total = plain.or_else(|| scratch.wide.most(&self.frame, weights, maximised));
        total.hold(Wide::NEVER_LOST).times(weights.constant(), &mut false)
    }

    fn beliefs<N: Number>(&self, weights: &Weights, total: Wide, pass: &mut Pass<N>) -> Beliefs {
        let evidence = total.times(weights.constant(), &mut false);
        if evidence.is_zero() {
            return Beliefs::new(evidence, Arc::default(), Vec::new());
        }
        pass.down(&self.frame);
        let mut values = Vec::with_capacity(self.frame.places.entries());
        for &bucket in &self.frame.bucket_of {
            let bucket = self.frame.buckets.get(bucket).hold("every variable has a bucket");
            pass.marginal(bucket, &mut values);
        }
        Beliefs::new(evidence, Arc::clone(&self.frame.places), values)
    }
}
