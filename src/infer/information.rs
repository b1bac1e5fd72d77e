//! Expected information, in bits, of looking at some nodes together.
//!
//! For the next checks no circuit has to be made for each check. P(grade at or below g) of a noisy-MAX leaf that nobody has
//! looked at is a product over its paths, which other weights on the same circuit give; the chance of each grade is a difference
//! of two of these (`lattice`). Up to 64 joint outcomes are worked out so. For more, or where a circuit of everything
//! hidden is over twice as large as that of what was found, the check gets a circuit of its own.

use crate::invariant::{self, Hold};
use std::collections::BTreeMap;

use crate::infer::beliefs::Beliefs;
use crate::infer::circuit::{Circuit, Scratch};
use crate::infer::cover::cover;
use crate::infer::draw::Dice;
use crate::infer::information::lattice::Lattice;
use crate::infer::weights::Weights;
use crate::infer::{Finding, Limits, TooWide, compile};
use crate::network::{Network, NodeId};

mod lattice;
mod posteriors;

pub use posteriors::Posteriors;

/// How far to go through the joint outcomes of the probes
#[derive(Clone, Eq, PartialEq, Debug)]
pub struct Effort {
    /// Most joint outcomes gone through one by one
    pub outcomes: usize,
    /// Joint outcomes drawn where there are more
    pub draws: usize,
    /// Seed of the draws
    pub seed: u64,
}

impl Default for Effort {
    fn default() -> Self {
        Effort { outcomes: 64, draws: 256, seed: 1 }
    }
}

/// What looking at the probes together is worth
#[derive(Clone, PartialEq, Debug)]
pub struct Information {
    /// Sum over the targets of the expected drop in entropy, in bits, at least 0; how much each one
    /// learns by itself, not about all of them jointly (Lindley 1956)
    pub bits: f64,
    /// Whether all joint outcomes were gone through; else `bits` is a mean over draws
    pub exact: bool,
    /// Posterior of each target before looking, as in the list of targets; empty when the findings
    /// are impossible
    pub before: Posteriors,
    /// Possible joint outcomes, or those drawn, in the order of their states
    pub outcomes: Vec<Outcome>,
    /// Possible states of each single probe, the other probes not seen
    pub singles: Vec<Single>,
}

/// One joint outcome of the probes
#[derive(Clone, PartialEq, Debug)]
pub struct Outcome {
    /// State of each probe
    pub states: Vec<usize>,
    /// Probability of the outcome given the findings, exact even when the outcomes were drawn
    pub chance: f64,
    /// How many draws gave it, 0 when all outcomes were gone through
    pub drawn: usize,
    /// Posterior of each target after it
    pub targets: Posteriors,
}

/// One state of one probe
#[derive(Clone, PartialEq, Debug)]
pub struct Single {
    /// Place in the list of probes
    pub probe: usize,
    /// State seen
    pub state: usize,
    /// Probability of the state given the findings
    pub chance: f64,
    /// Posterior of each target after it
    pub targets: Posteriors,
}

/// Expected information about `targets` in seeing all `probes`, given the findings
///
/// # Errors
///
/// [`TooWide`] when findings and probes, or these and one target, are past the limits.
pub fn information(
    network: &Network,
    findings: &[Finding],
    probes: &[NodeId],
    targets: &[NodeId],
    limits: &Limits,
    effort: &Effort,
) -> Result<Information, TooWide> {
    let compile = |keep: &[NodeId], limits: &Limits| compile(network, findings, keep, limits);
    let cover = cover(compile, probes, targets, limits)?;
    let mut predictive = Predictive::new(cover.core, cover.rest, probes, targets);
    let Some(before) = predictive.see(&[]) else {
        return Ok(Information::nothing());
    };
    let sizes: Vec<usize> = probes.iter().map(|&probe| network.states(probe)).collect();
    let number = sizes.iter().fold(1_usize, |number, &size| number.saturating_mul(size));
    let exact = number <= effort.outcomes;
    let outcomes =
        if exact { all_outcomes(&mut predictive, &sizes) } else { drawn_outcomes(&mut predictive, effort) };
    let singles =
        if exact { mixed_singles(&outcomes, &sizes) } else { seen_singles(&mut predictive, &sizes) };
    let drawn: usize = outcomes.iter().map(|outcome| outcome.drawn).sum();
    let share = |outcome: &Outcome| {
        if exact { outcome.chance } else { outcome.drawn as f64 / drawn as f64 }
    };
    let after: f64 = outcomes.iter().map(|outcome| share(outcome) * entropy_sum(&outcome.targets)).sum();
    let bits = (entropy_sum(&before.targets) - after).max(0.0);
    Ok(Information { bits, exact, before: before.targets, outcomes, singles })
}

/// The same by a circuit over the findings that has the targets as variables, and each probe as a variable or as a leaf
/// that may be bounded, with nothing compiled; `None` when it does not, or when there are more joint outcomes than
/// `effort` lets be gone through
pub fn information_by(
    circuit: &Circuit,
    network: &Network,
    probes: &[NodeId],
    targets: &[NodeId],
    effort: &Effort,
    scratch: &mut Scratch,
) -> Option<Information> {
    let sizes: Vec<usize> = probes.iter().map(|&probe| network.states(probe)).collect();
    let number = sizes.iter().fold(1_usize, |number, &size| number.saturating_mul(size));
    let distinct = probes
        .iter()
        .enumerate()
        .all(|(place, probe)| !probes.iter().skip(place + 1).any(|own| own == probe));
    if number > effort.outcomes || !distinct {
        return None;
    }
    let beliefs = circuit.evaluate_in(&circuit.weights(), scratch);
    if beliefs.is_impossible() {
        return Some(Information::nothing());
    }
    let mut before = Posteriors::for_nodes(targets.len());
    for &target in targets {
        before.push(beliefs.marginal(target)?.iter().copied());
    }
    let outcomes = Lattice { network, circuit, probes, targets }.outcomes(&beliefs, scratch)?;
    let after: f64 = outcomes.iter().map(|outcome| outcome.chance * entropy_sum(&outcome.targets)).sum();
    let singles = mixed_singles(&outcomes, &sizes);
    let bits = (entropy_sum(&before) - after).max(0.0);
    Some(Information { bits, exact: true, before, outcomes, singles })
}

impl Information {
    fn nothing() -> Self {
        Information {
            bits: 0.0,
            exact: true,
            before: Posteriors::default(),
            outcomes: Vec::new(),
            singles: Vec::new(),
        }
    }
}

/// Entropy of a distribution in bits
pub fn entropy(distribution: &[f64]) -> f64 {
    distribution.iter().filter(|&&chance| chance > 0.0).map(|&chance| -chance * libm::log2(chance)).sum()
}

fn entropy_sum(distributions: &Posteriors) -> f64 {
    distributions.iter().map(entropy).sum()
}

/// Circuits with the probes kept, set up to be asked about one outcome after another
struct Predictive<'a> {
    probes: &'a [NodeId],
    circuits: Vec<Asked>,
    /// Number of the circuit that each target is read from
    homes: Vec<(NodeId, usize)>,
    scratch: Scratch,
}

struct Asked {
    circuit: Circuit,
    weights: Weights,
    before: Beliefs,
}

/// Answer to one outcome
struct Answer {
    chance: f64,
    targets: Posteriors,
}

impl<'a> Predictive<'a> {
    fn new(core: Circuit, rest: Vec<Circuit>, probes: &'a [NodeId], targets: &[NodeId]) -> Self {
        let circuits: Vec<Asked> = std::iter::once(core).chain(rest).map(Asked::new).collect();
        let home = |node: NodeId| {
            let found = circuits.iter().position(|asked| asked.circuit.has(node));
            found.hold("the circuits of a cover have every target among them")
        };
        let homes = targets.iter().map(|&node| (node, home(node))).collect();
        Predictive { probes, circuits, homes, scratch: Scratch::default() }
    }

    /// Chance of the probes at given places being in given states, and the targets then; `None` when
    /// it cannot be
    fn see(&mut self, seen: &[(usize, usize)]) -> Option<Answer> {
        let mut answers = Vec::new();
        for asked in &mut self.circuits {
            asked.weights.forget();
            for &(probe, state) in seen {
                let known = asked.weights.observe_state(*self.probes.get(probe)?, state);
                invariant::holds(known, "probes are kept in every circuit");
            }
            let beliefs = asked.circuit.evaluate_in(&asked.weights, &mut self.scratch);
            if beliefs.is_impossible() {
                return None;
            }
            answers.push((beliefs.evidence_over(&asked.before), beliefs));
        }
        let mut targets = Posteriors::for_nodes(self.homes.len());
        for &(node, home) in &self.homes {
            let marginal = answers.get(home).and_then(|(_, beliefs)| beliefs.marginal(node));
            targets.push(marginal.hold("a target is a variable of its home").iter().copied());
        }
        Some(Answer { chance: answers.first()?.0, targets })
    }
}

impl Asked {
    fn new(circuit: Circuit) -> Self {
        let weights = circuit.weights();
        let before = circuit.evaluate(&weights);
        Asked { circuit, weights, before }
    }
}

fn all_outcomes(predictive: &mut Predictive<'_>, sizes: &[usize]) -> Vec<Outcome> {
    let mut states = vec![Vec::new()];
    for &size in sizes {
        states = states
            .iter()
            .flat_map(|start: &Vec<usize>| {
                (0..size).map(move |state| start.iter().copied().chain([state]).collect())
            })
            .collect();
    }
    states.into_iter().filter_map(|states| outcome(predictive, states, 0)).collect()
}

fn drawn_outcomes(predictive: &mut Predictive<'_>, effort: &Effort) -> Vec<Outcome> {
    let mut drawn: BTreeMap<Vec<usize>, usize> = BTreeMap::new();
    if let Some(asked) = predictive.circuits.first()
        && let Some(sampler) = asked.circuit.sampler(&asked.circuit.weights())
        && let Some(sampler) = sampler.of(predictive.probes)
    {
        let mut dice = Dice::seeded(effort.seed);
        for _ in 0..effort.draws.max(1) {
            *drawn.entry(sampler.draw(&mut dice)).or_default() += 1;
        }
    }
    drawn.into_iter().filter_map(|(states, times)| outcome(predictive, states, times)).collect()
}

fn outcome(predictive: &mut Predictive<'_>, states: Vec<usize>, drawn: usize) -> Option<Outcome> {
    let seen: Vec<(usize, usize)> = states.iter().copied().enumerate().collect();
    let Answer { chance, targets } = predictive.see(&seen)?;
    Some(Outcome { states, chance, drawn, targets })
}

/// States of single probes out of all joint outcomes: what each outcome does, weighted by its chance
fn mixed_singles(outcomes: &[Outcome], sizes: &[usize]) -> Vec<Single> {
    let mut singles = Vec::new();
    for (probe, &size) in sizes.iter().enumerate() {
        for state in 0..size {
            let among: Vec<&Outcome> =
                outcomes.iter().filter(|outcome| outcome.states.get(probe) == Some(&state)).collect();
            let chance: f64 = among.iter().map(|outcome| outcome.chance).sum();
            if chance > 0.0 {
                singles.push(Single { probe, state, chance, targets: mixture(&among, chance) });
            }
        }
    }
    singles
}

fn mixture(outcomes: &[&Outcome], chance: f64) -> Posteriors {
    let mut mixed = Posteriors::default();
    for outcome in outcomes {
        mixed.add(&outcome.targets, outcome.chance / chance);
    }
    mixed
}

/// States of single probes seen one by one, where not all joint outcomes were gone through
fn seen_singles(predictive: &mut Predictive<'_>, sizes: &[usize]) -> Vec<Single> {
    let mut singles = Vec::new();
    for (probe, &size) in sizes.iter().enumerate() {
        for state in 0..size {
            if let Some(Answer { chance, targets }) = predictive.see(&[(probe, state)]) {
                singles.push(Single { probe, state, chance, targets });
            }
        }
    }
    singles
}
