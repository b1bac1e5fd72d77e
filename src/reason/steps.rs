//! Steps in decibans that add up exactly from prior to posterior, the greatest first.
//!
//! Steps are greedy and exact: they are differences of the same log-odds, so they add up whatever the order. Findings that
//! share a condition below the cause go in together. Steps under half a deciban are told as one remainder.

use super::decibans::probability;
use super::evidence::Evidence;
use super::link::bearing_on_any;
use super::next::Shift;
use super::paths::{self, Way};
use super::rivals;
use crate::ground::Ground;
use crate::infer::chosen::{self, with, without};
use crate::model::Model;
use crate::network::NodeId;
use fixedbitset::FixedBitSet;
use std::collections::BTreeMap;

/// Weight, in decibans, under which a finding is told together with the other small ones
const SMALL: f64 = 0.5;

/// One step: findings taken in together, and what they do to the odds
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Numbers of the observations, the one that speaks loudest first
    pub observations: Vec<usize>,
    /// Change of the odds when they are taken in after the steps before
    pub decibans: f64,
    /// Change of the odds had they been the only findings
    pub alone: f64,
    /// Change of the odds that would be lost without them, all others kept
    pub left_out: f64,
    /// Probability after this step
    pub probability: f64,
    /// How the cause brings the first of them about; none when it does not, and they bear on it through its rivals
    pub way: Option<Way>,
    /// Other causes of the same signs that they move most, where it does not and a single node is asked about
    pub rivals: Vec<Shift>,
    /// True for the small remainders, told together
    pub rest: bool,
}

/// Entries of tables that may be passed for the steps of one node, about a second's work
const MOST_WORK: usize = 1 << 28;

/// The steps for one hidden node; none where so many findings couple so much that they would take too long
pub(super) fn steps(model: &Model, ground: &Ground, evidence: &Evidence, node: NodeId) -> Vec<Step> {
    if !evidence.has(node) {
        return Vec::new();
    }
    let (findings, once) = (evidence.findings(), evidence.size());
    let mut steps = steps_of(model, ground, &[node], findings, once, &mut |on| evidence.decibans(on, node));
    rivals::name(ground, evidence, node, &mut steps);
    steps
}

/// The steps of the odds that any of some hidden nodes is present, each by way of the first of them that brings it about: give
/// the likeliest first.
///
/// `odds` tells them in decibans for the findings that are switched on, of which there are `findings`, and passes `once`
/// entries of tables for it.
pub fn steps_of(
    model: &Model,
    ground: &Ground,
    nodes: &[NodeId],
    findings: usize,
    once: usize,
    odds: &mut Odds<'_>,
) -> Vec<Step> {
    let mut groups = groups(model, ground, nodes);
    let once = once.saturating_mul(groups.len());
    if once.saturating_mul(3) > MOST_WORK {
        return Vec::new();
    }
    let (all, none) = (chosen::all(findings), chosen::none(findings));
    let (start, end) = (odds(&none), odds(&all));
    for group in &mut groups {
        group.alone = odds(&with(&none, &group.members)) - start;
        group.left_out = end - odds(&without(&all, &group.members));
    }
    let small = |group: &Group| group.alone.abs() < SMALL && group.left_out.abs() < SMALL;
    let (rest, large): (Vec<Group>, Vec<Group>) = groups.into_iter().partition(small);
    let greedy = once.saturating_mul(large.len()) <= MOST_WORK;
    let mut steps = ordered(odds, large, none.clone(), greedy);
    let taken = steps.iter().flat_map(|step| &step.observations).copied().collect::<Vec<_>>();
    let before = odds(&with(&none, &taken));
    let members: Vec<usize> = rest.into_iter().flat_map(|group| group.members).collect();
    if !members.is_empty() {
        let alone = odds(&with(&none, &members)) - start;
        let left_out = end - odds(&without(&all, &members));
        steps.push(Step {
            observations: members,
            decibans: end - before,
            alone,
            left_out,
            probability: probability(end),
            way: None,
            rivals: Vec::new(),
            rest: true,
        });
    }
    steps
}

/// Odds in decibans given the findings that are switched on
pub type Odds<'a> = dyn FnMut(&FixedBitSet) -> f64 + 'a;

/// Findings that are taken in together
struct Group {
    members: Vec<usize>,
    way: Option<Way>,
    alone: f64,
    left_out: f64,
}

/// Findings that share a condition below a cause go together; all others stand alone
fn groups(model: &Model, ground: &Ground, nodes: &[NodeId]) -> Vec<Group> {
    let mut by_condition: BTreeMap<NodeId, usize> = BTreeMap::new();
    let mut groups: Vec<Group> = Vec::new();
    for number in bearing_on_any(ground, nodes) {
        let way = nodes.iter().find_map(|node| paths::way(model, ground, *node, number));
        let through = way.as_ref().and_then(|way| way.through.first().copied());
        let known = through.and_then(|condition| by_condition.get(&condition)).copied();
        match known.and_then(|known| groups.get_mut(known)) {
            Some(group) => {
                group.members.push(number);
                if is_clearer(ground, number, group.members.first().copied()) {
                    group.members.rotate_right(1);
                    group.way = way;
                }
            }
            None => {
                if let Some(condition) = through {
                    by_condition.insert(condition, groups.len());
                }
                groups.push(Group { members: vec![number], way, alone: 0.0, left_out: 0.0 });
            }
        }
    }
    groups
}

/// An abnormal finding speaks louder than a normal one
fn is_clearer(ground: &Ground, number: usize, than: Option<usize>) -> bool {
    let abnormal = |number: usize| ground.observations.get(number).is_some_and(|own| own.grade != 0);
    abnormal(number) && !than.is_some_and(abnormal)
}

/// Takes in the group with the greatest step, then the next; where trying them all would take too long, the one with
/// the greatest weight alone
fn ordered(odds: &mut Odds<'_>, mut groups: Vec<Group>, mut on: FixedBitSet, greedy: bool) -> Vec<Step> {
    let mut steps = Vec::new();
    let mut now = odds(&on);
    groups.sort_by(|a, b| b.alone.abs().total_cmp(&a.alone.abs()));
    while !groups.is_empty() {
        let mut best: Option<(usize, f64)> = None;
        for (number, group) in groups.iter().enumerate().take(if greedy { usize::MAX } else { 1 }) {
            let step = odds(&with(&on, &group.members)) - now;
            if best.is_none_or(|(_, greatest)| step.abs() > greatest.abs()) {
                best = Some((number, step));
            }
        }
        let Some((number, step)) = best else { break };
        let group = groups.remove(number);
        on = with(&on, &group.members);
        now = odds(&on);
        steps.push(Step {
            observations: group.members,
            decibans: step,
            alone: group.alone,
            left_out: group.left_out,
            probability: probability(now),
            way: group.way,
            rivals: Vec::new(),
            rest: false,
        });
    }
    steps
}
