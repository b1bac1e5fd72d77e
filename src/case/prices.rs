//! What a workshop asks for its work, as its price file has it.

use crate::case::fields::{Notes, quoted};
use crate::case::keys;
use crate::case::tree::{self, Entry, Value};
use crate::problem::Problem;
use crate::problem::Problems;
use crate::problem::code::Code;
use crate::source::{SourceId, Sources, Spanned};
use crate::units::split_number;

/// What to do about a file that has not begun
const BEGIN: &str =
    "begin with `currency: EUR`, or another word for the money, and `labour: 65`, what an hour costs";

/// The prices of a workshop; nothing in it has been held against the rules yet
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prices {
    /// The word for its money
    pub currency: Option<Spanned<String>>,
    /// An hour of labour: finite, over 0
    pub labour: Option<Spanned<f64>>,
    /// What it costs that the machine stands for a visit: finite, at least 0
    pub visit: Option<Spanned<f64>>,
    /// What an hour of that costs: finite, at least 0
    pub standing: Option<Spanned<f64>>,
    /// Parts and bought-in work of each remedy by its name, labour left out: finite, at least 0
    pub remedies: Vec<(Spanned<String>, Spanned<f64>)>,
}

/// Reads the text of a price file: all that is wrong with it is told at once, and what could be read is given back.
///
/// None for a text that is no YAML, and for one that is no map.
pub fn read(sources: &Sources, id: SourceId) -> (Option<Prices>, Problems) {
    let mut notes = Notes::new(sources.text(id), sources.whole(id));
    let prices = match tree::grow(&mut notes, BEGIN) {
        Ok(entries) => Some(whole(&mut notes, &entries)),
        Err(stop) => {
            notes.say(stop);
            None
        }
    };
    (prices, notes.into_problems())
}

fn whole(notes: &mut Notes<'_>, entries: &[Entry]) -> Prices {
    let mut prices = Prices::default();
    for entry in entries {
        match entry.key.value.as_str() {
            "currency" => prices.currency = notes.text(entry),
            "labour" => prices.labour = money(notes, entry).filter(|labour| over_nothing(notes, labour)),
            "standing" => standing(notes, entry, &mut prices),
            "remedies" => {
                for remedy in notes.map(entry) {
                    let price = money(notes, remedy);
                    prices.remedies.extend(price.map(|price| (remedy.key.clone(), price)));
                }
            }
            _ => notes.say_unknown_key(&entry.key, "prices", &keys::PRICES),
        }
    }
    for (is_read, key, help) in [
        (prices.currency.is_some(), "currency", "add `currency:` with the word for the money, such as `EUR`"),
        (prices.labour.is_some(), "labour", "add `labour:` with what an hour of it costs, such as `65`"),
    ] {
        let written = entries.iter().any(|entry| entry.key.value == key);
        if !is_read && !written {
            notes.say_missing(notes.whole, &format!("the prices have no `{key}`"), help);
        }
    }
    prices
}

/// What standing costs: one figure for a visit, or keys
fn standing(notes: &mut Notes<'_>, entry: &Entry, prices: &mut Prices) {
    if matches!(entry.value.value, Value::Text(_)) {
        prices.visit = money(notes, entry);
        return;
    }
    for field in notes.map(entry) {
        match field.key.value.as_str() {
            "visit" => prices.visit = money(notes, field),
            "hour" => prices.standing = money(notes, field),
            _ => notes.say_unknown_key(&field.key, "standing", &keys::STANDING),
        }
    }
}

/// A bare number under a key: finite, not negative
fn money(notes: &mut Notes<'_>, entry: &Entry) -> Option<Spanned<f64>> {
    let text = notes.text(entry)?;
    match split_number(&text.value) {
        Ok((value, "")) if value >= 0.0 => Some(Spanned::new(value, text.at)),
        Ok((_, "")) => {
            let message = format!("`{}` is under 0", quoted(&entry.key.value));
            notes.say(
                Problem::new(Code::CaseValue, text.at, message).help("write the number without its sign"),
            );
            None
        }
        Ok((_, unit)) => {
            let message =
                format!("`{}` is a bare number, without `{}`", quoted(&entry.key.value), quoted(unit));
            let help = "say once, under `currency`, what the money is";
            notes.say(Problem::new(Code::CaseUnit, text.at, message).help(help));
            None
        }
        Err(_) => {
            let message =
                format!("`{}` is a bare number, not `{}`", quoted(&entry.key.value), quoted(&text.value));
            let help = "write a bare number, such as `65`";
            notes.say(Problem::new(Code::CaseValue, text.at, message).help(help));
            None
        }
    }
}

fn over_nothing(notes: &mut Notes<'_>, labour: &Spanned<f64>) -> bool {
    let over = labour.value > 0.0;
    if !over {
        let problem = Problem::new(Code::CaseValue, labour.at, "an hour of labour costs nothing");
        notes.say(
            problem
                .help("write what an hour of labour costs: what is saved by work done together hangs on it"),
        );
    }
    over
}
