//! The order of open checks: what may stop the machine, what would be spoiled, what may decide a cause that the findings speak
//! for, what may decide another, then the rest, and of each what tells most for each minute.

use super::{First, NextCheck, RECKONED_WITH, SetUp, WORTHLESS_UNDER, What, rounded};
use crate::ground::{Ground, Origin};
use crate::model::{Hidden, Model, StateId};
use crate::network::NodeId;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Probability from which a cause that forbids work would stop the machine
const STOPS_FROM: f64 = 0.5;

/// Puts the checks in order, set-up shared among those that need it; what tells nothing is left out
pub fn order(
    model: &Model,
    ground: &Ground,
    spoken_for: &BTreeSet<NodeId>,
    list: Vec<NextCheck>,
) -> Vec<NextCheck> {
    let now = states_now(model, ground);
    let mut worth: Vec<NextCheck> = list
        .into_iter()
        .filter(|check| check.bits >= WORTHLESS_UNDER && reachable(model, &now, check))
        .collect();
    share_set_up(model, &now, &mut worth);
    let spoiled = spoiled(model, &worth);
    for check in &mut worth {
        check.first = if may_stop(model, ground, check) {
            Some(First::MayStop)
        } else {
            needs_state(model, check)
                .filter(|state| spoiled.contains(state) && now.contains(state))
                .map(First::Passing)
        };
    }
    worth.sort_by_cached_key(|check| {
        let rank = match check.first {
            Some(First::MayStop) => 0,
            Some(First::Passing(_)) => 1,
            None if check.decides_of(|cause| spoken_for.contains(&cause)) => 2,
            None if check.decides() => 3,
            None => 4,
        };
        (rank, Reverse(rounded(check.rate())))
    });
    worth
}

/// States the machine is still in: given or made, and not ended by a check that was done
fn states_now(model: &Model, ground: &Ground) -> BTreeSet<StateId> {
    let done = ground.looked.iter().map(|(check, _)| &model[*check]);
    let ended: BTreeSet<StateId> = done.flat_map(|check| check.ends.iter().copied()).collect();
    ground.states.difference(&ended).copied().collect()
}

fn needs_state(model: &Model, check: &NextCheck) -> Option<StateId> {
    match check.what {
        What::Check(id) => model[id].needs_state,
        What::Tell(..) => None,
    }
}

fn reachable(model: &Model, now: &BTreeSet<StateId>, check: &NextCheck) -> bool {
    needs_state(model, check).is_none_or(|state| now.contains(&state) || model.maker(state).is_some())
}

/// Shares the minutes of each set-up evenly among the checks that need it
fn share_set_up(model: &Model, now: &BTreeSet<StateId>, list: &mut [NextCheck]) {
    let mut users: BTreeMap<StateId, u32> = BTreeMap::new();
    for check in list.iter() {
        if let Some(state) = needs_state(model, check).filter(|state| !now.contains(state)) {
            *users.entry(state).or_insert(0) += 1;
        }
    }
    for check in list {
        let state = needs_state(model, check);
        if let Some((state, count)) = state.and_then(|state| users.get(&state).map(|count| (state, *count)))
            && let Some(maker) = model.maker(state)
        {
            let minutes = model[maker].minutes / f64::from(count);
            check.set_up = Some(SetUp { maker, state, minutes });
        }
    }
}

/// States that some check worth doing, or its set-up, would put an end to
fn spoiled(model: &Model, list: &[NextCheck]) -> BTreeSet<StateId> {
    let own = list.iter().filter_map(|check| match check.what {
        What::Check(id) => Some(id),
        What::Tell(..) => None,
    });
    let makers = list.iter().filter_map(|check| check.set_up.map(|set_up| set_up.maker));
    own.chain(makers).flat_map(|id| model[id].ends.iter().copied()).collect()
}

/// Whether an outcome is to be reckoned with that makes a cause likely which forbids work
fn may_stop(model: &Model, ground: &Ground, check: &NextCheck) -> bool {
    let stopping: BTreeSet<Hidden> = model
        .remedies
        .iter()
        .filter(|remedy| remedy.within == Some(0.0))
        .flat_map(|remedy| remedy.fixes.iter().copied())
        .collect();
    check.outcomes.iter().filter(|outcome| outcome.chance >= RECKONED_WITH).any(|outcome| {
        outcome.shifts.iter().any(|shift| {
            let stops = ground
                .origin(shift.node)
                .and_then(Origin::as_hidden)
                .is_some_and(|hidden| stopping.contains(&hidden));
            stops && shift.from < STOPS_FROM && shift.to >= STOPS_FROM
        })
    })
}
