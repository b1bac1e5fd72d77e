//! Causes and conditions that nothing can show, and symptoms that no check shows.

use crate::model::{CauseId, ConditionId, Effect, Hidden, Model, SymptomId};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use std::collections::BTreeSet;

/// Says what would never come to light
pub(super) fn check(model: &Model, problems: &mut Problems) {
    let shown = above(model, model.symptoms.iter().map(|symptom| &symptom.effect));
    let hidden = (0..model.conditions.len()).map(ConditionId);
    let unseen: Vec<ConditionId> = hidden.filter(|&id| !shown.contains(&Hidden::Condition(id))).collect();
    for &id in &unseen {
        let name = &model[id].common.name;
        problems.push(
            Problem::new(Code::ConditionUnseen, model[id].common.at, format!("nothing can show `{name}`"))
                .help(format!(
                    "write a line `with {name}: …` in a symptom, or in a condition that a symptom shows"
                )),
        );
    }
    // A cause that shows only in an unseen condition is told with it.
    let above_unseen = above(model, unseen.iter().map(|&id| &model[id]));
    for id in (0..model.causes.len()).map(CauseId) {
        let name = &model[id].common.name;
        if !shown.contains(&Hidden::Cause(id)) && !above_unseen.contains(&Hidden::Cause(id)) {
            problems.push(
                Problem::new(Code::CauseUnseen, model[id].common.at, format!("nothing can show `{name}`"))
                    .help("write a `with` line for it in a symptom, or in a condition that a symptom shows"),
            );
        }
    }
    unchecked(model, problems);
}

/// Every cause and condition that some effects show, directly or through conditions
fn above<'m>(model: &'m Model, effects: impl Iterator<Item = &'m Effect>) -> BTreeSet<Hidden> {
    let mut found: BTreeSet<Hidden> = BTreeSet::new();
    let mut open: Vec<&Effect> = effects.collect();
    while let Some(effect) = open.pop() {
        for parent in effect.lines.iter().flat_map(|line| &line.parents) {
            if found.insert(parent.of)
                && let Hidden::Condition(id) = parent.of
            {
                open.push(&model[id]);
            }
        }
    }
    found
}

fn unchecked(model: &Model, problems: &mut Problems) {
    let shown: BTreeSet<SymptomId> =
        model.checks.iter().flat_map(|check| check.shows.iter().copied()).collect();
    let read: BTreeSet<_> = model.checks.iter().flat_map(|check| check.reads.iter().copied()).collect();
    for (number, symptom) in model.symptoms.iter().enumerate() {
        let by_reading = symptom
            .reading
            .as_ref()
            .is_some_and(|(formula, _)| formula.readings().iter().all(|measure| read.contains(measure)));
        if !by_reading && !shown.contains(&SymptomId(number)) {
            let name = &symptom.effect.common.name;
            problems.push(
                Problem::new(
                    Code::SymptomUnchecked,
                    symptom.effect.common.at,
                    format!("no check shows `{name}`"),
                )
                .help("name it under `shows` in a check, or take the measures it is made from"),
            );
        }
    }
}
