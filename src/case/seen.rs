//! What was looked at, found and read, place by place.

use crate::case::fields::{Notes, listed, quoted};
use crate::case::inspection::{Found, SeenAt};
use crate::case::keys::SEEN;
use crate::case::tree::{Entry, Value};
use crate::case::{found, names, photos, readings};
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
            "photos" => seen.photos = photos::at_place(notes, field),
            _ => match side {
                Some(side) => part_of_side(notes, field, side, &mut below),
                None => unknown(notes, field, &entry.key.value, ""),
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
    unknown(notes, entry, side, ", and numbered parts as in `roller 3`");
}

/// Notes a key that a place does not have; a finding or a reading was most likely meant for the key it belongs under
fn unknown(notes: &mut Notes<'_>, field: &Entry, within: &str, more: &str) {
    let word = quoted(&field.key.value);
    let message = format!("`{}` has no key `{word}`", quoted(within));
    let help = match &field.value.value {
        Value::Text(text) => {
            let key = if text.starts_with(|letter: char| letter.is_ascii_digit()) { "read" } else { "found" };
            format!("put it under `{key}`, as in `{key}: {{{word}: {}}}`", quoted(text))
        }
        Value::Blank | Value::List(_) | Value::Map(_) => format!("its keys are {}{more}", listed(&SEEN)),
    };
    let help = did_you_mean(&field.key.value, SEEN, &help);
    notes.say(Problem::new(Code::CaseUnknownKey, field.key.at, message).help(help));
}

fn found(notes: &mut Notes<'_>, entry: &Entry) -> Vec<Found> {
    if let Value::List(items) = &entry.value.value {
        let first = items.iter().find_map(|item| match &item.value {
            Value::Text(text) => Some(quoted(text)),
            Value::Blank | Value::List(_) | Value::Map(_) => None,
        });
        let name = first.unwrap_or_else(|| "a symptom".to_owned()); // else: the list has no name to show
        let help = format!("write `found: {{{name}: its grade}}`");
        notes.say_shape::<Entry>(entry, "keys of its own, not a list", &help);
        return Vec::new();
    }
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
