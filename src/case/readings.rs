//! What was read with an instrument: one value or several, and whether it counts.

use crate::case::fields::{Notes, quoted};
use crate::case::inspection::Read;
use crate::case::keys;
use crate::case::tree::{Entry, Node, Value};
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::Spanned;
use crate::units::{Quantity, parse_quantity};

/// What stands under `read`
pub(super) fn readings(notes: &mut Notes<'_>, entry: &Entry) -> Vec<Read> {
    notes.map(entry).iter().map(|field| reading(notes, field)).collect()
}

fn reading(notes: &mut Notes<'_>, entry: &Entry) -> Read {
    let measure = entry.key.clone();
    let Value::Map(fields) = &entry.value.value else {
        return Read { measure, values: values(notes, entry), void: None };
    };
    let mut given: Option<&Entry> = None;
    let mut void = None;
    let mut unknown = false;
    for field in fields {
        match (field.key.value.as_str(), given) {
            ("void", _) => void = notes.text(field),
            ("value" | "values", None) => given = Some(field),
            ("value" | "values", Some(first)) => {
                notes.say_twice(Code::CaseTwice, field.key.at, first.key.at, "the reading is given");
            }
            _ => {
                notes.say_unknown_key(&field.key, &quoted(&measure.value), &keys::READ);
                unknown = true;
            }
        }
    }
    if given.is_none() && !unknown {
        let message = format!("`{}` has no value", quoted(&measure.value));
        notes.say_missing(measure.at, &message, "add `value:` with what was read");
    }
    Read { measure, values: given.map_or(Vec::new(), |field| values(notes, field)), void }
}

/// One quantity, or a list of them
fn values(notes: &mut Notes<'_>, entry: &Entry) -> Vec<Spanned<Quantity>> {
    let items = match &entry.value.value {
        Value::List(items) if items.is_empty() => {
            let message = format!("`{}` has no value", quoted(&entry.key.value));
            notes.say_missing(entry.key.at, &message, "leave out what was not read");
            return Vec::new();
        }
        Value::List(items) => items.as_slice(),
        Value::Map(_) => {
            let message = format!("`{}` takes a quantity, not keys", quoted(&entry.key.value));
            notes.say(Problem::new(Code::CaseShape, entry.value.at, message).help("write `109.2 mm`"));
            return Vec::new();
        }
        Value::Blank | Value::Text(_) => std::slice::from_ref(&entry.value),
    };
    items.iter().filter_map(|item| quantity(notes, item, &entry.key)).collect()
}

/// A figure with its unit
pub(super) fn quantity(
    notes: &mut Notes<'_>,
    item: &Node,
    key: &Spanned<String>,
) -> Option<Spanned<Quantity>> {
    let text = notes.text_of(item, key)?;
    match parse_quantity(&text.value) {
        Ok(quantity) => Some(Spanned::new(quantity, text.at)),
        Err(fault) => {
            notes.say_no_quantity(&text, &fault);
            None
        }
    }
}
