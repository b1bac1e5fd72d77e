//! When the parts of a machine went on, and when they were turned.

use crate::case::fields::{Notes, quoted};
use crate::case::inspection::{Fitted, Machine, Turned};
use crate::case::tree::{Entry, Node, Value};
use crate::case::{keys, names};
use crate::place::Place;
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::{Span, Spanned};
use std::collections::BTreeMap;

/// The list under `parts`, nothing in it told twice
pub(super) fn parts(notes: &mut Notes<'_>, entry: &Entry) -> Vec<Fitted> {
    let mut places = BTreeMap::new();
    let mut parts = Vec::new();
    for item in notes.list(entry) {
        let Some(fitted) = fitted(notes, entry, item) else {
            continue;
        };
        let place = fitted.at.as_ref().map(|at| at.value.clone());
        let name = (fitted.part.value.clone(), place);
        match places.get(&name) {
            Some(&first) => {
                let at = fitted.at.as_ref().map_or(fitted.part.at, |at| at.at);
                let what = format!("`{}` is told of", quoted(&name.0));
                notes.say_twice(Code::CaseTwice, at, first, &what);
            }
            None => {
                places.insert(name, fitted.part.at);
                parts.push(fitted);
            }
        }
    }
    parts
}

/// Notes hours that run backwards: on after now, turned after now, turned before on
pub(super) fn backwards(notes: &mut Notes<'_>, machine: &Machine, parts: &[Fitted]) {
    for fitted in parts {
        let part = quoted(&fitted.part.value);
        let now = machine.hours.as_ref().map(|now| (now, "the machine now"));
        let turned = fitted.turned.as_ref();
        let turned = turned.and_then(|turned| Some(Spanned::new(turned.value.at()?, turned.at)));
        let turned = turned.as_ref();
        let message = format!("`{part}` went on after the hours of the machine");
        in_order(notes, fitted.on.as_ref(), now, message);
        let message = format!("`{part}` was turned after the hours of the machine");
        in_order(notes, turned, now, message);
        let message = format!("`{part}` went on after it was turned");
        in_order(notes, fitted.on.as_ref(), turned.map(|turned| (turned, "turned here")), message);
    }
}

/// Notes hours that are more than those that came after them
fn in_order(
    notes: &mut Notes<'_>,
    before: Option<&Spanned<f64>>,
    after: Option<(&Spanned<f64>, &str)>,
    message: String,
) {
    if let (Some(before), Some((after, words))) = (before, after)
        && before.value > after.value
    {
        notes.say(
            Problem::new(Code::CaseHours, before.at, message)
                .also(after.at, words)
                .help("write what the machine's meter showed on that day"),
        );
    }
}

fn fitted(notes: &mut Notes<'_>, list: &Entry, item: &Node) -> Option<Fitted> {
    let Value::Map(fields) = &item.value else {
        let at = blame(item, list.key.at);
        let problem = Problem::new(Code::CaseShape, at, "an item of `parts` has keys of its own");
        notes.say(problem.help("write `{part: chain, on: 0 h}`"));
        return None;
    };
    let mut part = None;
    let mut has_part = false;
    let (mut at, mut on, mut turned) = (None, None, None);
    for field in fields {
        match field.key.value.as_str() {
            "part" => {
                has_part = true;
                part = notes.text(field);
            }
            "at" => at = notes.text(field),
            "on" => on = notes.hours(field),
            "turned" => turned = when_turned(notes, field),
            _ => notes.say_unknown_key(&field.key, "parts", &keys::PARTS),
        }
    }
    if !has_part {
        let help = "add `part:` with its name";
        notes.say_missing(blame(item, list.key.at), "it is not said which part", help);
    }
    let part = part?;
    let at = at.and_then(|at| place(notes, &part, &at));
    Some(Fitted { part, at, on, turned })
}

/// Hours, or the word for never
fn when_turned(notes: &mut Notes<'_>, field: &Entry) -> Option<Spanned<Turned>> {
    match &field.value.value {
        Value::Text(word) if word.trim() == keys::NEVER => Some(Spanned::new(Turned::Never, field.value.at)),
        Value::Text(word) if word.trim().starts_with(char::is_alphabetic) => {
            let message = format!("`{}` is neither hours nor `{}`", quoted(word), keys::NEVER);
            let problem = Problem::new(Code::CaseValue, field.value.at, message);
            notes.say(problem.help("write the hours of the machine when it was turned, or `never`"));
            None
        }
        _ => notes.hours(field).map(|hours| Spanned::new(Turned::At(hours.value), hours.at)),
    }
}

/// Where a part stands: `left`, `left 3` for number 3 of it, or `left roller 3`
fn place(notes: &mut Notes<'_>, part: &Spanned<String>, at: &Spanned<String>) -> Option<Spanned<Place>> {
    let place = names::place(notes, at, Some(&part.value))?;
    if let Place::Numbered { part: other, .. } = &place.value
        && *other != part.value
    {
        let (other, part) = (quoted(other), quoted(&part.value));
        let message = format!("this is a place of `{other}`, not of `{part}`");
        notes.say(Problem::new(Code::CaseUnknownPlace, at.at, message));
        return None;
    }
    Some(place)
}

fn blame(item: &Node, key: Span) -> Span {
    if item.at.start < item.at.end { item.at } else { key }
}
