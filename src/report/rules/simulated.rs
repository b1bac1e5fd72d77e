//! A machine drawn from the rules, as the case file that tells of it.

use crate::case::keys;
use crate::case::write::{self, Fact, Machine, Part, Seen, Truth, Visit, Written};
use crate::invariant::Hold;
use crate::machine::Turned;
use crate::model::{CauseId, Extent, Forms, Model};
use crate::place::Place;
use crate::reason::simulate::Drawn;
use std::collections::BTreeMap;

/// Who is said to have looked
const BY: &str = "nobody: drawn from the rules, of an invented machine";

/// The case file of machine `number` of a seed
pub fn case(model: &Model, drawn: &Drawn, seed: u64, number: u64) -> Written {
    let truth = Truth {
        present: drawn.present.iter().map(|(id, place, form)| present(model, *id, place, *form)).collect(),
        absent: drawn.absent.iter().map(|(id, place)| named(&model[*id].common.name, place)).collect(),
    };
    Written {
        case: format!("machine {number} drawn from the rules with seed {seed}, invented"),
        machine: machine(model, drawn, seed, number),
        parts: parts(model, drawn),
        visit: Visit {
            by: BY.to_owned(),
            state: drawn.states.iter().map(|state| model[*state].common.name.clone()).collect(),
        },
        seen: seen(model, drawn),
        truth,
    }
}

fn machine(model: &Model, drawn: &Drawn, seed: u64, number: u64) -> Machine {
    let counts = drawn.machine.counts.iter();
    let mut facts: BTreeMap<String, Fact> =
        counts.map(|(part, count)| (model[*part].plural(), Fact::Count(*count))).collect();
    for own in &drawn.facts {
        let fact = &model[own.fact];
        let choice = fact.choices.get(own.choice).cloned().hold("what is drawn is one of the choices");
        let name = fact.common.name.clone();
        match own.side {
            None => {
                facts.insert(name, Fact::Choice(choice));
            }
            Some(side) => {
                if let Fact::Sides(sides) = facts.entry(name).or_insert_with(|| Fact::Sides(BTreeMap::new()))
                {
                    sides.insert(side.word(), choice);
                }
            }
        }
    }
    Machine {
        tag: format!("D{seed}-{number}"),
        hours: drawn.machine.hours,
        size: drawn.machine.size.clone(),
        facts,
    }
}

fn parts(model: &Model, drawn: &Drawn) -> Vec<Part> {
    let parts = drawn.parts.iter();
    parts
        .map(|own| Part {
            part: model[own.part].common.name.clone(),
            at: own.side.map(|side| side.word().to_owned()),
            on: own.on,
            turned: match own.turned {
                Turned::Unknown => None,
                Turned::Never => Some(write::Turned::Never(keys::NEVER)),
                Turned::Since(since) => drawn.machine.hours.map(|meter| write::Turned::At(meter - since)),
            },
        })
        .collect()
}

fn seen(model: &Model, drawn: &Drawn) -> BTreeMap<String, Seen> {
    let mut seen: BTreeMap<String, Seen> = BTreeMap::new();
    for (check, place) in &drawn.looked {
        at(&mut seen, place).looked.push(model[*check].common.name.clone());
    }
    for (symptom, place, grade) in &drawn.found {
        let effect = &model[*symptom].effect;
        let grade = effect.grades.name(*grade).to_owned();
        at(&mut seen, place).found.insert(effect.common.name.clone(), grade);
    }
    seen
}

/// The entry of a place, made when it is not there yet
fn at<'s>(seen: &'s mut BTreeMap<String, Seen>, place: &Place) -> &'s mut Seen {
    match place {
        Place::Machine | Place::Side(_) => seen.entry(place.to_string()).or_default(),
        Place::Numbered { side, part, number } => {
            let side = seen.entry(side.word().to_owned()).or_default();
            side.below.entry(format!("{part} {number}")).or_default()
        }
    }
}

/// A cause that is there, with its form where it has several
fn present(model: &Model, id: CauseId, place: &Place, state: usize) -> String {
    let cause = &model[id];
    let form = cause.form(state).checked_sub(1).and_then(|form| cause.forms.names().into_iter().nth(form));
    match (&cause.forms, form) {
        (Forms::Sides, Some(side)) if cause.common.extent == Extent::Machine => {
            format!("{} {side}", cause.common.name)
        }
        (Forms::Named(_), Some(form)) => named(&format!("{} {form}", cause.common.name), place),
        _ => named(&cause.common.name, place),
    }
}

/// A name at a place
fn named(name: &str, place: &Place) -> String {
    match place {
        Place::Machine => name.to_owned(),
        place => format!("{name} {place}"),
    }
}
