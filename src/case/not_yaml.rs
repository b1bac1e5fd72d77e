//! What is said of a text that cannot be read as one map of keys: the YAML reader's failures in words for the field.

use crate::case::fields::quoted;
use crate::case::probe::{Asked, Probe, place_in_words};
use crate::case::walk::{Walker, is_break, line_end, word_end};
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::Span;
use serde::de::DeserializeSeed;

/// Brackets left open at once, counted without regard to quotes: the reader takes time by their square
const MOST_OPEN: usize = 64;

/// The problem of a text that is not given to the YAML reader at all
pub(super) fn refused_outright(text: &str, whole: Span) -> Option<Problem> {
    let mut open = 0_usize;
    let mut line_start = true;
    for (at, letter) in text.char_indices() {
        match letter {
            '[' | '{' => open += 1,
            ']' | '}' => open = open.saturating_sub(1),
            '%' if line_start => {
                let at = span(whole, at, line_end(text, at));
                return Some(
                    Problem::new(Code::CaseSyntax, at, "a line that begins with `%`")
                        .help("put a text that begins so in quotes"),
                );
            }
            _ if !is_printable(letter) => {
                let at = span(whole, at, at + letter.len_utf8());
                let message = format!("a character that is no text, number {:x}", u32::from(letter));
                return Some(Problem::new(Code::CaseSyntax, at, message).help("delete it"));
            }
            _ => {}
        }
        if open > MOST_OPEN {
            return Some(too_deep(span(whole, at, at + 1)));
        }
        line_start = matches!(letter, '\n' | '\r');
    }
    None
}

/// The characters that YAML 1.1 lets stand (its production 1, `c-printable`)
fn is_printable(letter: char) -> bool {
    matches!(letter, '\t' | '\n' | '\r' | ' '..='~' | '\u{85}' | '\u{a0}'..='\u{fffd}' | '\u{10000}'..)
}

/// The problem of a nesting deeper than a case can be
pub(super) fn too_deep(at: Span) -> Problem {
    Problem::new(Code::TooDeep, at, "lists and keys nested deeper than a case goes")
}

/// The problem of a mark that a case does not take, when one starts at a byte
pub(super) fn refused_mark(text: &str, whole: Span, start: usize) -> Option<Problem> {
    let what = match text.get(start..)?.chars().next()? {
        '&' | '*' => "stands for another piece of the file",
        '!' => "names a sort of value",
        _ => return None,
    };
    let end = word_end(text, start);
    let message = format!("`{}` {what}", quoted(text.get(start..end)?));
    let at = span(whole, start, end);
    let help = "write what is meant in full; a text that begins so goes in quotes";
    Some(Problem::new(Code::CaseSyntax, at, message).help(help))
}

/// The problem of a text whose outermost value, which starts at a byte, is no map
pub(super) fn no_map(text: &str, whole: Span, start: usize, begin: &str) -> Problem {
    let at = span(whole, start, line_end(text, start));
    let message = "a file such as this is made of keys with values, and this is none";
    Problem::new(Code::CaseShape, at, message).help(begin)
}

/// The problem of a text with nothing in it but space and comments
pub(super) fn says_nothing(text: &str, whole: Span, begin: &str) -> Problem {
    let end = text.trim_end().len();
    let at = span(whole, end, end);
    Problem::new(Code::CaseMissing, at, "the file says nothing").help(begin)
}

/// The problem behind a failure of the YAML reader
pub(super) fn problem(text: &str, whole: Span, failure: &serde_yaml::Error, begin: &str) -> Problem {
    let words = failure.to_string();
    let Some(place) = failure.location() else {
        return without_a_place(text, whole, begin);
    };
    let start = floor(text, place.index());
    // At the end of the text there is nothing to underline: the last line then.
    let rest = text.get(start..).unwrap_or_default();
    let at_end = rest.trim().is_empty() && !rest.starts_with('\t');
    let start = if at_end { last_line(text) } else { start };
    let (message, help) = in_our_words(&words, text.get(start..).unwrap_or_default());
    let at = span(whole, start, word_end(text, start));
    let problem = Problem::new(Code::CaseSyntax, at, message).help(help);
    match opened_at(text, &words) {
        Some(opened) if opened < start => {
            let at = span(whole, opened, word_end(text, opened));
            problem.also(at, "begun here")
        }
        _ => problem,
    }
}

/// The failures that the reader tells without a place: an empty text, and more after the end of the first document
fn without_a_place(text: &str, whole: Span, begin: &str) -> Problem {
    let Some(second) = serde_yaml::Deserializer::from_str(text).nth(1) else {
        return says_nothing(text, whole, begin);
    };
    if let Some(start) = second_document(text) {
        let at = span(whole, start, line_end(text, start));
        return Problem::new(Code::CaseSyntax, at, "a second document begins here")
            .help("one file is one visit: give the second a file of its own");
    }
    let Err(failure) = Probe(&mut Asked::default()).deserialize(second);
    let start = floor(text, failure.location().map_or(0, |place| place.index()));
    let at = span(whole, start, line_end(text, start));
    Problem::new(Code::CaseSyntax, at, "text after the end of the keys")
        .help("begin the keys of one map in the same column")
}

/// The line of `---` or `...` that ends the first document
fn second_document(text: &str) -> Option<usize> {
    let mut at = 0;
    let mut begun = false;
    for line in text.split_inclusive(is_break) {
        if begun && (line.starts_with("---") || line.starts_with("...")) {
            return Some(at);
        }
        begun |= !line.trim().is_empty() && !line.starts_with('#');
        at += line.len();
    }
    None
}

/// Where the piece began that the failure broke off
fn opened_at(text: &str, words: &str) -> Option<usize> {
    let (_, context) = words.split_once(", while ")?;
    let (line, column) = place_in_words(context)?;
    Some(Walker::new(text).to(line, column))
}

/// Message and help for what the reader says, with the text where it stopped
fn in_our_words(words: &str, rest: &str) -> (String, &'static str) {
    let first = rest.chars().next().unwrap_or(' ');
    if first == '\t' {
        return ("a tab where the line is indented".to_owned(), "indent with spaces");
    }
    if words.contains("cannot start any token") {
        return (format!("a text cannot begin with `{first}`"), "put it in quotes");
    }
    SAYINGS.iter().find(|(theirs, _, _)| words.contains(theirs)).map_or_else(
        || ("this cannot be read as YAML".to_owned(), ""),
        |(_, ours, help)| ((*ours).to_owned(), help),
    )
}

/// What the reader says, what we say, and what to do
const SAYINGS: &[(&str, &str, &str)] = &[
    (
        "',' or ']'",
        "a list that does not go on here and is not closed",
        "put a comma between its items and `]` at its end",
    ),
    (
        "',' or '}'",
        "keys in braces that do not go on here and are not closed",
        "put a comma between them and `}` at their end",
    ),
    (
        "mapping values are not allowed",
        "a colon where none can stand",
        "give each key a line of its own, and put a text that holds a colon in quotes",
    ),
    ("could not find expected ':'", "a key without its colon", "write `key: value`"),
    (
        "did not find expected key",
        "a line that belongs to nothing above it",
        "begin the keys of one map in the same column",
    ),
    (
        "'-' indicator",
        "a line that belongs to nothing above it",
        "begin the items of one list in the same column, each with `- `",
    ),
    (
        "block sequence entries are not allowed",
        "a list item where none can stand",
        "begin the list on a line of its own",
    ),
    ("comment or line break", "text behind `|` or `>`", "begin the text on the next line, indented"),
    ("document indicator", "a line of `---` or `...` inside a text in quotes", "close the quotes before it"),
    ("unexpected end of stream", "a text in quotes that is not closed", "put the same quote at its end"),
    (
        "escape",
        "a `\\` before something it does not go with",
        "use single quotes, in which a `\\` is only itself",
    ),
    (
        "hexadecimal",
        "a `\\` before something it does not go with",
        "use single quotes, in which a `\\` is only itself",
    ),
    (
        "unknown anchor",
        "a name after `*` that stands for nothing",
        "write what is meant in full; a text that begins so goes in quotes",
    ),
    ("<document start>", "text after the end of the keys", "begin the keys of one map in the same column"),
    ("node content", "a value is missing before this", "put a text that begins with a mark in quotes"),
];

/// Start of the last line with something on it
fn last_line(text: &str) -> usize {
    let filled = text.trim_end();
    let start = filled.rfind(['\n', '\r']).map_or(0, |at| at + 1);
    let line = filled.get(start..).unwrap_or_default();
    start + line.len() - line.trim_start().len()
}

/// The nearest place at or before a byte where a character begins
fn floor(text: &str, byte: usize) -> usize {
    let byte = byte.min(text.len());
    (0..=byte).rev().find(|&at| text.is_char_boundary(at)).unwrap_or(0)
}

fn span(whole: Span, start: usize, end: usize) -> Span {
    Span { source: whole.source, start, end: end.max(start) }
}
