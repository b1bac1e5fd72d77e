//! Which other causes of the same signs a finding moves: the way in which it bears on a cause that does not bring it about.
//!
//! Named are causes of that finding and of a sign taken in before, moved the right way by a hundredth or more. Where none is,
//! the text says nothing of others.

use super::evidence::Evidence;
use super::next::Shift;
use super::paths;
use super::steps::Step;
use crate::ground::{Ground, Origin};
use crate::infer::chosen;
use crate::network::NodeId;
use crate::network::open::open_ancestors;
use fixedbitset::FixedBitSet;

/// Change of probability from which a cause counts as moved
const MOVED_FROM: f64 = 0.01;
/// Causes named for one step
const MOST: usize = 2;
/// Part of the greatest change from which a second cause is named beside the first
const BESIDE: f64 = 0.5;

/// Names in each step that a node does not bring about the other causes that it moves most: down where the step speaks for
/// the node, up where it speaks against it.
///
/// Such a cause can bring about what is found in the step, and a sign of the node that was taken in before it. Its
/// probability goes from the one before the step to the one after it, by a hundredth at least.
pub(super) fn name(ground: &Ground, evidence: &Evidence, node: NodeId, steps: &mut [Step]) {
    let mut on = chosen::none(evidence.findings());
    for step in steps {
        let before = on.clone();
        on.extend(step.observations.iter().copied());
        if step.way.is_none() && !step.rest {
            step.rivals = moved(ground, evidence, node, step, (&before, &on));
        }
    }
}

fn moved(
    ground: &Ground,
    evidence: &Evidence,
    node: NodeId,
    step: &Step,
    (before, after): (&FixedBitSet, &FixedBitSet),
) -> Vec<Shift> {
    let (was, is) = (evidence.given(before), evidence.given(after));
    let shifts = of_the_same_signs(ground, node, step, before).into_iter().filter_map(|node| {
        let present = |states: &[f64]| states.iter().skip(1).sum();
        Some(Shift { node, from: present(was.marginal(node)?), to: present(is.marginal(node)?) })
    });
    let change = |shift: &Shift| match step.decibans >= 0.0 {
        true => shift.from - shift.to,
        false => shift.to - shift.from,
    };
    let mut shifts: Vec<Shift> = shifts.filter(|shift| change(shift) >= MOVED_FROM).collect();
    shifts.sort_by(|a, b| change(b).total_cmp(&change(a)));
    let least = shifts.first().map_or(0.0, |first| change(first) * BESIDE);
    shifts.retain(|shift| change(shift) >= least);
    shifts.truncate(MOST);
    shifts
}

/// Other causes of what is found in a step that are causes of a sign of the node, too, among the findings that are switched on
fn of_the_same_signs(ground: &Ground, node: NodeId, step: &Step, on: &FixedBitSet) -> Vec<NodeId> {
    let network = &ground.network;
    let found = step.observations.iter().filter_map(|number| ground.observations.get(*number));
    let found: Vec<NodeId> = found.map(|own| own.node).collect();
    let signs = ground.observations.iter().enumerate().filter(|(number, own)| {
        own.grade != 0 && on.contains(*number) && paths::leads_to(ground, node, *number)
    });
    let signs: Vec<NodeId> = signs.map(|(_, own)| own.node).collect();
    let same = open_ancestors(network, &signs);
    let mut others = open_ancestors(network, &found);
    others.retain(|other| {
        *other != node
            && matches!(ground.origin(*other), Some(Origin::Cause(..)))
            && same.binary_search(other).is_ok()
    });
    others
}
