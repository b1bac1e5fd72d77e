//! Names in a case that nothing is computed from yet: what is in question, and what turned out to be true.

use super::Ground;
use super::findings::{fits, unknown};
use crate::case::{Inspection, NameAt};
use crate::model::{Cause, CauseId, ConditionId, Extent, Forms, Hidden, Model, SymptomId};
use crate::place::{Place, Side};
use crate::problem::Problem;
use crate::problem::Problems;
use crate::problem::code::Code;

/// Says which of them the rules do not know, or have no such place for
pub(super) fn check(model: &Model, inspection: &Inspection, ground: &Ground, problems: &mut Problems) {
    for name in &inspection.in_question {
        let symptoms = model.symptoms.iter().map(|symptom| &symptom.effect.common);
        let conditions = model.conditions.iter().map(|condition| &condition.common);
        let known: Vec<_> = symptoms.chain(conditions).collect();
        match known.iter().find(|common| common.name == name.name.value) {
            Some(common) => place(model, common.extent, name, ground, problems),
            None => problems.push(unknown(
                "symptom or condition",
                &name.name,
                known.iter().map(|common| common.name.as_str()),
            )),
        }
    }
    if let Some(truth) = &inspection.truth {
        for name in truth.present.iter().chain(&truth.absent) {
            match find_hidden(model, &name.name.value) {
                Some(Hidden::Cause(id)) if is_toward(&model[id], name) => {}
                Some(hidden) => place(model, model.common(hidden).extent, name, ground, problems),
                None => {
                    let causes = model.causes.iter().map(|cause| &cause.common);
                    let conditions = model.conditions.iter().map(|condition| &condition.common);
                    let known = causes.chain(conditions).map(|common| common.name.as_str());
                    problems.push(unknown("cause or condition", &name.name, known));
                }
            }
        }
    }
}

/// The cause or condition of a name
pub fn find_hidden(model: &Model, name: &str) -> Option<Hidden> {
    let cause = model.causes.iter().position(|cause| cause.common.name == name);
    let condition = || model.conditions.iter().position(|condition| condition.common.name == name);
    cause
        .map(|number| Hidden::Cause(CauseId(number)))
        .or_else(|| condition().map(|number| Hidden::Condition(ConditionId(number))))
}

/// `slope_work left`: the side is the form of a cause of the whole machine
fn is_toward(cause: &Cause, name: &NameAt) -> bool {
    let side = name.place.as_ref().map(|place| &place.value);
    cause.forms == Forms::Sides && matches!(side, Some(Place::Side(Side::Left | Side::Right)))
}

fn place(model: &Model, extent: Extent, name: &NameAt, ground: &Ground, problems: &mut Problems) {
    let given = name.place.as_ref().map_or(Place::Machine, |place| place.value.clone());
    let there = ground.machine.places(model, extent).contains(&given);
    if !there || !fits(model, extent, &given) {
        let at = name.place.as_ref().map_or(name.name.at, |place| place.at);
        let places: Vec<String> = ground
            .machine
            .places(model, extent)
            .iter()
            .take(3)
            .map(|place| format!("`{} {place}`", name.name.value))
            .collect();
        problems.push(
            Problem::new(Code::CaseUnknownPlace, at, format!("`{}` has no place `{given}`", name.name.value))
                .help(format!("write for instance {}", places.join(", "))),
        );
    }
}

/// The symptom of a name
pub fn find_symptom(model: &Model, name: &str) -> Option<SymptomId> {
    let number = model.symptoms.iter().position(|symptom| symptom.effect.common.name == name);
    number.map(SymptomId)
}
