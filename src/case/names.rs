//! Names with places behind them, as in `bushing_thin left`, and the places themselves.

use crate::case::fields::{Notes, quoted};
use crate::case::inspection::{NameAt, Truth};
use crate::case::keys;
use crate::case::tree::Entry;
use crate::place::{Place, Side};
use crate::problem::code::Code;
use crate::problem::{Problem, did_you_mean};
use crate::source::{self, Spanned};
use std::collections::BTreeMap;

/// The list of names under a key
pub(super) fn names(notes: &mut Notes<'_>, entry: &Entry) -> Vec<NameAt> {
    let texts = notes.texts(entry);
    texts.iter().filter_map(|text| name(notes, text)).collect()
}

/// What stands under `truth`; nothing may be both there and not there
pub(super) fn truth(notes: &mut Notes<'_>, entry: &Entry) -> Truth {
    let mut truth = Truth::default();
    for field in notes.map(entry) {
        match field.key.value.as_str() {
            "present" => {
                truth.present = names(notes, field);
                truth.sound = truth.present.is_empty().then_some(field.key.at);
            }
            "absent" => truth.absent = names(notes, field),
            _ => notes.say_unknown_key(&field.key, "truth", &keys::TRUTH),
        }
    }
    let mut places = BTreeMap::new();
    for name in truth.present.iter().chain(&truth.absent) {
        let grade = name.grade.as_ref().map(|grade| &grade.value);
        let place = name.place.as_ref().map(|place| &place.value);
        if let Some(&first) = places.get(&(&name.name.value, grade, place)) {
            let what = format!("`{}` is named", quoted(&name.name.value));
            notes.say_twice(Code::CaseTwice, name.at, first, &what);
        } else {
            places.insert((&name.name.value, grade, place), name.at);
        }
    }
    truth
}

/// A name, with its grade and its place where they are given
pub(super) fn name(notes: &mut Notes<'_>, text: &Spanned<String>) -> Option<NameAt> {
    let words = words(&text.value);
    let (&(start, name), rest) = words.split_first()?;
    let spanned = |notes: &Notes<'_>, (start, word): (usize, &str)| {
        Spanned::new(word.to_owned(), notes.piece(text, start, start + word.len()))
    };
    let (grade, rest) = match rest.split_first() {
        Some((&grade, rest)) if !begins_place(grade.1) => (Some(grade), rest),
        _ => (None, rest),
    };
    let place = match rest.first() {
        None => None,
        Some(&(from, _)) => {
            let tail = source::piece(&text.value, from..);
            let at = notes.piece(text, from, text.value.len());
            Some(place(notes, &Spanned::new(tail.to_owned(), at), None)?)
        }
    };
    Some(NameAt {
        name: spanned(notes, (start, name)),
        grade: grade.map(|grade| spanned(notes, grade)),
        place,
        at: text.at,
    })
}

/// A place: `machine`, `left`, `left roller 3`, and `left 3` where the part is known
pub(super) fn place(
    notes: &mut Notes<'_>,
    text: &Spanned<String>,
    part: Option<&str>,
) -> Option<Spanned<Place>> {
    let words: Vec<&str> = text.value.split_whitespace().collect();
    let found = match (words.as_slice(), part) {
        (["machine"], _) => Some(Ok(Place::Machine)),
        ([side], _) => Side::from_word(side).map(|side| Ok(Place::Side(side))),
        ([side, number], Some(part)) => Side::from_word(side).map(|side| numbered(side, part, number)),
        ([side, part, number], _) => Side::from_word(side).map(|side| numbered(side, part, number)),
        _ => None,
    };
    match found {
        Some(Ok(place)) => Some(Spanned::new(place, text.at)),
        Some(Err(number)) => {
            say_no_number(notes, text, &number);
            None
        }
        None => {
            let message = format!("`{}` is no place on a machine", quoted(&text.value));
            let known = ["machine", "left", "right"];
            let otherwise = "a place is `machine`, `left`, `right`, or as in `left roller 3`";
            let help = did_you_mean(&text.value, known, otherwise);
            notes.say(Problem::new(Code::CaseUnknownPlace, text.at, message).help(help));
            None
        }
    }
}

/// True for a text made as the name and number of a part are, as in `roller 3`
pub(super) fn is_numbered(text: &str) -> bool {
    let words: Vec<&str> = text.split_whitespace().collect();
    matches!(words.as_slice(), [_, number] if number.starts_with(|letter: char| letter.is_ascii_digit()))
}

fn numbered(side: Side, part: &str, number: &str) -> Result<Place, String> {
    let digits = number.bytes().all(|byte| byte.is_ascii_digit());
    match number.parse() {
        Ok(number) if digits && number > 0 => Ok(Place::Numbered { side, part: part.to_owned(), number }),
        _ => Err(number.to_owned()),
    }
}

fn say_no_number(notes: &mut Notes<'_>, text: &Spanned<String>, number: &str) {
    let message = format!("`{}` is no number in a row of parts", quoted(number));
    let help = "count from 1 at the front, as in `roller 3`";
    notes.say(Problem::new(Code::CaseUnknownPlace, text.at, message).help(help));
}

/// True for a word that a place begins with
pub(super) fn begins_place(word: &str) -> bool {
    word == "machine" || Side::from_word(word).is_some()
}

/// The words of a text, each with the byte it starts at
pub(super) fn words(text: &str) -> Vec<(usize, &str)> {
    let mut words = Vec::new();
    let mut at = 0;
    for word in text.split(char::is_whitespace) {
        if !word.is_empty() {
            words.push((at, word));
        }
        let gap = text.get(at + word.len()..).and_then(|rest| rest.chars().next());
        at += word.len() + gap.map_or(0, char::len_utf8);
    }
    words
}
