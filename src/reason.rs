//! Posteriors to what a person can follow: ranked causes, steps for and against, next checks, how well it all fits.

pub mod balance;
pub mod bounded;
pub mod explain;
pub mod fit;
pub mod link;
pub mod next;
pub mod paths;
mod rivals;
pub mod robust;
pub mod simulate;
pub mod standing;
pub mod steps;
pub mod strengths;
pub mod weighing;

use crate::ground::{Ground, Origin};
use crate::infer::bounds::{Budget, Interval};
use crate::infer::engine::Engine;
use crate::infer::{self, Limits, TooWide};
use crate::model::grades::Grades;
use crate::model::{Hidden, Model};
use crate::network::NodeId;
use crate::place::Place;
use crate::reason::steps::Step;
use crate::reason::weighing::{Weighing, findings};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Probability from which a cause gets its reasons without being asked for
pub const WORTH_REASONS: f64 = 0.05;
/// Causes that get their reasons however small their probability
const ALWAYS_REASONED: usize = 3;

/// What one inspection says about its machine
#[derive(Clone, Debug)]
pub struct Diagnosis {
    /// All causes that can be on the machine, likeliest first
    pub causes: Vec<Ranked>,
    /// All conditions that can be on the machine, likeliest first
    pub conditions: Vec<Ranked>,
    /// How the findings go together; none past the width up to which that can be told, and there are no reasons either
    pub fit: Option<fit::Fit>,
    /// Natural logarithm of the probability of all findings
    pub log_evidence: Interval,
}

impl Diagnosis {
    /// Whether every probability is exact; else each is an interval that is certain to hold it
    pub fn is_exact(&self) -> bool {
        self.causes.iter().chain(&self.conditions).all(Ranked::is_exact)
    }
}

/// A cause or condition with its probability
#[derive(Clone, Debug)]
pub struct Ranked {
    /// What it is
    pub hidden: Hidden,
    /// Where
    pub place: Place,
    /// Its node
    pub node: NodeId,
    /// Probability of being present before anything was seen, given the facts
    pub prior: f64,
    /// Probability of being present given all findings; the middle of `within` where it is not exact, good for nothing
    /// but an order
    pub probability: f64,
    /// What the probability is certain to lie within, a single value where it is exact
    pub within: Interval,
    /// Probability of each of its forms or named grades, the absent or normal one first; on two arms those of one arm and
    /// the other may both be so; empty where nothing is exact
    pub grades: Vec<f64>,
    /// Steps from prior to probability; empty for what is not worth them
    pub reasons: Vec<Step>,
}

impl Ranked {
    /// Whether the probability is a single value
    pub fn is_exact(&self) -> bool {
        self.within.lower >= self.within.upper
    }

    /// Whether its bounds leave open which of two is likelier
    pub fn is_open_with(&self, other: &Ranked) -> bool {
        !(self.is_exact() && other.is_exact()) && self.within.overlaps(other.within)
    }
}

/// Why there is no diagnosis
#[derive(Clone, Debug, PartialEq)]
pub enum Stop {
    /// The findings couple too much for exact weighing
    TooWide(TooWide),
    /// These observations, by number, cannot occur together
    Impossible(Vec<usize>),
}

impl From<TooWide> for Stop {
    fn from(width: TooWide) -> Self {
        Stop::TooWide(width)
    }
}

/// Weighs the findings of an inspection
///
/// # Errors
/// [`Stop`] when the findings cannot occur together, or couple too much for an exact answer.
pub fn diagnose(model: &Model, ground: &Ground, limits: &Limits) -> Result<Diagnosis, Stop> {
    let mut weighing = possible(ground, limits)?;
    let mut causes = causes(model, ground, &mut weighing)?;
    let conditions = conditions(model, ground, &mut weighing)?;
    for (rank, cause) in causes.iter_mut().enumerate() {
        if rank < ALWAYS_REASONED || cause.probability >= WORTH_REASONS {
            cause.reasons = steps::steps(model, ground, &mut weighing, cause.node);
        }
    }
    let fit = fit::fit(ground, &mut weighing, limits)?;
    let log_evidence = Interval::exact(fit.log_evidence);
    Ok(Diagnosis { causes, conditions, fit: Some(fit), log_evidence })
}

/// Weighs the findings of an inspection exactly, or within bounds where that would take too long
///
/// # Errors
/// [`Stop::Impossible`] when the findings cannot occur together.
pub fn weigh(model: &Model, ground: &Ground, limits: &Limits, budget: &Budget) -> Result<Diagnosis, Stop> {
    match diagnose(model, ground, limits) {
        Err(Stop::TooWide(_)) => bounded::bounded(ground, budget),
        told => told,
    }
}

/// The circuit over all findings, which can occur together
fn possible(ground: &Ground, limits: &Limits) -> Result<Weighing, Stop> {
    possible_by(Arc::new(Engine::new(Arc::clone(&ground.network))), ground, limits)
}

fn possible_by(engine: Arc<Engine>, ground: &Ground, limits: &Limits) -> Result<Weighing, Stop> {
    let mut weighing = Weighing::by(engine, ground, limits)?;
    if weighing.all().is_impossible() {
        return Err(Stop::Impossible(fit::impossible(&mut weighing)));
    }
    Ok(weighing)
}

/// Hidden nodes with their probabilities, likeliest first, ties in the order of the rules
fn ranked<'a>(
    model: &Model,
    weighing: &mut Weighing,
    nodes: impl Iterator<Item = (Hidden, &'a Place, NodeId)>,
) -> Result<Vec<Ranked>, TooWide> {
    let nodes: Vec<(Hidden, &Place, NodeId)> = nodes.collect();
    let wanted: Vec<NodeId> = nodes.iter().map(|(_, _, node)| *node).collect();
    let (before, after) = weighing.before_and_after(&wanted)?;
    let present = |states: &[f64]| states.iter().skip(1).sum();
    let mut list: Vec<Ranked> = nodes
        .into_iter()
        .map(|(hidden, place, node)| {
            let states = after.marginal(node).unwrap_or_default().to_vec();
            let probability = present(&states);
            Ranked {
                hidden,
                place: place.clone(),
                node,
                prior: present(before.marginal(node).unwrap_or_default()),
                probability,
                within: Interval::exact(probability),
                grades: grades(model, hidden, &states),
                reasons: Vec::new(),
            }
        })
        .collect();
    list.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    Ok(list)
}

/// Probability of each form or named grade from that of each state
fn grades(model: &Model, hidden: Hidden, states: &[f64]) -> Vec<f64> {
    let Hidden::Condition(id) = hidden else {
        return states.to_vec();
    };
    named(&model[id].grades, states)
}

/// Probability of each named grade from that of each state
fn named(grades: &Grades, states: &[f64]) -> Vec<f64> {
    let shown = |grade: usize| {
        let showing = states.iter().enumerate().filter(|(state, _)| grades.shows(grade, *state));
        showing.map(|(_, share)| share).sum()
    };
    (0..grades.names.len()).map(shown).collect()
}

/// A cause or condition at each of its places, likeliest first, with its steps whatever its probability
///
/// # Errors
/// [`Stop`] as for [`diagnose`].
pub fn why(model: &Model, ground: &Ground, limits: &Limits, hidden: Hidden) -> Result<Vec<Ranked>, Stop> {
    let mut weighing = possible(ground, limits)?;
    let places = ground.machine.places(model, model.common(hidden).extent);
    let nodes = places.iter().filter_map(|place| {
        let node = ground.node(&Origin::hidden(hidden, place.clone()))?;
        Some((hidden, place, node))
    });
    let mut found = ranked(model, &mut weighing, nodes)?;
    for one in &mut found {
        one.reasons = steps::steps(model, ground, &mut weighing, one.node);
    }
    Ok(found)
}

/// All causes, and all conditions, with their probabilities and no reasons, each likeliest first
///
/// # Errors
/// [`Stop`] as for [`diagnose`].
pub fn ranks(model: &Model, ground: &Ground, limits: &Limits) -> Result<(Vec<Ranked>, Vec<Ranked>), Stop> {
    let mut weighing = possible(ground, limits)?;
    Ok((causes(model, ground, &mut weighing)?, conditions(model, ground, &mut weighing)?))
}

fn conditions(model: &Model, ground: &Ground, weighing: &mut Weighing) -> Result<Vec<Ranked>, TooWide> {
    let nodes = ground.conditions().map(|(id, place, node)| (Hidden::Condition(id), place, node));
    ranked(model, weighing, nodes)
}

fn causes(model: &Model, ground: &Ground, weighing: &mut Weighing) -> Result<Vec<Ranked>, TooWide> {
    let nodes = ground.causes().map(|(id, place, node)| (Hidden::Cause(id), place, node));
    ranked(model, weighing, nodes)
}

/// All causes with their probabilities and no reasons, likeliest first
///
/// # Errors
/// [`Stop`] as for [`diagnose`].
pub fn rank(model: &Model, ground: &Ground, limits: &Limits) -> Result<Vec<Ranked>, Stop> {
    Ok(causes(model, ground, &mut possible(ground, limits)?)?)
}

/// All causes without reasons, exactly or within bounds, by an engine of this machine's network
///
/// # Errors
/// [`Stop::Impossible`] when the findings cannot occur together.
pub fn causes_by(
    engine: Arc<Engine>,
    model: &Model,
    ground: &Ground,
    limits: &Limits,
    budget: &Budget,
) -> Result<Diagnosis, Stop> {
    let exact = possible_by(engine, ground, limits).and_then(|mut weighing| {
        let causes = causes(model, ground, &mut weighing)?;
        Ok((causes, Interval::exact(weighing.all().log_evidence)))
    });
    match exact {
        Ok((causes, log_evidence)) => {
            Ok(Diagnosis { causes, conditions: Vec::new(), fit: None, log_evidence })
        }
        Err(Stop::TooWide(_)) => bounded::bounded(ground, budget),
        Err(stop) => Err(stop),
    }
}

/// Probability of each grade, form or choice of every node, given all findings
///
/// # Errors
/// [`Stop`] as for [`diagnose`].
pub fn everywhere(
    model: &Model,
    ground: &Ground,
    limits: &Limits,
) -> Result<BTreeMap<NodeId, Vec<f64>>, Stop> {
    possible(ground, limits)?;
    let wanted: Vec<NodeId> = ground.network.nodes().collect();
    let beliefs = infer::posteriors(&ground.network, &findings(ground), &wanted, limits)?;
    let shares = wanted.into_iter().filter_map(|node| {
        let states = beliefs.marginal(node)?;
        Some((
            node,
            match ground.origin(node)? {
                Origin::Condition(id, _) => named(&model[*id].grades, states),
                Origin::Symptom(id, _) => named(&model[*id].effect.grades, states),
                Origin::Fact(..) | Origin::Cause(..) => states.to_vec(),
            },
        ))
    });
    Ok(shares.collect())
}
