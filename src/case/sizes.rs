//! Sizes of the machine's own: new, and where it is worn out. They stand in the case, or in a file that many cases name.

use crate::case::fields::{Notes, quoted};
use crate::case::inspection::{GivenLimit, GivenSize};
use crate::case::keys;
use crate::case::readings::quantity;
use crate::case::tree::{self, Entry, Value};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{SourceId, Sources, Spanned};

/// What to do about a file that has not begun
const BEGIN: &str = "begin with a measure and its sizes: `link_height: {new: 105.5 mm, limit: 96.5 mm}`";

/// Reads the text of a file of sizes: all that is wrong with it is told at once, and what could be read is given back
pub fn read(sources: &Sources, id: SourceId) -> (Vec<GivenSize>, Problems) {
    let mut notes = Notes::new(sources.text(id), sources.whole(id));
    let sizes = match tree::grow(&mut notes, BEGIN) {
        Ok(entries) => all(&mut notes, &entries),
        Err(stop) => {
            notes.say(stop);
            Vec::new()
        }
    };
    (sizes, notes.into_problems())
}

/// What stands under `sizes`
pub(super) fn under(notes: &mut Notes<'_>, entry: &Entry) -> Vec<GivenSize> {
    let entries = notes.map(entry);
    all(notes, entries)
}

fn all(notes: &mut Notes<'_>, entries: &[Entry]) -> Vec<GivenSize> {
    entries.iter().map(|entry| one(notes, entry)).collect()
}

/// The sizes of one measure: its new size alone, or `new` and `limit`
fn one(notes: &mut Notes<'_>, entry: &Entry) -> GivenSize {
    let measure = entry.key.clone();
    let Value::Map(fields) = &entry.value.value else {
        return GivenSize { new: quantity(notes, &entry.value, &measure), measure, limits: Vec::new() };
    };
    let (mut new, mut limits) = (None, Vec::new());
    let mut has_new = false;
    for field in fields {
        match field.key.value.as_str() {
            "new" => {
                has_new = true;
                new = quantity(notes, &field.value, &field.key);
            }
            "limit" => limits = limit(notes, field),
            _ => notes.say_unknown_key(&field.key, &quoted(&measure.value), &keys::SIZES),
        }
    }
    if !has_new {
        let message = format!("`{}` has no new size", quoted(&measure.value));
        notes.say_missing(measure.at, &message, "add `new:` with the size of a new part");
    }
    GivenSize { measure, new, limits }
}

/// One size at which it is worn out, or one for each of several grounds or builds
fn limit(notes: &mut Notes<'_>, entry: &Entry) -> Vec<GivenLimit> {
    let Value::Map(fields) = &entry.value.value else {
        let size = quantity(notes, &entry.value, &entry.key);
        return size.map(|size| GivenLimit { holds: None, size }).into_iter().collect();
    };
    let mut limits = Vec::new();
    let mut last: Option<&Spanned<String>> = None;
    for field in fields {
        if let Some(last) = last {
            let message = format!("nothing after `{}` ever holds", keys::ELSE);
            notes.say(
                Problem::new(Code::CaseShape, field.key.at, message)
                    .also(last.at, "this holds wherever no line above it does")
                    .help(format!("write `{}` last", keys::ELSE)),
            );
        }
        let otherwise = field.key.value == keys::ELSE;
        last = last.or(otherwise.then_some(&field.key));
        let holds = (!otherwise).then(|| field.key.clone());
        let size = quantity(notes, &field.value, &field.key);
        limits.extend(size.map(|size| GivenLimit { holds, size }));
    }
    limits
}
