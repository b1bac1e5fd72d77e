//! What was looked at, found and read, as likelihoods on the network's nodes.
//!
//! Normal looks must be noted: a normal grade never speaks for a cause; it speaks against its rivals. Without it, whatever was
//! seen is blamed on everything that could have made it.

use super::bind::no_such_place;
use super::grounded::Ground;
use super::likelihood::likelihood;
use super::names::find_symptom;
use super::reading;
use super::record::{Held, HeldWhat, How, Observation, Origin};
use super::stray::{fits, misplaced, state_wanted, unknown};
use crate::case::{Found, Inspection, Seen, SeenAt};
use crate::invariant::Hold;
use crate::machine::{Answer, Machine, Supposed};
use crate::model::test::{Term, Test};
use crate::model::{CheckId, Model, PartId, StateId, Symptom, Threshold};
use crate::place::{Place, Side, within};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::{Span, Spanned};

/// Notes everything that an inspection saw and read
pub(super) fn find(model: &Model, inspection: &Inspection, ground: &mut Ground, problems: &mut Problems) {
    states(model, inspection, ground, problems);
    let mut looked: Vec<(CheckId, Place, Span)> = Vec::new();
    for seen in &inspection.seen {
        if !is_place(model, ground, &seen.place.value) {
            problems.push(no_such_place(model, &ground.machine.counts, &seen.place));
            continue;
        }
        for check in &seen.looked {
            looked.extend(look(model, ground, check, &seen.place.value, problems));
        }
        not_possible(model, seen, ground, problems);
    }
    for (check, place, _) in &looked {
        ground.looked.insert((*check, place.clone()));
        ground.states.extend(model[*check].makes);
    }
    for seen in &inspection.seen {
        if is_place(model, ground, &seen.place.value) {
            for found in &seen.found {
                note(model, found, &seen.place.value, ground, problems);
            }
        }
    }
    pictures(model, inspection, ground, problems);
    reading::read(model, inspection, ground, problems);
    for (check, place, at) in &looked {
        normal(model, *check, place, *at, ground);
    }
    give_way(model, ground);
}

fn is_place(model: &Model, ground: &Ground, place: &Place) -> bool {
    match place {
        Place::Machine | Place::Side(_) => true,
        Place::Numbered { part, number, .. } => model.parts.iter().enumerate().any(|(id, known)| {
            let count = ground.machine.counts.get(&PartId(id));
            known.common.name == *part && count.is_some_and(|count| (1..=*count).contains(number))
        }),
    }
}

/// Holds what pictures are named after, and where they are said to be taken, against rules and machine
fn pictures(model: &Model, inspection: &Inspection, ground: &Ground, problems: &mut Problems) {
    for place in inspection.photos.iter().map(|photo| &photo.place) {
        if !is_place(model, ground, &place.value) {
            problems.push(no_such_place(model, &ground.machine.counts, place));
        }
    }
    for name in inspection.pictures().map(|photo| photo.name) {
        if model.pictured().all(|common| common.name != name.value) {
            let known = model.pictured().map(|common| common.name.as_str());
            problems.push(unknown("symptom, measure or part", &name, known));
        }
    }
}

fn states(model: &Model, inspection: &Inspection, ground: &mut Ground, problems: &mut Problems) {
    for state in &inspection.visit.state {
        match model.states.iter().position(|known| known.common.name == state.value) {
            Some(number) => {
                ground.states.insert(StateId(number));
            }
            None => {
                let known = model.states.iter().map(|known| known.common.name.as_str());
                problems.push(unknown("state", state, known));
            }
        }
    }
}

/// A check that was done, at each of its places within the place it is noted at
fn look(
    model: &Model,
    ground: &Ground,
    name: &Spanned<String>,
    place: &Place,
    problems: &mut Problems,
) -> Vec<(CheckId, Place, Span)> {
    let Some(number) = model.checks.iter().position(|check| check.common.name == name.value) else {
        let known = model.checks.iter().map(|check| check.common.name.as_str());
        problems.push(unknown("check", name, known));
        return Vec::new();
    };
    let id = CheckId(number);
    let common = &model[id].common;
    let places: Vec<Place> =
        ground.machine.places(model, common.extent).into_iter().filter(|own| within(own, place)).collect();
    if places.is_empty() {
        problems.push(
            Problem::new(
                Code::CaseUnknownPlace,
                name.at,
                format!("`{}` is a check of the whole machine", name.value),
            )
            .help("note it under `machine`"),
        );
    }
    let here = |own: &Place| ground.machine.holds(model, &common.gate, own, &Supposed::new()) != Answer::No;
    if !places.is_empty() && !places.iter().any(here) {
        problems.push(
            Problem::new(
                Code::CaseGatedOff,
                name.at,
                format!("`{}` cannot be done on this machine", name.value),
            )
            .help(ruled_out(model, ground, &common.gate, place)),
        );
    }
    places.into_iter().filter(here).map(|own| (id, own, name.at)).collect()
}

/// What to do about something that this machine's facts rule out, the first such fact by its name
fn ruled_out(model: &Model, ground: &Ground, gate: &Test, place: &Place) -> String {
    let fact = gate.terms.iter().find_map(|term| {
        let Term::Fact { fact, choices } = term else { return None };
        let choice = ground.machine.facts.get(&Machine::key(model, *fact, place))?;
        let name = &model[*fact].common.name;
        let word = model[*fact].choices.get(*choice)?;
        (!choices.contains(choice)).then(|| format!("`{name}: {word}`"))
    });
    match fact {
        Some(fact) => format!("{fact}, told under `machine` or by the list of `parts`, rules it out: correct it, or take this out"),
        None => "the facts told under `machine` or the list of `parts` rule it out: correct them, or take this out".to_owned(),
    }
}

fn not_possible(model: &Model, seen: &SeenAt, ground: &mut Ground, problems: &mut Problems) {
    for (name, _) in &seen.not_possible {
        let symptom = find_symptom(model, &name.value);
        if let Some(id) = symptom {
            let places = ground.machine.places(model, model[id].effect.common.extent);
            let inside = places.into_iter().filter(|place| within(place, &seen.place.value));
            ground.not_possible.extend(inside.map(|place| (id, place)));
        } else if !model.blocks().any(|block| block.name == name.value) {
            let known = model.blocks().map(|block| block.name.as_str());
            problems.push(unknown("symptom, measure or check", name, known));
        }
    }
}

/// A symptom seen and noted
fn note(model: &Model, found: &Found, place: &Place, ground: &mut Ground, problems: &mut Problems) {
    let Some(id) = find_symptom(model, &found.symptom.value) else {
        let known = model.symptoms.iter().map(|symptom| symptom.effect.common.name.as_str());
        problems.push(unknown("symptom", &found.symptom, known));
        return;
    };
    let symptom = &model[id];
    if !fits(model, symptom.effect.common.extent, place) {
        problems.push(misplaced(model, &found.symptom, symptom.effect.common.extent));
        return;
    }
    let Some((grade, sure)) = seen_grade(symptom, found, problems) else {
        return;
    };
    let Some(node) = ground.node(&Origin::Symptom(id, place.clone())) else {
        problems.push(
            Problem::new(
                Code::CaseGatedOff,
                found.symptom.at,
                format!("`{}` cannot be seen on this machine", found.symptom.value),
            )
            .help(ruled_out(model, ground, &symptom.effect.common.gate, place)),
        );
        return;
    };
    let grades = &symptom.effect.grades;
    let others = grades.names.len().saturating_sub(1).max(1) as f64;
    let of_grade = |other: usize| if other == grade { sure } else { (1.0 - sure) / others };
    ground.observations.push(Observation {
        symptom: id,
        place: place.clone(),
        node,
        grade,
        likelihood: likelihood(symptom, of_grade),
        how: How::Seen { sure },
        at: found.symptom.at,
    });
}

/// The grade that was seen, and how surely
fn seen_grade(symptom: &Symptom, found: &Found, problems: &mut Problems) -> Option<(usize, f64)> {
    match &found.seen {
        Seen::Grade(word) => Some((grade(symptom, word, problems)?, 1.0)),
        Seen::Unsure { grade: word, sure } => Some((grade(symptom, word, problems)?, sure.value)),
        Seen::Counted { noun, which, of, at } => {
            if symptom.counts.is_empty() {
                let name = &symptom.effect.common.name;
                problems.push(
                    Problem::new(Code::CaseShape, *at, format!("`{name}` is not told by numbers"))
                        .help(format!("write one of {}", symptom.effect.grades.names.join(", "))),
                );
                return None;
            }
            if !symptom.counted.contains(&noun.value) {
                problems.push(counted_otherwise(symptom, noun));
                return None;
            }
            Some((counted(symptom, which.len(), of.value), 1.0))
        }
    }
}

/// Says of what a symptom counts instead
fn counted_otherwise(symptom: &Symptom, noun: &Spanned<String>) -> Problem {
    let message = format!("`{}` counts no `{}`", symptom.effect.common.name, noun.value);
    let known: Vec<&str> = symptom.counted.iter().map(String::as_str).collect();
    let otherwise = format!("it counts {}", known.join(" or "));
    Problem::new(Code::CaseUnknownKey, noun.at, message).help(did_you_mean(&noun.value, known, &otherwise))
}

fn grade(symptom: &Symptom, word: &Spanned<String>, problems: &mut Problems) -> Option<usize> {
    let grades = &symptom.effect.grades;
    let found = grades.find(&word.value);
    if found.is_none() {
        let otherwise = format!("it is one of {}", grades.names.join(", "));
        let known = grades.names.iter().map(String::as_str);
        problems.push(
            Problem::new(
                Code::CaseUnknownName,
                word.at,
                format!("`{}` has no grade `{}`", symptom.effect.common.name, word.value),
            )
            .help(did_you_mean(&word.value, known, &otherwise)),
        );
    }
    found
}

/// The last grade whose number or share is reached; normal when none is
fn counted(symptom: &Symptom, number: usize, of: u32) -> usize {
    let number = number as f64;
    let mut reached = symptom.counts.iter().filter(|counted| {
        let (figure, from) = match counted.from {
            Threshold::Number(from) => (number, from),
            Threshold::Share(from) => (number / f64::from(of), from),
        };
        if counted.over { figure > from } else { figure >= from }
    });
    reached.next_back().map_or(0, |counted| counted.grade)
}

/// What a check shows and nobody noted was normal, if the machine was in the state that the check asks for
fn normal(model: &Model, check: CheckId, place: &Place, at: Span, ground: &mut Ground) {
    let block = &model[check];
    if let Some(state) = block.needs_state
        && !ground.states.contains(&state)
    {
        ground.held.push(Held::new(model, HeldWhat::Check(check), place, state_wanted(model, state)));
        return;
    }
    for &symptom in &block.shows {
        let by_eye = model.by_eye(check, symptom);
        for own in ground.machine.places(model, model[symptom].effect.common.extent) {
            let free = within(&own, place)
                && !ground.is_seen(symptom, &own)
                && !ground.not_possible.contains(&(symptom, own.clone()));
            if let Some(node) = ground.node(&Origin::Symptom(symptom, own.clone()))
                && by_eye
                && free
            {
                ground.observations.push(Observation {
                    symptom,
                    place: own,
                    node,
                    grade: 0,
                    likelihood: likelihood(&model[symptom], |grade| f64::from(u8::from(grade == 0))),
                    how: How::Normal(check),
                    at,
                });
            }
        }
    }
}

/// Drops what gives way to another symptom with a finding of its own
fn give_way(model: &Model, ground: &mut Ground) {
    let dropped: Vec<bool> = ground
        .observations
        .iter()
        .map(|own| {
            let others = &model[own.symptom].gives_way;
            others.iter().any(|&other| ground.is_seen(other, &own.place))
        })
        .collect();
    let mut dropped = dropped.into_iter();
    ground.observations.retain(|_| !dropped.next().hold("there is one for each"));
    ground.observations.sort_by_key(|own| {
        let side = own.place.side().map_or(0, |side| if side == Side::Left { 1 } else { 2 });
        (side, own.symptom, own.place.clone())
    });
}
