//! The visit: its day, who looked, where, and the state the machine was in.

use crate::case::fields::{Notes, quoted};
use crate::case::inspection::Visit;
use crate::case::keys;
use crate::case::tree::Entry;
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::Spanned;

/// What stands under `visit`
pub(super) fn visit(notes: &mut Notes<'_>, entry: &Entry) -> Visit {
    let mut visit = Visit::default();
    for field in notes.map(entry) {
        match field.key.value.as_str() {
            "on" => visit.on = day(notes, field),
            "by" => visit.by = notes.text(field),
            "place" => visit.place = notes.text(field),
            "state" => visit.state = notes.texts(field),
            _ => notes.say_unknown_key(&field.key, "visit", &keys::VISIT),
        }
    }
    visit
}

fn day(notes: &mut Notes<'_>, entry: &Entry) -> Option<Spanned<String>> {
    let text = notes.text(entry)?;
    if is_day(&text.value) {
        return Some(text);
    }
    let is_written_so = text.value.len() == 10 && text.value.matches('-').count() == 2;
    let what = if is_written_so { "is no day of the calendar" } else { "is no day as it is written here" };
    let message = format!("`{}` {what}", quoted(&text.value));
    let help = "write year, month and day, as in `2026-05-11`";
    notes.say(Problem::new(Code::CaseValue, text.at, message).help(help));
    None
}

/// True for a day of the Gregorian calendar written `yyyy-mm-dd` (ISO 8601)
fn is_day(text: &str) -> bool {
    let mut fields = text.split('-');
    let mut next = |length: usize| {
        let field = fields.next()?;
        let is_number = field.len() == length && field.bytes().all(|byte| byte.is_ascii_digit());
        is_number.then(|| field.parse::<u32>().ok()).flatten()
    };
    let (Some(year), Some(month), Some(day)) = (next(4), next(2), next(2)) else {
        return false;
    };
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    };
    fields.next().is_none() && (1..=days).contains(&day)
}
