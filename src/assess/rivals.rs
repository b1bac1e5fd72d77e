//! Through which other cause a finding bears on a party's causes that do not bring it about.

use super::odds::Odds;
use crate::ground::{Ground, Origin};
use crate::infer::chosen;
use crate::network::NodeId;
use crate::network::open::open_ancestors;
use crate::reason::steps::Step;
use fixedbitset::FixedBitSet;

/// For each step that none of `causes` brings about, the other cause of its findings whose probability, with none of `causes`
/// present, it takes down most, or up where it speaks against them.
///
/// None where one of `causes` brings it about, after the first `leading` steps, and where no other cause is moved.
pub fn rivals(
    ground: &Ground,
    odds: &mut Odds,
    causes: &[NodeId],
    steps: &[Step],
    leading: usize,
) -> Vec<Option<NodeId>> {
    let mut on = chosen::none(odds.findings());
    let mut rivals = Vec::new();
    for (turn, step) in steps.iter().enumerate() {
        let before = on.clone();
        on.extend(step.observations.iter().copied());
        let is_shown = turn < leading && step.way.is_none();
        rivals.push(is_shown.then(|| moved_most(ground, odds, causes, step, (&before, &on))).flatten());
    }
    rivals
}

fn moved_most(
    ground: &Ground,
    odds: &mut Odds,
    causes: &[NodeId],
    step: &Step,
    (before, after): (&FixedBitSet, &FixedBitSet),
) -> Option<NodeId> {
    let seen = step.observations.iter().map(|number| ground.observation(*number).node);
    let seen: Vec<NodeId> = seen.collect();
    let is_cause = |node: &NodeId| matches!(ground.origin(*node), Some(Origin::Cause(..)));
    let mut others = open_ancestors(&ground.network, &seen);
    others.retain(|node| is_cause(node) && !causes.contains(node));
    let (was, is) = (odds.without(before, &others), odds.without(after, &others));
    let taken = others.iter().zip(was.iter().zip(&is)).filter_map(|(node, (was, is))| {
        let taken = if step.decibans >= 0.0 { (*was)? - (*is)? } else { (*is)? - (*was)? };
        (taken > 0.0).then_some((*node, taken))
    });
    taken.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(node, _)| node)
}
