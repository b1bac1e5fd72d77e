//! Two symptoms on parts that rub, with two causes in common and no condition between.

use crate::model::{Hidden, Model, Symptom};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use std::collections::BTreeSet;

/// Says which symptoms of a contact pair are taken for two witnesses
pub(super) fn check(model: &Model, problems: &mut Problems) {
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
