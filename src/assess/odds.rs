//! The odds that at least one of many causes is present, exact, by the circuit.
//!
//! P(none is present | findings) is P(findings, none is present) / P(findings): the circuit is evaluated twice, once with all of
//! the causes put in their state 0. To multiply the probabilities that each of them is absent would be wrong, for given
//! the findings causes are not independent: one explains another away.

use crate::infer::beliefs::Beliefs;
use crate::infer::circuit::{Circuit, Scratch};
use crate::infer::pattern::Ask;
use crate::infer::weights::Weights;
use crate::infer::{Finding, TooWide, chosen};
use crate::invariant::{self, Hold};
use crate::network::{Law, Network, NodeId};
use crate::reason::Weighing;
use crate::reason::decibans;
use crate::reason::evidence::findings;
use fixedbitset::FixedBitSet;
use std::collections::BTreeMap;

/// Why what is asked of a cause has an answer
const A_VARIABLE: &str = "every cause is a variable of the circuit";
/// Probability of all causes being absent from which that of some being present is summed up by itself, so that no
/// digits cancel
const NEARLY_ONE: f64 = 0.999;

/// The circuit of an inspection, asked about the hypothesis that one of some causes is present
#[derive(Debug)]
pub struct Odds {
    circuit: Circuit,
    causes: Vec<NodeId>,
    findings: usize,
    scratch: Scratch,
    known: BTreeMap<FixedBitSet, f64>,
    whole: Option<Beliefs>,
}

impl Odds {
    /// Compiles the circuit of all findings with every one of the causes in it
    ///
    /// # Errors
    /// [`TooWide`] where that couples too much.
    pub fn new(weighing: &Weighing, causes: Vec<NodeId>) -> Result<Odds, TooWide> {
        let found = findings(weighing.ground());
        let ask = Ask { keep: causes.clone(), bound: Vec::new() };
        let circuit = weighing.engine().circuit(&found, &ask, &weighing.settings().limits)?;
        Ok(Odds::of(circuit, causes, found.len()))
    }

    /// The same of a circuit of so many findings with every one of the causes in it
    pub fn of(circuit: Circuit, causes: Vec<NodeId>, findings: usize) -> Odds {
        Odds { circuit, causes, findings, scratch: Scratch::default(), known: BTreeMap::new(), whole: None }
    }

    /// Number of findings
    pub fn findings(&self) -> usize {
        self.findings
    }

    /// Entries of tables that one answer takes
    pub fn size(&self) -> usize {
        self.circuit.total().saturating_mul(2)
    }

    /// 10 log10 of P(one of the causes is present) / P(none is), given the findings that are switched on (Good 1950)
    pub fn decibans(&mut self, on: &FixedBitSet) -> f64 {
        if let Some(known) = self.known.get(on) {
            return *known;
        }
        let weights = self.weights(on);
        let decibans = self.by(&weights);
        self.known.insert(on.clone(), decibans);
        decibans
    }

    /// The likelihood ratio of all findings, in decibans
    pub fn ratio(&mut self) -> f64 {
        self.decibans(&chosen::all(self.findings)) - self.decibans(&chosen::none(self.findings))
    }

    /// Probability that one of the causes is present before anything was found
    pub fn before(&mut self) -> f64 {
        decibans::probability(self.decibans(&chosen::none(self.findings)))
    }

    /// The causes, the likeliest given all findings first
    pub fn likeliest_first(&mut self) -> Vec<NodeId> {
        let (circuit, scratch) = (&self.circuit, &mut self.scratch);
        let whole = self.whole.get_or_insert_with(|| circuit.evaluate_in(&circuit.weights(), scratch));
        let present = |node: NodeId| whole.marginal(node).map_or(0.0, |states| states.iter().skip(1).sum());
        let mut causes: Vec<(f64, NodeId)> = self.causes.iter().map(|node| (present(*node), *node)).collect();
        causes.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        causes.into_iter().map(|(_, node)| node).collect()
    }

    /// Probability that each of some other nodes is present, given the findings that are switched on and that none of the
    /// causes is; none for a node that the circuit does not know
    pub fn without(&mut self, on: &FixedBitSet, nodes: &[NodeId]) -> Vec<Option<f64>> {
        let weights = self.absent(&self.weights(on));
        let beliefs = self.circuit.evaluate_in(&weights, &mut self.scratch);
        nodes.iter().map(|node| beliefs.marginal(*node).map(|states| states.iter().skip(1).sum())).collect()
    }

    /// The odds in decibans with one finding taken otherwise: as if its node had been seen in one of some states. None
    /// where that cannot be, given all else.
    pub fn otherwise(
        &mut self,
        network: &Network,
        number: usize,
        node: NodeId,
        states: &[usize],
    ) -> Option<f64> {
        let weights = self.weights(&chosen::all_but(self.findings, number));
        let none = self.absent(&weights);
        let all = self.chance(network, &weights, node, states)?;
        let both = self.chance(network, &none, node, states)?;
        (all > 0.0).then(|| decibans::of((all - both).max(0.0), both))
    }

    /// P(findings of the weights, a node in one of some states), as a multiple of that of the findings of all weights
    fn chance(
        &mut self,
        network: &Network,
        weights: &Weights,
        node: NodeId,
        states: &[usize],
    ) -> Option<f64> {
        let (circuit, scratch) = (&self.circuit, &mut self.scratch);
        let whole = self.whole.get_or_insert_with(|| circuit.evaluate_in(&circuit.weights(), scratch));
        let mut share = |finding: &Finding| {
            let mut weights = weights.clone();
            let taken = weights.take(network, finding);
            taken.then(|| self.circuit.evaluate_in(&weights, &mut self.scratch).evidence_over(whole))
        };
        let count = network.states(node);
        let likelihood = |wanted: &dyn Fn(usize) -> bool| Finding {
            node,
            likelihood: (0..count).map(|state| f64::from(u8::from(wanted(state)))).collect(),
        };
        if self.circuit.has(node) {
            return share(&likelihood(&|state| states.contains(&state)));
        }
        let Law::Max { shape, .. } = network.law(node) else { return None };
        // Only bounds factor on such a leaf; the chance of a state is what its bound has over those below it.
        let mut each: Vec<f64> = Vec::with_capacity(count);
        for state in 0..count {
            let below = share(&likelihood(&|other| shape.at_or_below(other, state)))?;
            let less: f64 = (each.iter().enumerate())
                .filter(|(other, _)| shape.at_or_below(*other, state))
                .map(|(_, chance)| chance)
                .sum();
            each.push((below - less).max(0.0));
        }
        Some(states.iter().map(|state| each.get(*state).hold("a grade is shown in states of its node")).sum())
    }

    fn weights(&self, on: &FixedBitSet) -> Weights {
        let mut weights = self.circuit.weights();
        weights.count_only(on);
        weights
    }

    /// The weights with every one of the causes absent
    fn absent(&self, weights: &Weights) -> Weights {
        let mut none = weights.clone();
        for &cause in &self.causes {
            let known = none.observe_state(cause, 0);
            invariant::holds(known, A_VARIABLE);
        }
        none
    }

    fn by(&mut self, weights: &Weights) -> f64 {
        let all = self.circuit.evaluate_in(weights, &mut self.scratch);
        let none = self.circuit.evaluate_in(&self.absent(weights), &mut self.scratch);
        let absent = none.evidence_over(&all);
        let present = if absent < NEARLY_ONE { 1.0 - absent } else { self.summed(weights) };
        decibans::of(present, absent)
    }

    /// P(one is present) as the sum over which of them is the first that is
    fn summed(&mut self, weights: &Weights) -> f64 {
        let whole = self.circuit.evaluate_in(weights, &mut self.scratch);
        let mut weights = weights.clone();
        let mut beliefs = whole.clone();
        let mut present = 0.0;
        for &cause in &self.causes {
            let states = beliefs.marginal(cause).hold(A_VARIABLE);
            present += states.iter().skip(1).sum::<f64>() * beliefs.evidence_over(&whole);
            let known = weights.observe_state(cause, 0);
            invariant::holds(known, A_VARIABLE);
            beliefs = self.circuit.evaluate_in(&weights, &mut self.scratch);
        }
        present
    }
}
