//! Joint outcomes through a circuit in which the probes are no variables
//!
//! P(probe at or below a state) factors over a noisy-MAX leaf's paths, so it takes other weights and nothing more. All
//! bounds together, one for each joint outcome, give the outcomes by differences (Möbius inversion, Rota 1964): what
//! lies at or below a state less what lies below it.

use super::{Answer, Outcome, Posteriors};
use crate::infer::Finding;
use crate::infer::beliefs::Beliefs;
use crate::infer::circuit::{Circuit, Scratch};
use crate::infer::weights::Weights;
use crate::network::{Law, Network, NodeId};

/// Chance under which a difference is rounding and no outcome
const ROUNDING: f64 = 1e-13;

/// A circuit set up to be asked about joint outcomes
pub(super) struct Lattice<'a> {
    pub(super) network: &'a Network,
    pub(super) circuit: &'a Circuit,
    pub(super) probes: &'a [NodeId],
    pub(super) targets: &'a [NodeId],
}

/// Sums over the outcomes at or below one: their chance, and their chance together with each state of each target
type Sums = Vec<f64>;

impl Lattice<'_> {
    /// All joint outcomes of any chance with the targets after each; `None` when a probe or target is out of the
    /// circuit's reach
    pub(super) fn outcomes(&self, before: &Beliefs, scratch: &mut Scratch) -> Option<Vec<Outcome>> {
        let sizes: Vec<usize> = self.probes.iter().map(|&probe| self.network.states(probe)).collect();
        let number: usize = sizes.iter().product();
        let mut sums: Vec<Sums> = Vec::with_capacity(number);
        for place in 0..number {
            sums.push(self.sums(&states_at(&sizes, place), before, scratch)?);
        }
        let mut stride = 1;
        for (&probe, &size) in self.probes.iter().zip(&sizes).rev() {
            if !self.circuit.has(probe) {
                self.difference(&mut sums, probe, size, stride);
            }
            stride *= size;
        }
        let outcomes = sums.into_iter().enumerate();
        Some(outcomes.filter_map(|(place, sums)| self.outcome(states_at(&sizes, place), &sums)).collect())
    }

    /// Sums at or below the states of some probes, and exactly in those of variables
    fn sums(&self, states: &[usize], before: &Beliefs, scratch: &mut Scratch) -> Option<Sums> {
        let mut weights = self.circuit.weights();
        for (&probe, &state) in self.probes.iter().zip(states) {
            self.observe(&mut weights, probe, state)?;
        }
        let beliefs = self.circuit.evaluate_in(&weights, scratch);
        let chance = beliefs.evidence_over(before);
        let mut sums = vec![chance];
        for &target in self.targets {
            match beliefs.marginal(target) {
                Some(marginal) => sums.extend(marginal.iter().map(|share| share * chance)),
                None if beliefs.is_impossible() => {
                    sums.extend(std::iter::repeat_n(0.0, self.network.states(target)));
                }
                None => return None,
            }
        }
        Some(sums)
    }

    fn observe(&self, weights: &mut Weights, probe: NodeId, state: usize) -> Option<()> {
        if self.circuit.has(probe) {
            return weights.observe_state(probe, state).then_some(());
        }
        let Law::Max { shape, .. } = self.network.law(probe) else { return None };
        let held = |other: usize| f64::from(u8::from(shape.at_or_below(other, state)));
        let likelihood: Vec<f64> = (0..self.network.states(probe)).map(held).collect();
        // At or below the worst state there is nothing to observe.
        let all = likelihood.iter().all(|&held| held > 0.0);
        (all || weights.take(self.network, &Finding { node: probe, likelihood })).then_some(())
    }

    /// From sums at or below each state of one probe to those in each state
    fn difference(&self, sums: &mut [Sums], probe: NodeId, size: usize, stride: usize) {
        let Law::Max { shape, .. } = self.network.law(probe) else { return };
        for start in (0..sums.len()).filter(|place| (place / stride).is_multiple_of(size)) {
            for state in 0..size {
                for below in (0..state).filter(|&below| shape.at_or_below(below, state)) {
                    let Some(less) = sums.get(start + below * stride).cloned() else { continue };
                    if let Some(own) = sums.get_mut(start + state * stride) {
                        own.iter_mut().zip(&less).for_each(|(own, less)| *own = (*own - less).max(0.0));
                    }
                }
            }
        }
    }

    fn outcome(&self, states: Vec<usize>, sums: &[f64]) -> Option<Outcome> {
        let Answer { chance, targets } = self.answer(sums)?;
        Some(Outcome { states, chance, drawn: 0, targets })
    }

    fn answer(&self, sums: &[f64]) -> Option<Answer> {
        let (&chance, mut rest) = sums.split_first()?;
        if chance <= ROUNDING {
            return None;
        }
        let mut targets = Posteriors::for_nodes(self.targets.len());
        for &target in self.targets {
            let (own, others) = rest.split_at_checked(self.network.states(target))?;
            rest = others;
            let total: f64 = own.iter().sum();
            targets.push(own.iter().map(|share| share / total));
        }
        Some(Answer { chance, targets })
    }
}

/// States of the joint outcome at a place, the last probe fastest
fn states_at(sizes: &[usize], place: usize) -> Vec<usize> {
    let mut rest = place;
    let mut states: Vec<usize> = sizes
        .iter()
        .rev()
        .map(|&size| {
            let state = rest % size;
            rest /= size;
            state
        })
        .collect();
    states.reverse();
    states
}
