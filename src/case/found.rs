//! What was seen of one symptom: a grade, a grade not sure of, or which of a row.

use crate::case::fields::{Notes, quoted};
use crate::case::inspection::Seen;
use crate::case::keys::FOUND;
use crate::case::tree::{Entry, Value};
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::Spanned;
use std::collections::BTreeMap;

/// What stands behind the name of a symptom
pub(super) fn seen(notes: &mut Notes<'_>, entry: &Entry) -> Option<Seen> {
    let Value::Map(fields) = &entry.value.value else {
        return notes.text(entry).map(Seen::Grade);
    };
    let mut keys = FindingKeys::default();
    for field in fields {
        match field.key.value.as_str() {
            "saw" => keys.saw = Some(field),
            "sure" => keys.sure = Some(field),
            "of" => keys.of = Some(field),
            _ if !is_row(field, fields) => {
                notes.say_unknown_key(&field.key, &quoted(&entry.key.value), &FOUND);
                keys.other = true;
            }
            _ => match keys.row {
                None => keys.row = Some(field),
                Some(first) => {
                    let problem = Problem::new(Code::CaseShape, field.key.at, "one finding counts one thing");
                    let first = &first.key;
                    let help = format!("keep `{}` or `{}`", quoted(&first.value), quoted(&field.key.value));
                    notes.say(problem.also(first.at, "counted here").help(help));
                }
            },
        }
    }
    match keys {
        FindingKeys { row: Some(row), saw: None, sure: None, .. } => counted(notes, entry, row, &keys),
        FindingKeys { saw: Some(saw), row: None, of: None, .. } => unsure(notes, saw, &keys),
        FindingKeys { other: true, .. } => None,
        _ => {
            let name = quoted(&entry.key.value);
            let message = format!("it is not plain what was seen of `{name}`");
            let help = "write a grade, `{saw: a grade, sure: 70%}`, or `{joints: [9, 22], of: 39}`";
            notes.say(Problem::new(Code::CaseShape, entry.value.at, message).help(help));
            None
        }
    }
}

/// Whether a key of its own names what is counted: a list stands behind it, or nothing else is there that `of` could be of.
///
/// What may be counted the rules say: whether they know the word is judged against them.
fn is_row(field: &Entry, fields: &[Entry]) -> bool {
    let has_of = || fields.iter().any(|other| other.key.value == "of");
    let others = || fields.iter().filter(|other| !FOUND.contains(&other.key.value.as_str()));
    matches!(field.value.value, Value::List(_)) || (has_of() && others().count() == 1)
}

/// The fields of a finding with keys of its own
#[derive(Default)]
struct FindingKeys<'e> {
    saw: Option<&'e Entry>,
    sure: Option<&'e Entry>,
    row: Option<&'e Entry>,
    of: Option<&'e Entry>,
    /// Whether an unknown key stands among them, which most likely was meant to be what is missing
    other: bool,
}

fn unsure(notes: &mut Notes<'_>, saw: &Entry, keys: &FindingKeys<'_>) -> Option<Seen> {
    let grade = notes.text(saw);
    let Some(sure) = keys.sure else {
        if !keys.other {
            let help = "add `sure: 70%`, or write the grade alone";
            notes.say_missing(saw.key.at, "it is not said how sure this is", help);
        }
        return None;
    };
    let sure = notes.share(sure);
    Some(Seen::Unsure { grade: grade?, sure: sure? })
}

fn counted(notes: &mut Notes<'_>, entry: &Entry, row: &Entry, keys: &FindingKeys<'_>) -> Option<Seen> {
    if matches!(row.value.value, Value::Blank) {
        let message = format!("`{}` is left blank", row.key.value);
        notes.say_missing(row.key.at, &message, "list their numbers, or write `[]` for none");
        return None;
    }
    let items = notes.list(row);
    let which: Vec<Spanned<u32>> = items.iter().filter_map(|item| notes.count(item, &row.key)).collect();
    let Some(of) = keys.of else {
        if !keys.other {
            let message = format!("it is not said how many {} there are", row.key.value);
            notes.say_missing(row.key.at, &message, "add `of:` with their number");
        }
        return None;
    };
    let of = notes.count(&of.value, &of.key)?;
    let mut places = BTreeMap::new();
    for number in &which {
        if number.value > of.value {
            let message = format!("number {} of {} {}", number.value, of.value, row.key.value);
            notes.say(
                Problem::new(Code::CaseValue, number.at, message)
                    .also(of.at, "as many as there are")
                    .help(format!("count the {} again, or correct `of`", row.key.value)),
            );
        }
        if let Some(first) = places.insert(number.value, number.at) {
            let what = format!("number {} is named", number.value);
            notes.say_twice(Code::CaseTwice, number.at, first, &what);
        }
    }
    Some(Seen::Counted { noun: row.key.clone(), which, of, at: entry.value.at })
}
