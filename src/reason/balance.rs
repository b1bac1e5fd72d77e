//! What a set of rules implies before anything is seen: how many causes, how often what shows, how often the sound are blamed.
//!
//! `seen 12% of sides` is held against what the rules imply here, not by `rules check`: it takes the engine. Sound machines are
//! drawn whole until one has no cause, so that facts that bring causes about are as rare on them as they are.

use crate::ground::{Ground, Origin};
use crate::infer::draw::Dice;
use crate::infer::forward::forward;
use crate::infer::pattern::Ask;
use crate::infer::{Finding, TooWide};
use crate::invariant::Hold;
use crate::model::{CauseId, SymptomId};
use crate::network::NodeId;
use crate::reason::Weighing;
use crate::reason::evidence::ASKED;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Probability over which a cause is blamed
const BLAMED_OVER: f64 = 0.5;
/// How many times a share may be over or under what is seen in practice
const MOST_OFF: f64 = 2.0;
/// Machines drawn before one without a cause is given up: rules by which fewer are sound describe no fleet
const MOST_TRIES: u32 = 1000;

/// The balance of a set of rules on one machine
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    /// Expected number of causes present
    pub expected_causes: f64,
    /// Share of machines with none
    pub none: f64,
    /// Share of places that show each symptom in any grade but the normal one, in the order of the rules
    pub shown: Vec<(SymptomId, f64)>,
    /// Sound machines drawn: as many as were asked for, unless the rules leave next to no machine sound
    pub drawn: u32,
    /// Those on which a cause came out over 50 % with every symptom looked at
    pub blamed: u32,
    /// Causes blamed on them, the one blamed most often first, with how often
    pub blamed_causes: Vec<(CauseId, u32)>,
    /// Those whose findings were too entangled to be weighed exactly
    pub too_wide: u32,
}

/// The balance of the rules on a machine, with so many sound machines drawn by a seed
///
/// # Errors
/// [`TooWide`] when the rules couple too much even without findings.
pub fn balance(weighing: &Weighing, drawn: u32, seed: u64) -> Result<Balance, TooWide> {
    let (model, ground, engine) = (weighing.model(), weighing.ground(), weighing.engine());
    let (network, limits) = (&ground.network, &weighing.settings().limits);
    let causes: Vec<NodeId> = ground.causes().map(|(_, _, node)| node).collect();
    let present = |states: &[f64]| states.iter().skip(1).sum::<f64>();
    let priors = engine.posteriors(&[], &causes, limits)?;
    let expected = causes.iter().map(|cause| present(priors.marginal(*cause).hold(ASKED))).sum();
    let absent: Vec<Finding> = causes.iter().map(|cause| Finding::state(network, *cause, 0)).collect();
    let circuit = engine.circuit(&absent, &Ask::default(), limits)?;
    let none = libm::exp(circuit.evaluate(&circuit.weights()).log_evidence);
    let mut shown = Vec::new();
    for number in 0..model.symptoms.len() {
        let id = SymptomId(number);
        let nodes = nodes_of(ground, id);
        let beliefs = engine.posteriors(&[], &nodes, limits)?;
        let sum: f64 = nodes.iter().map(|node| present(beliefs.marginal(*node).hold(ASKED))).sum();
        if let Ok(count) = u32::try_from(nodes.len())
            && count > 0
        {
            shown.push((id, sum / f64::from(count)));
        }
    }
    let Trial { drawn, blamed, too_wide, by_cause } = trial(weighing, drawn, seed);
    let mut blamed_causes: Vec<(CauseId, u32)> = by_cause.into_iter().collect();
    blamed_causes.sort_by_key(|(id, count)| (Reverse(*count), *id));
    Ok(Balance { expected_causes: expected, none, shown, drawn, blamed, blamed_causes, too_wide })
}

fn nodes_of(ground: &Ground, id: SymptomId) -> Vec<NodeId> {
    let nodes = ground.network.nodes();
    nodes.filter(|node| matches!(ground.origin(*node), Some(Origin::Symptom(own, _)) if *own == id)).collect()
}

/// Whether a share that the rules imply is more than twice over, or under half of, what is seen in practice
pub fn is_off(implied: f64, seen: f64) -> bool {
    implied > MOST_OFF * seen || implied * MOST_OFF < seen
}

/// What came of weighing sound machines
#[derive(Default)]
struct Trial {
    drawn: u32,
    blamed: u32,
    too_wide: u32,
    by_cause: BTreeMap<CauseId, u32>,
}

/// Draws sound machines, weighs all that shows on them, and counts those that are blamed, and those too entangled
fn trial(weighing: &Weighing, wanted: u32, seed: u64) -> Trial {
    let (ground, engine, limits) = (weighing.ground(), weighing.engine(), &weighing.settings().limits);
    let network = &ground.network;
    let mut dice = Dice::seeded(seed);
    let mut trial = Trial::default();
    let sound = |node, state| state == 0 || !matches!(ground.origin(node), Some(Origin::Cause(..)));
    for _ in 0..wanted {
        let Some(states) = (0..MOST_TRIES).find_map(|_| forward(network, &mut dice, sound)) else {
            break;
        };
        trial.drawn += 1;
        let known =
            |node: &NodeId| matches!(ground.origin(*node), Some(Origin::Symptom(..) | Origin::Fact(..)));
        let seen = network.nodes().filter(known);
        let findings: Vec<Finding> = seen
            .map(|node| Finding::state(network, node, *states.get(node.index()).hold("every node is drawn")))
            .collect();
        let Ok(circuit) = engine.circuit(&findings, &Ask::default(), limits) else {
            trial.too_wide += 1;
            continue;
        };
        let beliefs = circuit.evaluate(&circuit.weights());
        let blamed: BTreeSet<CauseId> = ground
            .causes()
            .filter(|(_, _, node)| {
                // else: nothing that was seen hangs on it, so that nobody blames it
                let states = beliefs.marginal(*node).unwrap_or_default();
                states.iter().skip(1).sum::<f64>() > BLAMED_OVER
            })
            .map(|(id, _, _)| id)
            .collect();
        trial.blamed += u32::from(!blamed.is_empty());
        for id in blamed {
            *trial.by_cause.entry(id).or_insert(0) += 1;
        }
    }
    trial
}
