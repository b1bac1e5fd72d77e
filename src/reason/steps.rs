//! Steps in decibans that add up exactly from prior to posterior, the greatest first.

use super::link::bearing_on;
use super::paths::{self, Way};
use super::weighing::{Weighing, probability};
use crate::ground::Ground;
use crate::model::Model;
use crate::network::NodeId;
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
    /// True for the small remainders, told together
    pub rest: bool,
}

/// Entries of tables that may be passed for the steps of one node, about a second's work
const MOST_WORK: usize = 1 << 28;

/// The steps for one hidden node; none where so many findings couple so much that they would take too long
pub fn steps(model: &Model, ground: &Ground, weighing: &mut Weighing, node: NodeId) -> Vec<Step> {
    if !weighing.has(node) {
        return Vec::new();
    }
    let mut groups = groups(model, ground, node);
    let once = weighing.size().saturating_mul(groups.len());
    if once.saturating_mul(3) > MOST_WORK {
        return Vec::new();
    }
    let all = vec![true; weighing.findings()];
    let none = vec![false; weighing.findings()];
    let (start, end) = (weighing.decibans(&none, node), weighing.decibans(&all, node));
    for group in &mut groups {
        group.alone = weighing.decibans(&with(&none, &group.members, true), node) - start;
        group.left_out = end - weighing.decibans(&with(&all, &group.members, false), node);
    }
    let small = |group: &Group| group.alone.abs() < SMALL && group.left_out.abs() < SMALL;
    let (rest, large): (Vec<Group>, Vec<Group>) = groups.into_iter().partition(small);
    let greedy = once.saturating_mul(large.len()) <= MOST_WORK;
    let mut steps = ordered(weighing, node, large, none.clone(), greedy);
    let taken = steps.iter().flat_map(|step| &step.observations).copied().collect::<Vec<_>>();
    let before = weighing.decibans(&with(&none, &taken, true), node);
    let members: Vec<usize> = rest.into_iter().flat_map(|group| group.members).collect();
    if !members.is_empty() {
        let alone = weighing.decibans(&with(&none, &members, true), node) - start;
        let left_out = end - weighing.decibans(&with(&all, &members, false), node);
        steps.push(Step {
            observations: members,
            decibans: end - before,
            alone,
            left_out,
            probability: probability(end),
            way: None,
            rest: true,
        });
    }
    steps
}

fn with(on: &[bool], members: &[usize], value: bool) -> Vec<bool> {
    let mut on = on.to_vec();
    for &member in members {
        if let Some(slot) = on.get_mut(member) {
            *slot = value;
        }
    }
    on
}

/// Findings that are taken in together
struct Group {
    members: Vec<usize>,
    way: Option<Way>,
    alone: f64,
    left_out: f64,
}

/// Findings that share a condition below the cause go together; all others stand alone
fn groups(model: &Model, ground: &Ground, node: NodeId) -> Vec<Group> {
    let mut by_condition: BTreeMap<NodeId, usize> = BTreeMap::new();
    let mut groups: Vec<Group> = Vec::new();
    for number in bearing_on(ground, node) {
        let way = paths::way(model, ground, node, number);
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
fn ordered(
    weighing: &mut Weighing,
    node: NodeId,
    mut groups: Vec<Group>,
    mut on: Vec<bool>,
    greedy: bool,
) -> Vec<Step> {
    let mut steps = Vec::new();
    let mut odds = weighing.decibans(&on, node);
    groups.sort_by(|a, b| b.alone.abs().total_cmp(&a.alone.abs()));
    while !groups.is_empty() {
        let mut best: Option<(usize, f64)> = None;
        for (number, group) in groups.iter().enumerate().take(if greedy { usize::MAX } else { 1 }) {
            let step = weighing.decibans(&with(&on, &group.members, true), node) - odds;
            if best.is_none_or(|(_, greatest)| step.abs() > greatest.abs()) {
                best = Some((number, step));
            }
        }
        let Some((number, step)) = best else { break };
        let group = groups.remove(number);
        on = with(&on, &group.members, true);
        odds = weighing.decibans(&on, node);
        steps.push(Step {
            observations: group.members,
            decibans: step,
            alone: group.alone,
            left_out: group.left_out,
            probability: probability(odds),
            way: group.way,
            rest: false,
        });
    }
    steps
}
