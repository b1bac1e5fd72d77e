//! Hidden nodes put in the order of their probabilities.

use super::Ranked;
use super::evidence::{ASKED, Evidence};
use crate::ground::{Ground, Origin};
use crate::infer::TooWide;
use crate::infer::bounds::Interval;
use crate::infer::engine::Engine;
use crate::infer::{Finding, Limits};
use crate::invariant::Hold;
use crate::model::grades::Grades;
use crate::model::{Hidden, Model};
use crate::network::NodeId;
use crate::place::Place;
use std::collections::BTreeMap;

/// Hidden nodes with their probabilities, likeliest first, ties in the order of the rules
pub(super) fn ranked<'a>(
    model: &Model,
    evidence: &Evidence,
    nodes: impl Iterator<Item = (Hidden, &'a Place, NodeId)>,
) -> Result<Vec<Ranked>, TooWide> {
    let nodes: Vec<(Hidden, &Place, NodeId)> = nodes.collect();
    let wanted: Vec<NodeId> = nodes.iter().map(|(_, _, node)| *node).collect();
    let (before, after) = evidence.before_and_after(&wanted)?;
    let present = |states: &[f64]| states.iter().skip(1).sum();
    let mut list: Vec<Ranked> = nodes
        .into_iter()
        .map(|(hidden, place, node)| {
            let states = after.marginal(node).hold(ASKED).to_vec();
            let probability = present(&states);
            Ranked {
                hidden,
                place: place.clone(),
                node,
                prior: present(before.marginal(node).hold(ASKED)),
                probability,
                within: Interval::exact(probability),
                grades: grades(model, hidden, &states),
                lately: lately(model, hidden, &states),
                reasons: Vec::new(),
            }
        })
        .collect();
    list.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    Ok(list)
}

/// Probability of each form or named grade from that of each state
fn grades(model: &Model, hidden: Hidden, states: &[f64]) -> Vec<f64> {
    match hidden {
        Hidden::Cause(id) => model[id].by_form(states),
        Hidden::Condition(id) => named(&model[id].grades, states),
    }
}

/// Of the probability of being present, the share of having come only lately; none where that is not told apart
fn lately(model: &Model, hidden: Hidden, states: &[f64]) -> Option<f64> {
    let Hidden::Cause(id) = hidden else { return None };
    let cause = &model[id];
    let present: f64 = states.iter().skip(1).sum();
    let recent =
        states.iter().enumerate().filter(|(state, _)| cause.is_recent(*state)).map(|(_, chance)| chance);
    (cause.recent.is_some() && present > 0.0).then(|| recent.sum::<f64>() / present)
}

/// Probability of each named grade from that of each state
pub(super) fn named(grades: &Grades, states: &[f64]) -> Vec<f64> {
    let shown = |grade: usize| {
        let showing = states.iter().enumerate().filter(|(state, _)| grades.shows(grade, *state));
        showing.map(|(_, share)| share).sum()
    };
    (0..grades.names.len()).map(shown).collect()
}

/// Probability of each grade, form or choice of a node from that of each state
pub(super) fn by_name(model: &Model, origin: &Origin, states: &[f64]) -> Vec<f64> {
    match (origin.as_hidden(), origin.as_effect()) {
        (_, Some(effect)) => named(&effect.effect(model).grades, states),
        (Some(hidden), None) => grades(model, hidden, states),
        (None, None) => states.to_vec(),
    }
}

/// Probability of each grade, form or choice of every node
pub(super) fn everywhere(
    model: &Model,
    ground: &Ground,
    engine: &Engine,
    found: &[Finding],
    limits: &Limits,
) -> Result<BTreeMap<NodeId, Vec<f64>>, TooWide> {
    let wanted: Vec<NodeId> = ground.network.nodes().collect();
    let beliefs = engine.posteriors(found, &wanted, limits)?;
    let shares = wanted.into_iter().filter_map(|node| {
        let states = beliefs.marginal(node)?;
        Some((node, by_name(model, ground.origin(node)?, states)))
    });
    Ok(shares.collect())
}
