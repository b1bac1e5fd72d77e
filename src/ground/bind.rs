//! What a case tells of its machine, in the terms of the rules: facts, counts, size, hours on parts.
//!
//! Facts given are not evidence: they are ground away before the network is built and carry no weight in the reasons.

use super::near;
use super::sizes;
use crate::case::{self, Fitted, GivenFact, Inspection};
use crate::invariant::Hold;
use crate::machine::{Machine, Service, Turned};
use crate::model::formula::Formula;
use crate::model::{Extent, Fact, FactId, Model, Part, PartId};
use crate::place::{Place, Side};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::{Span, Spanned};
use crate::wear::Readings;
use crate::wear::estimate::{Estimate, Evaluator, Gap};
use std::collections::BTreeMap;

/// The machine that a case tells of
pub(super) fn bind(model: &Model, inspection: &Inspection, problems: &mut Problems) -> Machine {
    let given = &inspection.machine;
    let mut machine = Machine { hours: given.hours.as_ref().map(|hours| hours.value), ..Machine::default() };
    let mut places = BTreeMap::new();
    for fact in &given.facts {
        tell(model, fact, &mut machine, &mut places, problems);
    }
    counts(model, inspection, &mut machine, problems);
    if let Some(size) = &given.size {
        if model.sizes.contains_key(&size.value) {
            machine.size = Some(size.value.clone());
        } else {
            let known = model.sizes.keys().map(String::as_str);
            let listed: Vec<&str> = model.sizes.keys().map(String::as_str).collect();
            let otherwise = format!("the rules have dimensions for {}", listed.join(", "));
            problems.push(
                Problem::new(
                    Code::CaseUnknownName,
                    size.at,
                    format!("the rules have no size `{}`", size.value),
                )
                .help(did_you_mean(&size.value, known, &otherwise)),
            );
        }
    }
    sizes::bind(model, given, &mut machine, problems);
    for fitted in &inspection.parts {
        fit(model, fitted, &mut machine, problems);
    }
    derive(model, &mut machine, &places, problems);
    machine
}

/// Notes a fact given, or how many of a numbered part a side has
fn tell(
    model: &Model,
    given: &GivenFact,
    machine: &mut Machine,
    places: &mut BTreeMap<(FactId, Option<Side>), Span>,
    problems: &mut Problems,
) {
    if let Some(part) = model.row_of(&given.name.value) {
        count(model, part, given, machine, problems);
        return;
    }
    let Some(number) = model.facts.iter().position(|fact| fact.common.name == given.name.value) else {
        let facts = model.facts.iter().map(|fact| fact.common.name.as_str());
        let plurals: Vec<String> =
            model.parts.iter().filter(|part| part.numbered.is_some()).map(Part::plural).collect();
        let known: Vec<&str> = facts.chain(plurals.iter().map(String::as_str)).collect();
        let otherwise = format!("the rules know {}", known.join(", "));
        problems.push(
            Problem::new(
                Code::CaseUnknownName,
                given.name.at,
                format!("the rules know no fact `{}`", given.name.value),
            )
            .help(did_you_mean(&given.name.value, known.iter().copied(), &otherwise)),
        );
        return;
    };
    let id = FactId(number);
    let fact = &model[id];
    let Some(choice) = choice(fact, &given.value, problems) else {
        return;
    };
    for side in sides(fact, given, problems) {
        if let Some(before) = machine.facts.insert((id, side), choice)
            && before != choice
        {
            problems.push(
                Problem::new(
                    Code::CaseTwice,
                    given.value.at,
                    format!("`{}` is told twice, and differently", given.name.value),
                )
                .help("keep the one that is so"),
            );
        }
        places.insert((id, side), given.value.at);
    }
}

fn choice(fact: &Fact, value: &Spanned<String>, problems: &mut Problems) -> Option<usize> {
    let found = fact.choices.iter().position(|choice| *choice == value.value);
    if found.is_none() {
        let otherwise = format!("it is one of {}", fact.choices.join(", "));
        let known = fact.choices.iter().map(String::as_str);
        problems.push(
            Problem::new(
                Code::CaseUnknownName,
                value.at,
                format!("`{}` is no choice of `{}`", value.value, fact.common.name),
            )
            .help(did_you_mean(&value.value, known, &otherwise)),
        );
    }
    found
}

/// The sides a fact is given for
fn sides(fact: &Fact, given: &GivenFact, problems: &mut Problems) -> Vec<Option<Side>> {
    match (fact.common.extent, given.side) {
        (Extent::Machine, None) => vec![None],
        (Extent::Machine, Some(_)) => {
            problems.push(not_by_sides(given));
            Vec::new()
        }
        (_, Some(side)) => vec![Some(side)],
        (_, None) => Side::BOTH.map(Some).to_vec(),
    }
}

fn count(model: &Model, part: PartId, given: &GivenFact, machine: &mut Machine, problems: &mut Problems) {
    if given.side.is_some() {
        problems.push(not_by_sides(given));
        return;
    }
    let (least, most) = model[part].numbered.hold("a row is of a numbered part");
    match given.value.value.parse::<u32>() {
        Ok(number) if (least..=most).contains(&number) => {
            machine.counts.insert(part, number);
        }
        _ => problems.push(
            Problem::new(
                Code::CaseValue,
                given.value.at,
                format!("`{}` is no number of {} a side can have", given.value.value, given.name.value),
            )
            .help(format!("write a whole number from {least} to {most}")),
        ),
    }
}

fn not_by_sides(given: &GivenFact) -> Problem {
    let message = format!("`{}` is a fact of the whole machine", given.name.value);
    Problem::new(Code::CaseUnknownPlace, given.value.at, message).help("tell it once, without sides")
}

/// How many of each numbered part there are must be given: without it there are no places
fn counts(model: &Model, inspection: &Inspection, machine: &mut Machine, problems: &mut Problems) {
    let (facts, at) = (&inspection.machine.facts, inspection.machine.tag.at);
    for (number, part) in model.parts.iter().enumerate() {
        let id = PartId(number);
        if part.numbered.is_some() && !machine.counts.contains_key(&id) {
            let gated = part.common.gate.facts().any(|fact| machine.facts.contains_key(&(fact, None)));
            // A number that cannot be is a problem already.
            let faulty = facts.iter().any(|fact| fact.name.value == part.plural());
            if !gated && !faulty && model.blocks().any(|block| block.extent == Extent::Each(id)) {
                let plural = part.plural();
                problems.push(
                    Problem::new(
                        Code::CaseMissing,
                        at,
                        format!("it is not told how many {plural} a side has"),
                    )
                    .help(format!("add `{plural}: …` under `machine`, `facts`")),
                );
            }
        }
    }
}

/// Notes the hours of a part; later entries count where they name a narrower place
fn fit(model: &Model, fitted: &Fitted, machine: &mut Machine, problems: &mut Problems) {
    let name = &fitted.part;
    let Some(number) = model.parts.iter().position(|part| part.common.name == name.value) else {
        let known: Vec<&str> = model.parts.iter().map(|part| part.common.name.as_str()).collect();
        let otherwise = format!("the rules know {}", known.join(", "));
        problems.push(
            Problem::new(Code::CaseUnknownName, name.at, format!("the rules know no part `{}`", name.value))
                .help(did_you_mean(&name.value, known.iter().copied(), &otherwise)),
        );
        return;
    };
    let id = PartId(number);
    let all = machine.places(model, model.places_of(id));
    let chosen: Vec<Place> = match &fitted.at {
        None => all,
        Some(at) => {
            let within = |place: &&Place| {
                **place == at.value || (matches!(at.value, Place::Side(_)) && place.side() == at.value.side())
            };
            let chosen: Vec<Place> = all.iter().filter(within).cloned().collect();
            if chosen.is_empty() {
                problems.push(no_such_place(model, &machine.counts, at));
            }
            chosen
        }
    };
    let Some(hours) = machine.hours else {
        let on = fitted.on.as_ref().map(|on| on.at);
        if let Some(at) = on.or(fitted.turned.as_ref().map(|turned| turned.at)) {
            problems.push(
                Problem::new(Code::CaseMissing, at, "the hours on the meter are not told")
                    .help("add `hours: …` under `machine`: hours on a part are counted from it"),
            );
        }
        return;
    };
    for place in chosen {
        let service = Service {
            hours: fitted.on.as_ref().map(|on| hours - on.value),
            turned: match fitted.turned.as_ref().map(|turned| turned.value) {
                None => Turned::Unknown,
                Some(case::Turned::Never) => Turned::Never,
                Some(case::Turned::At(at)) => Turned::Since(hours - at),
            },
        };
        machine.service.insert((id, place), service);
    }
}

/// Says that a machine has no such place
pub(super) fn no_such_place(model: &Model, counts: &BTreeMap<PartId, u32>, at: &Spanned<Place>) -> Problem {
    let help = match &at.value {
        Place::Numbered { part, .. } => {
            let known = model.parts.iter().position(|known| known.common.name == *part);
            match known.map(PartId).and_then(|id| Some((id, counts.get(&id)?))) {
                Some((id, count)) => format!("a side of it has {count} {}", model[id].plural()),
                None => "name a numbered part of the rules".to_owned(),
            }
        }
        Place::Machine | Place::Side(_) => "name a place that it has".to_owned(),
    };
    Problem::new(Code::CaseUnknownPlace, at.at, format!("this machine has no `{}`", at.value)).help(help)
}

/// Reckons facts from hours and turns; what is given stands, but a turn cannot be denied
fn derive(
    model: &Model,
    machine: &mut Machine,
    given: &BTreeMap<(FactId, Option<Side>), Span>,
    problems: &mut Problems,
) {
    for &id in &model.fact_order {
        let Some((formula, _)) = &model[id].derived else {
            continue;
        };
        for place in machine.places(model, model[id].common.extent) {
            let Ok(Some(choice)) = reckoned(model, machine, id, &place) else {
                continue;
            };
            let key = Machine::key(model, id, &place);
            match (machine.facts.get(&key), given.get(&key)) {
                (Some(before), Some(&at)) if *before != choice && matches!(formula, Formula::Turn(_)) => {
                    let name = &model[id].common.name;
                    problems.push(
                        Problem::new(
                            Code::CaseTwice,
                            at,
                            format!("`{name}` is told otherwise than by the list of parts"),
                        )
                        .help("put the fact and `turned` in the list of parts in line"),
                    );
                }
                (None, _) => {
                    machine.facts.insert(key, choice);
                    machine.near.extend(near_bound(model, machine, id, &place).map(|chances| (key, chances)));
                }
                _ => {}
            }
        }
    }
}

/// The choice of a fact that the known hours and turns of a machine give at a place; none when it is not reckoned from
/// them, or not enough of them is known
///
/// # Errors
/// The facts not given on which it hangs what they give.
pub fn reckoned(
    model: &Model,
    machine: &Machine,
    fact: FactId,
    place: &Place,
) -> Result<Option<usize>, Vec<(FactId, Option<Side>)>> {
    let Some((formula, bounds)) = &model[fact].derived else {
        return Ok(None);
    };
    match figure(model, machine, formula, place) {
        Ok(estimate) => Ok(bounds.grade(estimate.value)),
        Err(Gap::Hangs(facts)) => Err(facts),
        Err(_) => Ok(None),
    }
}

/// Chances of the choices of a fact reckoned near a bound; none where one is certain
fn near_bound(model: &Model, machine: &Machine, fact: FactId, place: &Place) -> Option<Vec<f64>> {
    let (formula, bounds) = model[fact].derived.as_ref()?;
    let estimate = figure(model, machine, formula, place).ok()?;
    near::chances(bounds, estimate.value, model[fact].choices.len())
}

fn figure(model: &Model, machine: &Machine, formula: &Formula, place: &Place) -> Result<Estimate, Gap> {
    let readings = Readings::new();
    Evaluator { model, machine, readings: &readings }.value(formula, place)
}
