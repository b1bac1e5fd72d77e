//! Which findings count in one evaluation of a circuit, and what else is taken as seen

use crate::infer::Finding;
use crate::infer::chosen;
use crate::infer::frame::{Frame, Input, Unary};
use crate::infer::likelihood::Likelihood;
use crate::infer::number::{Number, Wide, power_of_two};
use crate::infer::proper_entries;
use crate::network::{Network, NodeId};
use fixedbitset::FixedBitSet;
use std::sync::Arc;

/// Findings switched on or off and further likelihoods, for one circuit
///
/// Made by [`Circuit::weights`](crate::infer::circuit::Circuit::weights) with every finding on and
/// nothing further seen; of no use to another circuit.
#[derive(Clone, Debug)]
pub struct Weights {
    /// The findings of the circuit that count
    on: FixedBitSet,
    found: Arc<[Likelihood]>,
    /// Further findings
    seen: Vec<Likelihood>,
    frame: Arc<Frame>,
}

impl Weights {
    pub(crate) fn new(frame: Arc<Frame>, found: Arc<[Likelihood]>) -> Self {
        Weights { on: chosen::all(found.len()), found, seen: Vec::new(), frame }
    }

    /// Counts the finding at a place in the list that was compiled, or leaves it out as if it had
    /// never been made; whether there is such a finding
    pub fn switch(&mut self, finding: usize, on: bool) -> bool {
        let is_one = finding < self.on.len();
        if is_one {
            self.on.set(finding, on);
        }
        is_one
    }

    /// Counts these findings of the list that was compiled, and leaves all others out as if they had never been made
    pub fn count_only(&mut self, chosen: &FixedBitSet) {
        self.on.clone_from(chosen);
    }

    /// Takes `node` as observed with a likelihood, read as in [`Finding`], on top of all else; whether
    /// the node is a variable of the circuit, without which nothing is changed
    #[must_use]
    pub fn observe(&mut self, node: NodeId, likelihood: &[f64]) -> bool {
        let Some(bucket) = self.frame.bucket_of(node) else {
            return false;
        };
        let mut values = proper_entries(likelihood, self.frame.states(bucket));
        let constant = Wide::scaled(1.0, level(&mut values));
        self.seen.push(Likelihood {
            unaries: vec![Unary { bucket, values }],
            constant,
            ..Likelihood::default()
        });
        true
    }

    /// Takes `node` as being in `state`, as [`Weights::observe`] does
    #[must_use]
    pub fn observe_state(&mut self, node: NodeId, state: usize) -> bool {
        let states = self.frame.bucket_of(node).map_or(0, |bucket| self.frame.states(bucket));
        let values: Vec<f64> = (0..states).map(|other| f64::from(u8::from(other == state))).collect();
        self.observe(node, &values)
    }

    /// Takes a finding in on top of all else, on a variable or as a bound on a leaf that the circuit
    /// was compiled to take and that no other finding that counts speaks of; whether it could, without which nothing is changed
    #[must_use]
    pub fn take(&mut self, network: &Network, finding: &Finding) -> bool {
        match Likelihood::new(network, &self.frame, finding) {
            Some(likelihood)
                if likelihood.leaf.is_none() || !self.leaves().any(|leaf| Some(leaf) == likelihood.leaf) =>
            {
                self.seen.push(likelihood);
                true
            }
            _ => false,
        }
    }

    fn leaves(&self) -> impl Iterator<Item = NodeId> {
        self.counting().filter_map(|likelihood| likelihood.leaf)
    }

    /// Takes likelihoods over the variables of some buckets in
    pub(crate) fn weigh(&mut self, unaries: Vec<Unary>) {
        self.seen.push(Likelihood { unaries, constant: Wide::ONE, ..Likelihood::default() });
    }

    /// Puts the variables of some buckets, all of so many states, into one state
    pub(crate) fn settle(&mut self, buckets: &[usize], states: usize, state: usize) {
        let values: Vec<f64> = (0..states).map(|other| f64::from(u8::from(other == state))).collect();
        self.weigh(buckets.iter().map(|&bucket| Unary { bucket, values: values.clone() }).collect());
    }

    /// Drops all that was observed on top of the findings
    pub fn forget(&mut self) {
        self.seen.clear();
    }

    fn counting(&self) -> impl Iterator<Item = &Likelihood> {
        self.on.ones().filter_map(|finding| self.found.get(finding)).chain(&self.seen)
    }

    /// Likelihoods on single variables that count
    pub(crate) fn unaries(&self) -> impl Iterator<Item = &Unary> {
        self.counting().flat_map(|likelihood| &likelihood.unaries)
    }

    /// Tables on several variables that count
    pub(crate) fn inputs(&self) -> impl Iterator<Item = &Input> {
        self.counting().flat_map(|likelihood| &likelihood.inputs)
    }

    /// Product of all that no variable hangs on
    pub(crate) fn constant(&self) -> Wide {
        self.counting().fold(Wide::ONE, |product, likelihood| product.times(likelihood.constant, &mut false))
    }
}

/// Takes the largest power of two out of the entries and gives its exponent, so that neither many
/// large nor many small likelihoods leave the range of a double
pub(crate) fn level(values: &mut [f64]) -> i64 {
    let largest = values.iter().copied().fold(0.0, f64::max);
    let exponent = libm::frexp(largest).1;
    for value in values {
        // In two steps, because 2^1074 is no double.
        let half = i64::from(exponent / 2);
        *value = *value * power_of_two(-half) * power_of_two(half - i64::from(exponent));
    }
    i64::from(exponent)
}
