//! The machine of a case: its tag, its hours, its size and its facts.

use crate::case::fields::Notes;
use crate::case::tree::{Entry, Value};
use crate::case::{FactTold, Machine, keys};
use crate::place::Side;

/// What stands under `machine`
pub(super) fn machine(notes: &mut Notes<'_>, entry: &Entry) -> Machine {
    let mut machine = Machine::default();
    machine.tag.at = entry.key.at;
    let mut tag_told = false;
    for field in notes.map(entry) {
        match field.key.value.as_str() {
            "tag" => {
                tag_told = true;
                if let Some(tag) = notes.text(field) {
                    machine.tag = tag;
                }
            }
            "hours" => machine.hours = notes.hours(field),
            "size" => machine.size = notes.text(field),
            "facts" => {
                for fact in notes.map(field) {
                    machine.facts.extend(told(notes, fact));
                }
            }
            _ => notes.say_unknown_key(&field.key, "machine", &keys::MACHINE),
        }
    }
    let is_map = matches!(entry.value.value, Value::Map(_) | Value::Blank);
    if !tag_told && is_map {
        let message = "the machine has no `tag`";
        notes.say_missing(entry.key.at, message, "add `tag:` with what its people call it");
    }
    machine
}

/// One fact: told once, or for one side or both
fn told(notes: &mut Notes<'_>, fact: &Entry) -> Vec<FactTold> {
    let Value::Map(sides) = &fact.value.value else {
        let value = notes.text(fact);
        return value
            .map(|value| FactTold { name: fact.key.clone(), side: None, value })
            .into_iter()
            .collect();
    };
    let mut told = Vec::new();
    for entry in sides {
        let Some(side) = Side::from_word(&entry.key.value) else {
            let words = Side::BOTH.map(Side::word);
            notes.say_unknown_key(&entry.key, &fact.key.value, &words);
            continue;
        };
        if let Some(value) = notes.text(entry) {
            told.push(FactTold { name: fact.key.clone(), side: Some(side), value });
        }
    }
    told
}
