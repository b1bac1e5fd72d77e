//! Pictures that a case names: under the place they were taken at, or at its outermost level with the place in the key.

use crate::case::fields::{Notes, quoted};
use crate::case::inspection::Photo;
use crate::case::names;
use crate::case::tree::{Entry, Value};
use crate::place::Place;
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::{self, Spanned};

/// What stands under `photos` of a place: names, each with a file or a list of them
pub(super) fn at_place(notes: &mut Notes<'_>, entry: &Entry) -> Vec<(Spanned<String>, Spanned<String>)> {
    let mut all = Vec::new();
    for field in notes.map(entry) {
        all.extend(files(notes, field).into_iter().map(|file| (field.key.clone(), file)));
    }
    all
}

/// What stands under `photos` of the whole case: the same with a place beside each name, as in `left idler`
pub(super) fn outermost(notes: &mut Notes<'_>, entry: &Entry) -> Vec<Photo> {
    let mut all = Vec::new();
    for field in notes.map(entry) {
        let files = files(notes, field);
        if let Some((place, name)) = name_and_place(notes, &field.key) {
            let photo = |file| Photo { place: place.clone(), name: name.clone(), file };
            all.extend(files.into_iter().map(photo));
        }
    }
    all
}

/// A file, or a list of files
fn files(notes: &mut Notes<'_>, entry: &Entry) -> Vec<Spanned<String>> {
    match &entry.value.value {
        Value::List(_) => {
            let files = notes.texts(entry);
            notes.once(files, "the same picture is named")
        }
        Value::Map(_) => {
            let help = format!("write `{}: picture.jpg`, or a list of pictures", quoted(&entry.key.value));
            notes.say_shape(entry, "a picture's file or a list of them, not keys of its own", &help).to_vec()
        }
        Value::Text(_) | Value::Blank => notes.text(entry).into_iter().collect(),
    }
}

/// `left idler`, `left roller 3` for the roller itself, `left roller 3 oil_streak`, or the place behind the name as
/// elsewhere; a name alone is one of the whole machine
fn name_and_place(notes: &mut Notes<'_>, key: &Spanned<String>) -> Option<(Spanned<Place>, Spanned<String>)> {
    let words = names::words(&key.value);
    let numbered = |at: usize| words.get(at).is_some_and(|(_, word)| word.starts_with(is_digit));
    let spanned = |notes: &Notes<'_>, from: usize, to: usize| {
        let start = words.get(from).map_or(0, |(start, _)| *start);
        let end = words.get(to - 1).map_or(0, |(start, word)| start + word.len());
        Spanned::new(source::piece(&key.value, start..end).to_owned(), notes.piece(key, start, end))
    };
    let ((name_from, name_to), place) = match words.as_slice() {
        [(_, first), ..] if names::begins_place(first) => match words.len() {
            2 => ((1, 2), Some((0, 1))),
            3 if numbered(2) => ((1, 2), Some((0, 3))),
            4 if numbered(2) => ((3, 4), Some((0, 3))),
            _ => return unclear(notes, key),
        },
        [_] => ((0, 1), None),
        [_, (_, second), ..] if names::begins_place(second) => ((0, 1), Some((1, words.len()))),
        _ => return unclear(notes, key),
    };
    let name = spanned(notes, name_from, name_to);
    let place = match place {
        Some((from, to)) => names::place(notes, &spanned(notes, from, to), None)?,
        None => Spanned::new(Place::Machine, key.at),
    };
    Some((place, name))
}

fn is_digit(letter: char) -> bool {
    letter.is_ascii_digit()
}

fn unclear<T>(notes: &mut Notes<'_>, key: &Spanned<String>) -> Option<T> {
    let message = format!("`{}` does not say what a picture shows, and where", quoted(&key.value));
    let help = "write the place and what is shown there, as in `left idler` or `left roller 3 oil_streak`";
    notes.say(Problem::new(Code::CaseValue, key.at, message).help(help));
    None
}
