//! What is legal and doubtful: told once the rules hold together.

use crate::model::{CauseId, Check, Common, Hidden, Model, Symptom, SymptomId};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use std::collections::BTreeSet;

/// Words of a check that tell of a hazard
const HAZARDS: [&str; 14] = [
    "lift",
    "jack",
    "crib",
    "adjuster",
    "grease",
    "spring",
    "recoil",
    "drive out",
    "press out",
    "hammer",
    "hot",
    "part the track",
    "open the track",
    "pressure",
];

/// Warnings about a model without errors
pub(super) fn check(model: &Model, problems: &mut Problems) {
    unseen_causes(model, problems);
    unchecked_symptoms(model, problems);
    hazards(model, problems);
    contact_pairs(model, problems);
    bases(model, problems);
}

fn unseen_causes(model: &Model, problems: &mut Problems) {
    let mut shown: BTreeSet<Hidden> = BTreeSet::new();
    let symptoms = model.symptoms.iter().map(|symptom| &symptom.effect);
    let mut effects: Vec<_> = symptoms.collect();
    while let Some(effect) = effects.pop() {
        for parent in effect.lines.iter().flat_map(|line| &line.parents) {
            if shown.insert(parent.of)
                && let Hidden::Condition(id) = parent.of
            {
                effects.push(&model[id]);
            }
        }
    }
    for (number, cause) in model.causes.iter().enumerate() {
        if !shown.contains(&Hidden::Cause(CauseId(number))) {
            problems.push(
                Problem::new(
                    Code::CauseUnseen,
                    cause.common.at,
                    format!("nothing can show `{}`", cause.common.name),
                )
                .help("write a `with` line for it in a symptom, or in a condition that a symptom shows"),
            );
        }
    }
}

fn unchecked_symptoms(model: &Model, problems: &mut Problems) {
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

fn hazards(model: &Model, problems: &mut Problems) {
    for check in model.checks.iter().filter(|check| check.cautions.is_empty()) {
        if let Some(hazard) = hazard(check) {
            problems.push(
                Problem::new(
                    Code::HazardNoCaution,
                    check.common.at,
                    format!("`{}` has to do with `{hazard}` and carries no caution", check.common.name),
                )
                .help("add a line `caution \"…\"` that says what to beware of"),
            );
        }
    }
}

fn hazard(check: &Check) -> Option<&'static str> {
    if check.access.as_deref() == Some("lifted") {
        return Some("lift");
    }
    let words =
        format!("{} {}", check.common.label, check.common.text.as_deref().unwrap_or("")).to_lowercase();
    HAZARDS.into_iter().find(|hazard| has_word(&words, hazard))
}

/// Whether a word of a text starts with another
fn has_word(text: &str, start: &str) -> bool {
    let inside = |at: usize| text.get(..at).is_some_and(|before| before.ends_with(char::is_alphanumeric));
    text.match_indices(start).any(|(at, _)| !inside(at))
}

/// Two symptoms on parts that rub, with two causes in common and no condition between
fn contact_pairs(model: &Model, problems: &mut Problems) {
    let causes: Vec<BTreeSet<Hidden>> = model.symptoms.iter().map(causes).collect();
    let seen: Vec<(&Symptom, &BTreeSet<Hidden>)> = model.symptoms.iter().zip(&causes).collect();
    for (number, (one, first)) in seen.iter().enumerate() {
        for (other, second) in seen.iter().skip(number + 1) {
            if !rub(model, one, other) {
                continue;
            }
            let shared: Vec<Hidden> = first.intersection(second).take(2).copied().collect();
            if problems.is_full() {
                return;
            }
            if let [first, second] = shared.as_slice() {
                let message = format!(
                    "`{}` and `{}` are seen on parts that rub, and share `{}` and `{}`",
                    one.effect.common.name,
                    other.effect.common.name,
                    model.common(*first).name,
                    model.common(*second).name
                );
                problems.push(
                    Problem::new(Code::ContactPair, other.effect.common.at, message)
                        .also(one.effect.common.at, "the other of the pair")
                        .help("they wear each other and are no two witnesses: put one condition between the causes and both"),
                );
            }
        }
    }
}

fn rub(model: &Model, one: &Symptom, other: &Symptom) -> bool {
    let part = |symptom: &Symptom| symptom.effect.common.part;
    match (part(one), part(other)) {
        (Some(one), Some(other)) => model[one].rubs == Some(other) || model[other].rubs == Some(one),
        _ => false,
    }
}

fn causes(symptom: &Symptom) -> BTreeSet<Hidden> {
    let parents = symptom.effect.lines.iter().flat_map(|line| &line.parents);
    parents.map(|parent| parent.of).filter(|parent| matches!(parent, Hidden::Cause(_))).collect()
}

fn bases(model: &Model, problems: &mut Problems) {
    let causes = model.causes.iter().map(|cause| &cause.common);
    let conditions = model.conditions.iter().map(|condition| &condition.common);
    let symptoms = model.symptoms.iter().map(|symptom| &symptom.effect.common);
    let blocks: Vec<&Common> = causes.chain(conditions).chain(symptoms).collect();
    for block in blocks.into_iter().filter(|block| block.basis.is_none()) {
        problems.push(
            Problem::new(
                Code::NoBasis,
                block.at,
                format!("`{}` does not say where it comes from", block.name),
            )
            .help("add `basis common practice`, `basis estimate`, or a source in quotes"),
        );
    }
}
