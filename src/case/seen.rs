//! What was looked at, found and read, place by place.

use crate::case::fields::{Notes, listed, quoted};
use crate::case::keys::SEEN;
use crate::case::tree::Entry;
use crate::case::{Found, SeenAt, found, names, readings};
use crate::place::{Place, Side};
use crate::problem::code::Code;
use crate::problem::{Problem, did_you_mean};
use crate::source::{Span, Spanned};
use std::collections::BTreeMap;

/// What stands under `seen`: one entry a place, in the order of the file
pub(super) fn seen(notes: &mut Notes<'_>, entry: &Entry) -> Vec<SeenAt> {
    let mut all = Vec::new();
    for field in notes.map(entry) {
        if let Some(place) = names::place(notes, &field.key, None) {
            at_place(notes, field, place, &mut all);
        }
    }
    let mut places = BTreeMap::new();
    for seen in &all {
        match places.get(&seen.place.value) {
            Some(&first) => {
                let what = format!("`{}` is told of", seen.place.value);
                notes.say_twice(Code::CaseTwice, seen.place.at, first, &what);
            }
            None => {
                places.insert(seen.place.value.clone(), seen.place.at);
            }
        }
    }
    all
}

/// What was seen at one place, then what was seen at the numbered parts below it
fn at_place(notes: &mut Notes<'_>, entry: &Entry, place: Spanned<Place>, all: &mut Vec<SeenAt>) {
    let side = match &place.value {
        Place::Side(side) => Some(*side),
        Place::Machine | Place::Numbered { .. } => None,
    };
    let mut seen = SeenAt {
        place,
        looked: Vec::new(),
        found: Vec::new(),
        read: Vec::new(),
        not_possible: Vec::new(),
        photos: Vec::new(),
    };
    let mut below = Vec::new();
    for field in notes.map(entry) {
        match field.key.value.as_str() {
            "looked" => seen.looked = notes.texts(field),
            "found" => seen.found = found(notes, field),
            "read" => seen.read = readings::readings(notes, field),
            "not_possible" => {
                let reasons = pairs(notes, field).into_iter();
                seen.not_possible = reasons.map(|(name, why)| (name, why.value)).collect();
            }
            "photos" => seen.photos = pairs(notes, field),
            _ => match side {
                Some(side) => part_of_side(notes, field, side, &mut below),
                None => {
                    let within = quoted(&entry.key.value);
                    notes.say_unknown_key(&field.key, &within, &SEEN);
                }
            },
        }
    }
    both(notes, &seen);
    all.push(seen);
    all.append(&mut below);
}

/// A numbered part below a side
fn part_of_side(notes: &mut Notes<'_>, entry: &Entry, side: Side, below: &mut Vec<SeenAt>) {
    let (key, side) = (&entry.key, side.word());
    if names::is_numbered(&key.value) {
        let text = Spanned::new(format!("{side} {}", key.value), key.at);
        if let Some(place) = names::place(notes, &text, None) {
            at_place(notes, entry, place, below);
        }
        return;
    }
    let message = format!("`{side}` has no key `{}`", quoted(&key.value));
    let keys = listed(&SEEN);
    let all = format!("its keys are {keys}, and numbered parts as in `roller 3`");
    let help = did_you_mean(&key.value, SEEN, &all);
    notes.say(Problem::new(Code::CaseUnknownKey, key.at, message).help(help));
}

fn found(notes: &mut Notes<'_>, entry: &Entry) -> Vec<Found> {
    notes
        .map(entry)
        .iter()
        .filter_map(|field| {
            let seen = found::seen(notes, field)?;
            let symptom = field.key.clone();
            Some(Found { symptom, seen })
        })
        .collect()
}

/// Names with a text each
fn pairs(notes: &mut Notes<'_>, entry: &Entry) -> Vec<(Spanned<String>, Spanned<String>)> {
    notes.map(entry).iter().filter_map(|field| Some((field.key.clone(), notes.text(field)?))).collect()
}

/// Notes what was found or read and was not possible all the same
fn both(notes: &mut Notes<'_>, seen: &SeenAt) {
    let found = seen.found.iter().map(|found| &found.symptom);
    let read = seen.read.iter().map(|read| &read.measure);
    let places: BTreeMap<&str, Span> = found.chain(read).map(|name| (name.value.as_str(), name.at)).collect();
    for (name, _) in &seen.not_possible {
        if let Some(&at) = places.get(name.value.as_str()) {
            let message = format!("`{}` was not possible and is told", quoted(&name.value));
            notes.say(
                Problem::new(Code::CaseTwice, name.at, message)
                    .also(at, "told here")
                    .help("keep one of them"),
            );
        }
    }
}
