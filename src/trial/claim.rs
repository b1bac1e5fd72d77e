//! What a case claims: what must come out by strip-down, and what whoever wrote it expects.

use crate::case::{Expect, Inspection, NameAt, Truth};
use crate::ground::{HeldWhat, HiddenAt, find_symptom, hidden_at};
use crate::model::{CheckId, FactId, Hidden, MeasureId, Model, SymptomId};
use crate::place::Place;
use crate::source::Span;

/// Chance under which a cause that was not there must stay, and any cause on a sound machine
pub const ABSENT_UNDER: f64 = 0.3;
/// Chance over which a condition that was there must lie, and the share of the form that a cause had
pub const PRESENT_OVER: f64 = 0.5;

/// One claim, and where it stands
#[derive(Clone, Debug, PartialEq)]
pub struct Claimed {
    /// What is claimed
    pub claim: Claim,
    /// Who claims it
    pub by: By,
    /// The name as the case has it; empty for a claim on the whole
    pub name: String,
    /// Where the case says so
    pub at: Span,
}

/// Who claims something
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum By {
    /// Strip-down, under `truth`
    Truth,
    /// The writer of the case, under `expect`
    Expect,
}

/// What a case can claim
#[derive(Clone, Debug, PartialEq)]
pub enum Claim {
    /// The first of these causes stands above all that are not among them
    Above(HiddenAt, Vec<HiddenAt>),
    /// A cause, if it is present, most likely has this form
    Form(HiddenAt),
    /// Something lies over this chance
    Over(HiddenAt, f64),
    /// Something lies under this chance
    Under(HiddenAt, f64),
    /// No cause passes [`ABSENT_UNDER`]
    Sound,
    /// A check or question is among the first so many, or is done to prepare one of them
    Next(Sought, Option<Place>, u32),
    /// Nothing in the rules explains the finding
    Unexplained(SymptomId, Option<Place>),
    /// Something is held back
    Held(HeldWhat, Option<Place>),
    /// The likelihood ratio for causes that count against a party lies over or under a figure
    Weight(Weight),
}

/// What the findings are said to weigh
#[derive(Clone, Debug, PartialEq)]
pub struct Weight {
    /// The party
    pub party: String,
    /// The ratio lies over the figure; else under it
    pub over: bool,
    /// The figure
    pub ratio: f64,
    /// The damage in question, as the case names it
    pub about: Vec<NameAt>,
}

/// What may be looked at next
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Sought {
    /// A check
    Check(CheckId),
    /// A fact to find out
    Fact(FactId),
}

/// Everything an inspection claims, first by its truth, then by what is expected of it; names that the rules do not
/// know are passed over
pub fn claims(model: &Model, inspection: &Inspection) -> Vec<Claimed> {
    let mut claims = Vec::new();
    if let Some(truth) = &inspection.truth {
        by_truth(model, truth, &mut claims);
    }
    if let Some(expect) = &inspection.expect {
        by_expectation(model, expect, &mut claims);
        claims.extend(expect.weight.iter().map(|weight| Claimed {
            claim: Claim::Weight(Weight {
                party: weight.party.value.clone(),
                over: weight.over,
                ratio: weight.ratio.value,
                about: inspection.in_question.clone(),
            }),
            by: By::Expect,
            name: weight.party.value.clone(),
            at: weight.at,
        }));
    }
    claims
}

fn by_truth(model: &Model, truth: &Truth, claims: &mut Vec<Claimed>) {
    let causes = causes(model, &truth.present);
    let mut push = |name: &NameAt, claim| claims.push(claimed(By::Truth, name, claim));
    for name in &truth.present {
        let Some(found) = hidden_at(model, name) else { continue };
        match found.hidden {
            Hidden::Cause(_) => {
                push(name, Claim::Above(found.clone(), causes.clone()));
                if found.grade.is_some() {
                    push(name, Claim::Form(found));
                }
            }
            Hidden::Condition(_) => push(name, Claim::Over(found, PRESENT_OVER)),
        }
    }
    for name in &truth.absent {
        if let Some(found) = hidden_at(model, name) {
            push(name, Claim::Under(found, ABSENT_UNDER));
        }
    }
    if let Some(at) = truth.sound {
        claims.push(Claimed { claim: Claim::Sound, by: By::Truth, name: String::new(), at });
    }
}

fn by_expectation(model: &Model, expect: &Expect, claims: &mut Vec<Claimed>) {
    let first = causes(model, &expect.first);
    let mut push = |name: &NameAt, claim| claims.push(claimed(By::Expect, name, claim));
    for name in &expect.first {
        if let Some(found) = hidden_at(model, name) {
            push(name, Claim::Above(found.clone(), first.clone()));
            if found.grade.is_some() {
                push(name, Claim::Form(found));
            }
        }
    }
    for (name, share) in &expect.over {
        if let Some(found) = hidden_at(model, name) {
            push(name, Claim::Over(found, share.value));
        }
    }
    for (name, share) in &expect.under {
        if let Some(found) = hidden_at(model, name) {
            push(name, Claim::Under(found, share.value));
        }
    }
    for (name, most) in &expect.next {
        if let Some(sought) = sought(model, &name.name.value) {
            push(name, Claim::Next(sought, place(name), most.value));
        }
    }
    for name in &expect.unexplained {
        if let Some(symptom) = find_symptom(model, &name.name.value) {
            push(name, Claim::Unexplained(symptom, place(name)));
        }
    }
    for name in &expect.held {
        if let Some(what) = held(model, &name.name.value) {
            push(name, Claim::Held(what, place(name)));
        }
    }
}

fn claimed(by: By, name: &NameAt, claim: Claim) -> Claimed {
    let grade = name.grade.as_ref().map_or_else(String::new, |grade| format!(" {}", grade.value));
    let place = name.place.as_ref().map_or_else(String::new, |place| format!(" {}", place.value));
    Claimed { claim, by, name: format!("{}{grade}{place}", name.name.value), at: name.at }
}

fn causes(model: &Model, names: &[NameAt]) -> Vec<HiddenAt> {
    let found = names.iter().filter_map(|name| hidden_at(model, name));
    found.filter(|found| matches!(found.hidden, Hidden::Cause(_))).collect()
}

fn place(name: &NameAt) -> Option<Place> {
    name.place.as_ref().map(|place| place.value.clone())
}

fn sought(model: &Model, name: &str) -> Option<Sought> {
    let check = model.checks.iter().position(|check| check.common.name == name);
    let fact = || model.facts.iter().position(|fact| fact.common.name == name);
    let check = check.map(|number| Sought::Check(CheckId(number)));
    check.or_else(|| fact().map(|number| Sought::Fact(FactId(number))))
}

fn held(model: &Model, name: &str) -> Option<HeldWhat> {
    let measure = model.measures.iter().position(|measure| measure.common.name == name);
    let check = || model.checks.iter().position(|check| check.common.name == name);
    measure
        .map(|number| HeldWhat::Measure(MeasureId(number)))
        .or_else(|| find_symptom(model, name).map(HeldWhat::Symptom))
        .or_else(|| check().map(|number| HeldWhat::Check(CheckId(number))))
}
