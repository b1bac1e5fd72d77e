//! Causes, conditions and signs found by their names, as a command or a case gives them; and names in a case that nothing is
//! computed from yet: what is in question, and what turned out to be true.

use super::grounded::Ground;
use super::stray::{fits, unknown};
use crate::case::{Expect, Inspection, NameAt};
use crate::invariant::Hold;
use crate::model::{Cause, CauseId, Common, ConditionId, Extent, Forms, Hidden, Model, SymptomId};
use crate::place::{Place, Side};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};

/// Says which of them the rules do not know, or have no such place for
pub(super) fn check(model: &Model, inspection: &Inspection, ground: &Ground, problems: &mut Problems) {
    for name in &inspection.in_question {
        let symptoms = model.symptoms.iter().map(|symptom| &symptom.effect.common);
        let conditions = model.conditions.iter().map(|condition| &condition.common);
        let known: Vec<_> = symptoms.chain(conditions).collect();
        match known.iter().find(|common| common.name == name.name.value) {
            Some(common) => {
                let symptom = find_symptom(model, &name.name.value);
                let condition = || find_hidden(model, &name.name.value).map(|found| grades(model, found));
                let known = symptom.map(|id| model[id].effect.grades.names.clone()).or_else(condition);
                graded(name, &known.hold("what has this name is a symptom or a condition"), problems);
                place(model, common.extent, name, ground, problems);
            }
            None => problems.push(unknown(
                "symptom or condition",
                &name.name,
                known.iter().map(|common| common.name.as_str()),
            )),
        }
    }
    if let Some(truth) = &inspection.truth {
        for name in truth.present.iter().chain(&truth.absent) {
            hidden(model, name, ground, problems);
        }
    }
    if let Some(expect) = &inspection.expect {
        expected(model, expect, ground, problems);
        if let Some(first) = expect.weight.first().filter(|_| inspection.in_question.is_empty()) {
            let message = "a weight is expected, and no damage is in question";
            let help = "add for instance `in_question: [flange_worn left]`";
            problems.push(Problem::new(Code::CaseMissing, first.at, message).help(help));
        }
    }
}

/// Says which names the rules do not know that a case expects something of
fn expected(model: &Model, expect: &Expect, ground: &Ground, problems: &mut Problems) {
    for name in &expect.first {
        let condition = find_hidden(model, &name.name.value).filter(|it| matches!(it, Hidden::Condition(_)));
        if condition.is_some() {
            let message = format!("`{}` is a condition, and only causes have an order", name.name.value);
            let help = "write it under `over` with the chance it must pass";
            problems.push(Problem::new(Code::CaseUnknownName, name.at, message).help(help));
        } else {
            hidden(model, name, ground, problems);
        }
    }
    for (name, _) in expect.over.iter().chain(&expect.under) {
        hidden(model, name, ground, problems);
    }
    let symptoms = || model.symptoms.iter().map(|symptom| &symptom.effect.common);
    let checks = || model.checks.iter().map(|check| &check.common);
    for name in expect.next.iter().map(|(name, _)| name) {
        let facts = model.facts.iter().map(|fact| &fact.common);
        block("check or fact", checks().chain(facts), name, model, ground, problems);
    }
    for name in &expect.unexplained {
        block("symptom", symptoms(), name, model, ground, problems);
    }
    for name in &expect.held {
        let measures = model.measures.iter().map(|measure| &measure.common);
        let all = measures.chain(symptoms()).chain(checks());
        block("measure, symptom or check", all, name, model, ground, problems);
    }
    for weight in &expect.weight {
        let known: Vec<&str> = model.kinds.iter().map(|kind| kind.against.as_str()).collect();
        if !known.contains(&weight.party.value.as_str()) {
            problems.push(unknown("party", &weight.party, known.iter().copied()));
        }
    }
}

/// A name that stands for one of these blocks, at one of its places or, without a place, at any of them
fn block<'m>(
    what: &str,
    known: impl Iterator<Item = &'m Common>,
    name: &NameAt,
    model: &Model,
    ground: &Ground,
    problems: &mut Problems,
) {
    let known: Vec<&Common> = known.collect();
    let Some(common) = known.iter().find(|common| common.name == name.name.value) else {
        let names = known.iter().map(|common| common.name.as_str());
        problems.push(unknown(what, &name.name, names));
        return;
    };
    if let Some(word) = &name.grade {
        let message = format!("`{}` is no place on a machine", word.value);
        let help = "write the name and its place, as in `sight_idler left`";
        problems.push(Problem::new(Code::CaseUnknownPlace, word.at, message).help(help));
    }
    if name.place.is_some() {
        place(model, common.extent, name, ground, problems);
    }
}

/// The name of a cause or condition, with its grade or form and its place
fn hidden(model: &Model, name: &NameAt, ground: &Ground, problems: &mut Problems) {
    let Some(found) = find_hidden(model, &name.name.value) else {
        let causes = model.causes.iter().map(|cause| &cause.common);
        let conditions = model.conditions.iter().map(|condition| &condition.common);
        let known = causes.chain(conditions).map(|common| common.name.as_str());
        problems.push(unknown("cause or condition", &name.name, known));
        return;
    };
    graded(name, &grades(model, found), problems);
    match found {
        Hidden::Cause(id) if is_toward(&model[id], name) => {}
        found => place(model, model.common(found).extent, name, ground, problems),
    }
}

/// Says that the grade behind a name is none of those it has
fn graded(name: &NameAt, grades: &[String], problems: &mut Problems) {
    let Some(word) = name.grade.as_ref().filter(|word| !grades.contains(&word.value)) else {
        return;
    };
    let otherwise = match grades {
        [] => "write its name and place alone".to_owned(),
        grades => format!("it is one of {}", grades.join(", ")),
    };
    let help = did_you_mean(&word.value, grades.iter().map(String::as_str), &otherwise);
    let message = format!("`{}` has no grade `{}`", name.name.value, word.value);
    problems.push(Problem::new(Code::CaseUnknownName, word.at, message).help(help));
}

/// The grades of a condition or the forms of a cause that may stand behind its name
fn grades(model: &Model, hidden: Hidden) -> Vec<String> {
    match hidden {
        Hidden::Condition(id) => model[id].grades.names.clone(),
        Hidden::Cause(id) => match &model[id].forms {
            Forms::Named(names) => names.clone(),
            Forms::Plain | Forms::Sides => Vec::new(),
        },
    }
}

/// A cause or condition that a case names
#[derive(Clone, Debug, PartialEq)]
pub struct HiddenAt {
    /// What it is
    pub hidden: Hidden,
    /// Where its node stands
    pub place: Place,
    /// The very grade or form named, 0 being normal or absent; none for any but that
    pub grade: Option<usize>,
}

/// What a name stands for; none when the rules do not know it, or not with this grade
///
/// `slope_work left` is the form toward the left of a cause of the whole machine.
pub fn hidden_at(model: &Model, name: &NameAt) -> Option<HiddenAt> {
    let hidden = find_hidden(model, &name.name.value)?;
    let place = name.place.as_ref().map_or(Place::Machine, |place| place.value.clone());
    if let Hidden::Cause(id) = hidden
        && is_toward(&model[id], name)
    {
        let form = model[id].forms.names().iter().position(|form| *form == place.to_string())?;
        return Some(HiddenAt { hidden, place: Place::Machine, grade: Some(form + 1) });
    }
    let grade = match &name.grade {
        None => None,
        Some(word) => {
            let named = grades(model, hidden).iter().position(|grade| *grade == word.value)?;
            Some(if matches!(hidden, Hidden::Cause(_)) { named + 1 } else { named })
        }
    };
    Some(HiddenAt { hidden, place, grade })
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
