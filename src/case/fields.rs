//! Keys and values of a case file by what is expected of them, with every departure from it noted.

use crate::case::inspection::MOST_HOURS;
use crate::case::tree::{Entry, Node, Value};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::{Span, Spanned};
use crate::units::{Quantity, QuantityFault, Unit, parse_quantity, split_number};
use std::collections::BTreeMap;

/// Most problems noted of one file: nobody mends more at a time, and each is compared with those before it
const MOST_PROBLEMS: usize = 500;

/// Longest piece of a file repeated in a message, in characters
const LONGEST_QUOTE: usize = 40;

/// A case file being read, and what is wrong with it so far
pub(super) struct Notes<'t> {
    /// Text of the file
    pub(super) text: &'t str,
    /// Span of the whole file
    pub(super) whole: Span,
    problems: Problems,
    said: usize,
}

impl<'t> Notes<'t> {
    /// Nothing noted yet
    pub(super) fn new(text: &'t str, whole: Span) -> Self {
        Notes { text, whole, problems: Problems::default(), said: 0 }
    }

    /// Everything noted
    pub(super) fn into_problems(self) -> Problems {
        self.problems
    }

    /// Notes a problem, as long as there is room
    pub(super) fn say(&mut self, problem: Problem) {
        if self.said < MOST_PROBLEMS {
            self.said += 1;
            self.problems.push(problem);
        }
    }

    /// A span in this file
    pub(super) fn span(&self, start: usize, end: usize) -> Span {
        Span { source: self.whole.source, start, end: end.max(start) }
    }

    /// The piece of a text from one of its bytes to another; the whole of it when it is not written out letter by letter
    pub(super) fn piece(&self, text: &Spanned<String>, start: usize, end: usize) -> Span {
        let Span { start: first, end: last, .. } = text.at;
        let as_written = self.text.get(first..last) == Some(text.value.as_str());
        if as_written && end <= text.value.len() { self.span(first + start, first + end) } else { text.at }
    }

    /// Notes a key that stood before
    pub(super) fn say_key_twice(&mut self, key: &Spanned<String>, first: Span) {
        let message = format!("`{}` is given twice", quoted(&key.value));
        self.say(
            Problem::new(Code::CaseDuplicateKey, key.at, message)
                .also(first, "first given here")
                .help("keep one of them"),
        );
    }

    /// Notes something that was said before
    pub(super) fn say_twice(&mut self, code: Code, at: Span, first: Span, what: &str) {
        self.say(
            Problem::new(code, at, format!("{what} twice"))
                .also(first, "first said here")
                .help("keep one of them"),
        );
    }

    /// Notes a key that nothing takes
    pub(super) fn say_unknown_key(&mut self, key: &Spanned<String>, within: &str, known: &[&str]) {
        // A near name is costly to find; none is looked for that nobody will be told.
        if self.said == MOST_PROBLEMS {
            return;
        }
        let word = quoted(&key.value);
        let message = if within.is_empty() {
            format!("a case file has no key `{word}`")
        } else {
            format!("`{within}` has no key `{word}`")
        };
        let all = format!("its keys are {}", listed(known));
        let help = did_you_mean(&key.value, known.iter().copied(), &all);
        self.say(Problem::new(Code::CaseUnknownKey, key.at, message).help(help));
    }

    /// Notes something that must be said and is not
    pub(super) fn say_missing(&mut self, at: Span, message: &str, help: &str) {
        self.say(Problem::new(Code::CaseMissing, at, message).help(help));
    }

    /// The keys under a key; none of them, and that noted, when the value is of another sort
    pub(super) fn map<'e>(&mut self, entry: &'e Entry) -> &'e [Entry] {
        match &entry.value.value {
            Value::Map(entries) => entries,
            Value::Blank => &[],
            Value::Text(_) => {
                let help = "write its keys below it, or beside it in braces";
                self.say_shape(entry, "keys of its own, not a text", help)
            }
            Value::List(_) => {
                let help = "take away the dashes or square brackets, and give each item a key";
                self.say_shape(entry, "keys of its own, not a list", help)
            }
        }
    }

    /// The items under a key; none of them, and that noted, when the value is of another sort
    pub(super) fn list<'e>(&mut self, entry: &'e Entry) -> &'e [Node] {
        let name = quoted(&entry.key.value);
        match &entry.value.value {
            Value::List(items) => items,
            Value::Blank => &[],
            Value::Text(text) => {
                let help = format!("write `{name}: [{}]`", quoted(text));
                self.say_shape(entry, "a list, not one text", &help)
            }
            Value::Map(_) => {
                let help = format!("write `{name}: [one, another]`");
                self.say_shape(entry, "a list, not keys of its own", &help)
            }
        }
    }

    /// The text under a key, trimmed; none, and that noted, when there is none
    pub(super) fn text(&mut self, entry: &Entry) -> Option<Spanned<String>> {
        self.text_of(&entry.value, &entry.key)
    }

    /// The texts of the list under a key
    pub(super) fn texts(&mut self, entry: &Entry) -> Vec<Spanned<String>> {
        self.list(entry).iter().filter_map(|item| self.text_of(item, &entry.key)).collect()
    }

    /// Texts without those that stood before, which are noted; `what` begins the sentence
    pub(super) fn once(&mut self, mut texts: Vec<Spanned<String>>, what: &str) -> Vec<Spanned<String>> {
        let mut places = BTreeMap::new();
        texts.retain(|text| match places.get(&text.value) {
            Some(&first) => {
                self.say_twice(Code::CaseTwice, text.at, first, what);
                false
            }
            None => {
                places.insert(text.value.clone(), text.at);
                true
            }
        });
        texts
    }

    /// A text that stands under a key or in its list
    pub(super) fn text_of(&mut self, node: &Node, key: &Spanned<String>) -> Option<Spanned<String>> {
        let name = quoted(&key.value);
        match &node.value {
            Value::Text(text) if !text.trim().is_empty() => Some(self.trimmed(text, node.at)),
            Value::Text(_) | Value::Blank => {
                let message = format!("`{name}` is left blank");
                self.say_missing(key.at, &message, "fill it in, or leave it out");
                None
            }
            Value::List(_) => {
                self.say_no_text(node, &format!("`{name}` takes one text here, not a list"));
                None
            }
            Value::Map(_) => {
                self.say_no_text(node, &format!("`{name}` takes one text here, not keys"));
                None
            }
        }
    }

    /// Hours under a key, with or without `h`: finite, not negative
    pub(super) fn hours(&mut self, entry: &Entry) -> Option<Spanned<f64>> {
        let text = self.text(entry)?;
        let name = quoted(&entry.key.value);
        let (hours, unit) = match split_number(&text.value) {
            Ok((hours, unit)) => (hours, unit),
            Err(fault) => {
                self.say_no_quantity(&text, &fault);
                return None;
            }
        };
        if !(unit.is_empty() || Unit::parse(unit) == Some(Unit::Hour)) {
            let message = format!("`{name}` is told in hours, not in `{}`", quoted(unit));
            self.say(Problem::new(Code::CaseUnit, text.at, message).help("write `6240 h`"));
            return None;
        }
        if let Some(meant) = thousands(&text.value) {
            let message = format!("`{name}` may be {meant} h or {hours} h");
            let help = format!(
                "write `{meant}` where the point parts thousands, else give two decimals at the most"
            );
            self.say(Problem::new(Code::CaseValue, text.at, message).help(help));
            return None;
        }
        if hours < 0.0 {
            let message = format!("`{name}` is under 0 h");
            self.say(Problem::new(Code::CaseValue, text.at, message));
            return None;
        }
        if hours > MOST_HOURS {
            let message = format!("`{name}` is more than any machine runs");
            self.say(
                Problem::new(Code::CaseValue, text.at, message)
                    .help("check the figure: no more than 200,000 h can be told"),
            );
            return None;
        }
        Some(Spanned::new(hours, text.at))
    }

    /// A share under a key: over 0 % and at most 100 %, given back from 0 to 1
    pub(super) fn share(&mut self, entry: &Entry) -> Option<Spanned<f64>> {
        let text = self.text(entry)?;
        let name = quoted(&entry.key.value);
        let quantity = match parse_quantity(&text.value) {
            Ok(quantity) => quantity,
            Err(QuantityFault::NoUnit) => {
                let message = format!("`{}` has no unit", quoted(&text.value));
                let help = format!("write `{}`", percent_meant(&text.value));
                self.say(Problem::new(Code::CaseUnit, text.at, message).help(help));
                return None;
            }
            Err(fault) => {
                self.say_no_quantity(&text, &fault);
                return None;
            }
        };
        if quantity.unit != Unit::Percent {
            let message = format!("`{name}` is told in %, not in `{}`", quantity.unit.word());
            self.say(Problem::new(Code::CaseUnit, text.at, message).help("write `70%`"));
            return None;
        }
        if !(quantity.value > 0.0 && quantity.value <= 100.0) {
            let message = format!("`{name}` is not over 0 % and up to 100 %");
            self.say(Problem::new(Code::CaseValue, text.at, message));
            return None;
        }
        Some(Spanned::new(quantity.value / 100.0, text.at))
    }

    /// A whole number, 1 or more
    pub(super) fn count(&mut self, node: &Node, key: &Spanned<String>) -> Option<Spanned<u32>> {
        let text = self.text_of(node, key)?;
        let digits = text.value.bytes().all(|byte| byte.is_ascii_digit());
        match text.value.parse() {
            Ok(number) if digits && number > 0 => Some(Spanned::new(number, text.at)),
            _ => {
                let message = format!("`{}` is no whole number from 1 on", quoted(&text.value));
                self.say(Problem::new(Code::CaseValue, text.at, message));
                None
            }
        }
    }

    /// Notes why a text is no quantity
    pub(super) fn say_no_quantity(&mut self, text: &Spanned<String>, fault: &QuantityFault) {
        let word = quoted(&text.value);
        let (code, message, help) = match fault {
            QuantityFault::NoNumber => (
                Code::CaseValue,
                format!("`{word}` does not begin with a number"),
                "write a number and its unit, as in `109.2 mm`",
            ),
            QuantityFault::Comma => (
                Code::CaseValue,
                format!("a comma in the number `{word}`"),
                "write a point before decimals, as in `109.2 mm`, and nothing between thousands",
            ),
            QuantityFault::Gap => (
                Code::CaseValue,
                format!("`{word}` holds more than one number"),
                "write the figures of one together, several readings as a list, a fraction as in `2 9/16 in`",
            ),
            QuantityFault::DividedByZero => {
                (Code::CaseValue, format!("`{word}` divides by 0"), "write a fraction as in `2 9/16 in`")
            }
            QuantityFault::NotFinite => (
                Code::CaseValue,
                format!("`{word}` is no number that can be read off"),
                "leave out what was not read",
            ),
            QuantityFault::NoUnit => (
                Code::CaseUnit,
                format!("`{word}` has no unit"),
                "write the unit behind the number, as in `109.2 mm`",
            ),
            QuantityFault::UnknownUnit { word } => {
                let message = format!("`{}` is no unit", quoted(word));
                let help = unit_meant(word);
                let start = text.value.trim_end().len().saturating_sub(word.len());
                let at = self.piece(text, start, start + word.len());
                self.say(Problem::new(Code::CaseUnit, at, message).help(help));
                return;
            }
        };
        self.say(Problem::new(code, text.at, message).help(help));
    }

    /// Notes a value of the wrong sort
    pub(super) fn say_shape<T>(&mut self, entry: &Entry, wanted: &str, help: &str) -> &'static [T] {
        let at = if entry.value.at.start < entry.value.at.end { entry.value.at } else { entry.key.at };
        let message = format!("`{}` takes {wanted}", quoted(&entry.key.value));
        self.say(Problem::new(Code::CaseShape, at, message).help(help));
        &[]
    }

    fn say_no_text(&mut self, node: &Node, message: &str) {
        self.say(Problem::new(Code::CaseShape, node.at, message));
    }

    fn trimmed(&self, text: &str, at: Span) -> Spanned<String> {
        let whole = Spanned::new(text.to_owned(), at);
        let start = text.len() - text.trim_start().len();
        let end = text.trim_end().len();
        let at = self.piece(&whole, start, end);
        Spanned::new(text.trim().to_owned(), at)
    }
}

/// A piece of the file as it is repeated in a message: one line, not too long
pub(super) fn quoted(text: &str) -> String {
    let mut words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if let Some((cut, _)) = words.char_indices().nth(LONGEST_QUOTE) {
        words.truncate(cut);
        words.push('…');
    }
    words
}

/// Names as a help lists them
pub(super) fn listed(names: &[&str]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    names.join(", ")
}

/// The share that a bare number means: a fraction of one, or per cent without their sign
fn percent_meant(number: &str) -> Quantity {
    let value = split_number(number).map_or(70.0, |(value, _)| value);
    let fraction = value > 0.0 && value <= 1.0;
    Quantity { value: if fraction { value * 100.0 } else { value }, unit: Unit::Percent }
}

/// What to write for a word that is no unit; units are too short for a near one to be the one meant
fn unit_meant(word: &str) -> String {
    let words: Vec<&str> = Unit::all().map(Unit::word).collect();
    match words.iter().find(|known| known.eq_ignore_ascii_case(word)) {
        Some(known) => format!("did you mean `{known}`?"),
        None => format!("units are {}", listed(&words)),
    }
}

/// What hours are where their point parts thousands: `3.100` is 3100 in many a notebook
fn thousands(text: &str) -> Option<String> {
    let number = text.trim_end_matches(|letter: char| !letter.is_ascii_digit());
    let (whole, rest) = number.split_once('.')?;
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    let is_one = (1..=3).contains(&whole.len()) && !whole.starts_with('0') && rest.len() == 3;
    (is_one && digits(whole) && digits(rest)).then(|| format!("{whole}{rest}"))
}
