//! The outermost keys of a case file.

use crate::case::fields::Notes;
use crate::case::inspection::{Inspection, Machine, Visit};
use crate::case::tree::Entry;
use crate::case::{expect, keys, machine, names, parts, photos, seen, visit};
use crate::source::{Span, Spanned};

/// What to do about a file that has not begun
pub(super) const BEGIN: &str = "begin with `case: a title` and `machine: {tag: its name}`";

/// The inspection that the keys of a file tell
pub(super) fn inspection(notes: &mut Notes<'_>, entries: &[Entry]) -> Inspection {
    let mut title = None;
    let mut machine = None;
    let mut case = Inspection {
        source: notes.whole.source,
        title: Spanned::new(String::new(), notes.span(0, 0)),
        machine: Machine::default(),
        parts: Vec::new(),
        visit: Visit::default(),
        seen: Vec::new(),
        in_question: Vec::new(),
        earlier: Vec::new(),
        photos: Vec::new(),
        truth: None,
        expect: None,
    };
    for entry in entries {
        match entry.key.value.as_str() {
            "case" => title = Some(notes.text(entry)),
            "machine" => machine = Some(machine::machine(notes, entry)),
            "parts" => case.parts = parts::parts(notes, entry),
            "visit" => case.visit = visit::visit(notes, entry),
            "seen" => case.seen = seen::seen(notes, entry),
            "in_question" => case.in_question = names::names(notes, entry),
            "earlier" => {
                let files = notes.texts(entry);
                case.earlier = notes.once(files, "the same earlier visit is named");
            }
            "photos" => case.photos = photos::outermost(notes, entry),
            "truth" => case.truth = Some(names::truth(notes, entry)),
            "expect" => case.expect = Some(expect::expect(notes, entry)),
            _ => notes.say_unknown_key(&entry.key, "", &keys::WHOLE),
        }
    }
    let front = front(notes, entries);
    if title.is_none() {
        notes.say_missing(front, "the case has no title", "begin with `case: a title`");
    }
    if machine.is_none() {
        let help = "add `machine: {tag: its name}`";
        notes.say_missing(front, "the case names no machine", help);
    }
    // else: the problem is told, above or where it was read
    case.title = title.flatten().unwrap_or(Spanned::new(String::new(), front));
    case.machine = machine.unwrap_or_default();
    parts::backwards(notes, &case.machine, &case.parts);
    case
}

/// Where to say that an outermost key is missing: the first key there is
fn front(notes: &Notes<'_>, entries: &[Entry]) -> Span {
    entries.first().map_or(notes.span(0, 0), |entry| entry.key.at)
}
