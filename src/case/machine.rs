//! The machine of a case: its tag, its hours, its size and its facts.
//!
//! A changed meter is told once (`meter: {changed_at: …}`); from there on all hours in the case count on from the old one.

use crate::case::fields::Notes;
use crate::case::inspection::{GivenFact, Machine};
use crate::case::keys;
use crate::case::sizes;
use crate::case::tree::{Entry, Value};
use crate::place::Side;
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::Spanned;

/// What stands under `machine`
pub(super) fn machine(notes: &mut Notes<'_>, entry: &Entry) -> Machine {
    let mut machine = Machine::default();
    machine.tag.at = entry.key.at;
    let mut has_tag = false;
    let mut before = None;
    for field in notes.map(entry) {
        match field.key.value.as_str() {
            "tag" => {
                has_tag = true;
                if let Some(tag) = notes.text(field) {
                    machine.tag = tag;
                }
            }
            "hours" => machine.hours = notes.hours(field),
            "meter" => before = meter(notes, field),
            "size" => machine.size = notes.text(field),
            "sizes" if matches!(field.value.value, Value::Text(_)) => machine.sizes_file = notes.text(field),
            "sizes" => machine.sizes = sizes::under(notes, field),
            "facts" => {
                for fact in notes.map(field) {
                    machine.facts.extend(given(notes, fact));
                }
            }
            _ => notes.say_unknown_key(&field.key, "machine", &keys::MACHINE),
        }
    }
    run_before(notes, &mut machine, before.as_ref());
    let is_map = matches!(entry.value.value, Value::Map(_) | Value::Blank);
    if !has_tag && is_map {
        let message = "the machine has no `tag`";
        notes.say_missing(entry.key.at, message, "add `tag:` with what its people call it");
    }
    machine
}

/// The change of a meter: hours on the old one then, and hours that the new one showed
struct Meter {
    changed_at: Spanned<f64>,
    from: Option<Spanned<f64>>,
}

/// What stands under `meter`
fn meter(notes: &mut Notes<'_>, entry: &Entry) -> Option<Meter> {
    let (mut changed_at, mut from) = (None, None);
    let mut has_change = false;
    for field in notes.map(entry) {
        match field.key.value.as_str() {
            "changed_at" => {
                has_change = true;
                changed_at = notes.hours(field);
            }
            "from" => from = notes.hours(field),
            _ => notes.say_unknown_key(&field.key, "meter", &keys::METER),
        }
    }
    if !has_change {
        let help = "add `changed_at:` with the last hours of the old meter";
        notes.say_missing(entry.key.at, "it is not said when the meter was changed", help);
    }
    Some(Meter { changed_at: changed_at?, from })
}

/// Adds the hours that the machine ran before its meter was changed to those that the new one shows
fn run_before(notes: &mut Notes<'_>, machine: &mut Machine, meter: Option<&Meter>) {
    let (Some(hours), Some(meter)) = (&mut machine.hours, meter) else { return };
    let from = meter.from.as_ref().map_or(0.0, |from| from.value);
    if from > hours.value {
        let at = meter.from.as_ref().map_or(meter.changed_at.at, |from| from.at);
        notes.say(
            Problem::new(Code::CaseHours, at, "the new meter began with more hours than it shows now")
                .also(hours.at, "what it shows now")
                .help("write under `hours` what the meter on the machine shows today"),
        );
        return;
    }
    hours.value += meter.changed_at.value - from;
}

/// One fact: given once, or for one side or both
fn given(notes: &mut Notes<'_>, fact: &Entry) -> Vec<GivenFact> {
    let Value::Map(sides) = &fact.value.value else {
        let value = notes.text(fact);
        return value
            .map(|value| GivenFact { name: fact.key.clone(), side: None, value })
            .into_iter()
            .collect();
    };
    let mut facts = Vec::new();
    for entry in sides {
        let Some(side) = Side::from_word(&entry.key.value) else {
            let words = Side::BOTH.map(Side::word);
            notes.say_unknown_key(&entry.key, &fact.key.value, &words);
            continue;
        };
        if let Some(value) = notes.text(entry) {
            facts.push(GivenFact { name: fact.key.clone(), side: Some(side), value });
        }
    }
    facts
}
