//! Which findings count in one evaluation of a circuit, and what else is taken as seen

use std::sync::Arc;

use crate::infer::beliefs::Places;
use crate::infer::number::power_of_two;
use crate::infer::proper_entries;
use crate::network::NodeId;

/// Findings switched on or off and further likelihoods, for one circuit
///
/// Made by [`Circuit::weights`](crate::infer::circuit::Circuit::weights) with every finding on and
/// nothing further seen; of no use to another circuit.
#[derive(Clone, Debug)]
pub struct Weights {
    /// One for each finding of the circuit
    pub(crate) on: Vec<bool>,
    /// Further likelihoods
    pub(crate) seen: Vec<Seen>,
    places: Arc<Places>,
}

/// Likelihood on one node, with a power of two taken out of it
#[derive(Clone, Debug)]
pub(crate) struct Seen {
    pub(crate) node: NodeId,
    pub(crate) values: Vec<f64>,
    pub(crate) exponent: i64,
}

impl Weights {
    pub(crate) fn new(findings: usize, places: Arc<Places>) -> Self {
        Weights { on: vec![true; findings], seen: Vec::new(), places }
    }

    /// Counts the finding at a place in the list that was compiled, or leaves it out as if it had
    /// never been made; whether there is such a finding
    pub fn switch(&mut self, finding: usize, on: bool) -> bool {
        match self.on.get_mut(finding) {
            Some(switch) => {
                *switch = on;
                true
            }
            None => false,
        }
    }

    /// Takes `node` as observed with a likelihood, read as in [`Finding`](crate::infer::Finding),
    /// on top of all else; whether the node is a variable of the circuit, without which nothing is
    /// changed
    #[must_use]
    pub fn observe(&mut self, node: NodeId, likelihood: &[f64]) -> bool {
        let Some(place) = self.places.get(&node) else {
            return false;
        };
        let mut values = proper_entries(likelihood, place.len());
        let exponent = level(&mut values);
        self.seen.push(Seen { node, values, exponent });
        true
    }

    /// Takes `node` as being in `state`, as [`Weights::observe`] does
    #[must_use]
    pub fn observe_state(&mut self, node: NodeId, state: usize) -> bool {
        let Some(place) = self.places.get(&node) else {
            return false;
        };
        let values = (0..place.len()).map(|other| f64::from(u8::from(other == state))).collect();
        self.seen.push(Seen { node, values, exponent: 0 });
        true
    }

    /// Drops all that was observed on top of the findings
    pub fn forget(&mut self) {
        self.seen.clear();
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
