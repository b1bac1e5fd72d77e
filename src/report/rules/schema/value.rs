//! Texts, figures and quantities, as the reader of case files takes them.

use crate::case::MOST_HOURS;
use crate::units::{Dimension, Unit};
use serde_json::{Value, json};

/// A number with a point, or as a fraction with or without a whole number before it
const NUMBER: &str = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:(?:[ -] *[0-9]+)?/ *0*[1-9][0-9]*)?";

/// A text: anything but a list, keys, or nothing
pub(super) fn text() -> Value {
    json!({"type": ["string", "number", "boolean"], "pattern": r"\S"})
}

/// Hours, with or without `h`
pub(super) fn hours() -> Value {
    let words = alternatives(Unit::Hour.words().iter());
    let pattern = format!(r"^\s*\+?{NUMBER}\s*(?:{words})?\s*$");
    json!({"anyOf": [
        {"type": "number", "minimum": 0, "maximum": MOST_HOURS},
        {"type": "string", "pattern": pattern},
    ]})
}

/// A share over 0 % and up to 100 %
pub(super) fn share() -> Value {
    let number = r"(?:0*100(?:\.0*)?|0*[1-9][0-9]?(?:\.[0-9]*)?|0*\.[0-9]*[1-9][0-9]*)";
    json!({"type": "string", "pattern": format!(r"^\s*\+?{number}\s*%\s*$"), "description": "A share, as in 70%"})
}

/// A whole number from 1 on
pub(super) fn count() -> Value {
    json!({"anyOf": [{"type": "integer", "minimum": 1}, {"type": "string", "pattern": r"^\s*0*[1-9][0-9]*\s*$"}]})
}

/// A day of the calendar
pub(super) fn day() -> Value {
    let long = "(?:0[13578]|1[02])-(?:0[1-9]|[12][0-9]|3[01])";
    let short = "(?:0[469]|11)-(?:0[1-9]|[12][0-9]|30)";
    let february = "02-(?:0[1-9]|[12][0-9])";
    json!({"type": "string", "pattern": format!(r"^\s*[0-9]{{4}}-(?:{long}|{short}|{february})\s*$")})
}

/// A number with a unit of this dimension
pub(super) fn quantity(dimension: Dimension) -> Value {
    let units = Unit::all().filter(|unit| unit.dimension() == dimension);
    let words = alternatives(units.flat_map(|unit| unit.words().iter()));
    json!({"type": "string", "pattern": format!(r"^\s*[-−+]?\s*{NUMBER}\s*(?:{words})\s*$")})
}

/// A whole number within bounds, as a number or its digits
pub(super) fn whole_number(least: u32, most: u32) -> Value {
    let digits = format!(r"^\s*0*(?:{})\s*$", numbers(least, most));
    json!({"anyOf": [
        {"type": "integer", "minimum": least, "maximum": most},
        {"type": "string", "pattern": digits},
    ]})
}

/// `5|6|7`
pub(super) fn numbers(least: u32, most: u32) -> String {
    (least..=most).map(|number| number.to_string()).collect::<Vec<_>>().join("|")
}

/// Words as a choice in a pattern
fn alternatives<'w>(words: impl Iterator<Item = &'w &'static str>) -> String {
    words.map(|word| escaped(word)).collect::<Vec<_>>().join("|")
}

/// A word with what means something in a pattern made plain
fn escaped(word: &str) -> String {
    let mut plain = String::new();
    for letter in word.chars() {
        if r".*+?()[]{}|^$/\".contains(letter) {
            plain.push('\\');
        }
        plain.push(letter);
    }
    plain
}
