//! What is said of a text that cannot be read as one map of keys: the YAML reader's failures in words for the field.

use crate::case::fields::quoted;
use crate::case::walk::{ahead, line_end, word_end};
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::{Span, piece};

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

/// The characters that YAML 1.2 lets stand (its production 1, `c-printable`), but for the mark of byte order, which may begin
/// a file and nothing else
fn is_printable(letter: char) -> bool {
    letter != '\u{feff}'
        && matches!(letter, '\t' | '\n' | '\r' | ' '..='~' | '\u{85}' | '\u{a0}'..='\u{fffd}' | '\u{10000}'..)
}

/// The problem of a nesting deeper than a case can be
pub(super) fn too_deep(at: Span) -> Problem {
    Problem::new(Code::TooDeep, at, "lists and keys nested deeper than a case goes")
}

/// The problem of a mark that a case does not take, the next thing written after a byte
pub(super) fn refused_mark(text: &str, whole: Span, from: usize) -> Problem {
    let start = ahead(text, from);
    let end = word_end(text, start);
    let word = piece(text, start..end);
    let what =
        if word.starts_with('!') { "names a sort of value" } else { "stands for another piece of the file" };
    let message = format!("`{}` {what}", quoted(word));
    let help = "write what is meant in full; a text that begins so goes in quotes";
    Problem::new(Code::CaseSyntax, span(whole, start, end), message).help(help)
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

/// The problem of a second document, which begins at a byte
pub(super) fn second_document(text: &str, whole: Span, start: usize) -> Problem {
    let at = span(whole, start, line_end(text, start));
    Problem::new(Code::CaseSyntax, at, "a second document begins here")
        .help("one file is one visit: give the second a file of its own")
}

/// The problem behind what the parser says at a byte, with the starts of the lists and maps open there
pub(super) fn problem(text: &str, whole: Span, says: &str, failed: usize, open: &[usize]) -> Problem {
    let saying = SAYINGS.iter().find(|own| says.contains(own.theirs));
    let inside = open.last().copied().filter(|&start| text.get(start..).is_some_and(is_opened));
    let (opened, start) = match saying.map(|own| own.place) {
        Some(Underline::Open) => (Some(failed), last_line(text)),
        Some(Underline::Escape) => (None, wrong_escape(text, failed)),
        Some(Underline::Tab) => (None, failed - spaces_before(text, failed)),
        Some(Underline::Here | Underline::Rest) | None => {
            (inside, if at_end(text, failed) { last_line(text) } else { failed })
        }
    };
    let (message, help) = in_our_words(saying, text, start, inside);
    let end = match saying.map(|own| own.place) {
        Some(Underline::Rest) => line_end(text, start),
        Some(Underline::Tab) => start + 1,
        _ => word_end(text, start),
    };
    let problem = Problem::new(Code::CaseSyntax, span(whole, start, end), message).help(help);
    match opened.filter(|&opened| opened < start) {
        Some(opened) => problem.also(span(whole, opened, word_end(text, opened)), "begun here"),
        None => problem,
    }
}

/// Whether nothing is left to underline at a byte
fn at_end(text: &str, at: usize) -> bool {
    let rest = piece(text, at..);
    rest.trim().is_empty() && !rest.starts_with('\t')
}

/// Whether a text begins with a bracket that must be closed
fn is_opened(text: &str) -> bool {
    text.starts_with(['[', '{'])
}

/// Length of the tabs and spaces before a byte, from the first tab among them
fn spaces_before(text: &str, at: usize) -> usize {
    let before = piece(text, ..at);
    let space = piece(before, before.trim_end_matches(['\t', ' ']).len()..);
    space.find('\t').map_or(0, |tab| space.len() - tab)
}

/// The first `\` of a text in double quotes that stands before something it does not go with; the quote where none does
fn wrong_escape(text: &str, quote: usize) -> usize {
    let mut letters = piece(text, quote..).char_indices();
    while let Some((at, letter)) = letters.next() {
        if letter != '\\' {
            continue;
        }
        let digits = match letters.next().map(|(_, letter)| letter) {
            Some('x') => 2,
            Some('u') => 4,
            Some('U') => 8,
            Some(known) if "0abt\tnvfe \"/\\N_LP\r\n".contains(known) => 0,
            _ => return quote + at,
        };
        let number: String = letters.by_ref().take(digits).map(|(_, letter)| letter).collect();
        let stands_for_one = u32::from_str_radix(&number, 16).ok().and_then(char::from_u32).is_some();
        if digits > 0 && !(number.len() == digits && stands_for_one) {
            return quote + at;
        }
    }
    quote
}

/// Message and help for what the parser says where it stopped, and with the bracket that is open there
fn in_our_words(
    saying: Option<&Saying>,
    text: &str,
    start: usize,
    inside: Option<usize>,
) -> (String, &'static str) {
    let first = |at: usize| text.get(at..).and_then(|rest| rest.chars().next());
    match (first(start), saying) {
        (Some('\t'), _) => ("a tab where the line is indented".to_owned(), "indent with spaces"),
        (Some(first @ ('@' | '`' | '%')), _) => {
            (format!("a text cannot begin with `{first}`"), "put it in quotes")
        }
        (_, Some(own)) if own.ours == COLON => match inside.and_then(first) {
            Some('[') => (LIST.to_owned(), LIST_HELP),
            Some('{') => (BRACES.to_owned(), BRACES_HELP),
            _ => (own.ours.to_owned(), own.help),
        },
        (_, Some(own)) => (own.ours.to_owned(), own.help),
        (_, None) => ("this cannot be read as YAML".to_owned(), ""),
    }
}

/// What is underlined for something that the parser says
#[derive(Clone, Copy)]
enum Underline {
    /// At the word where it stopped
    Here,
    /// On all of the line from there
    Rest,
    /// At the end of the file, with the quote it stopped at as the beginning
    Open,
    /// At the escape within the text in quotes it stopped at
    Escape,
    /// At the tab before the word where it stopped
    Tab,
}

/// What the parser says, in our words
struct Saying {
    /// Part of what it says
    theirs: &'static str,
    /// What is wrong
    ours: &'static str,
    /// What to do
    help: &'static str,
    place: Underline,
}

const fn at(place: Underline, theirs: &'static str, ours: &'static str, help: &'static str) -> Saying {
    Saying { theirs, ours, help, place }
}

const fn here(theirs: &'static str, ours: &'static str, help: &'static str) -> Saying {
    at(Underline::Here, theirs, ours, help)
}

const LIST: &str = "a list that does not go on here and is not closed";
const LIST_HELP: &str = "put a comma between its items and `]` at its end";
const BRACES: &str = "keys in braces that do not go on here and are not closed";
const BRACES_HELP: &str = "put a comma between them and `}` at their end";
const STRAY: &str = "a line that belongs to nothing above it";
const COLUMN: &str = "begin the keys of one map in the same column";
const ESCAPE: &str = "a `\\` before something it does not go with";
const ESCAPE_HELP: &str = "use single quotes, in which a `\\` is only itself";
const COLON: &str = "a colon where none can stand";
const COLON_HELP: &str = "give each key a line of its own, and put a text that holds a colon in quotes";
const UNCLOSED: &str = "a text in quotes that is not closed";
const UNCLOSED_HELP: &str = "put the same quote at its end";

/// The first that is said counts
const SAYINGS: &[Saying] = &[
    here("',' or ']'", LIST, LIST_HELP),
    here("',' or '}'", BRACES, BRACES_HELP),
    here("mapping values are not allowed", COLON, COLON_HELP),
    here("placement of ':'", COLON, COLON_HELP),
    here("simple key expect", "a key without its colon", "write `key: value`"),
    here("did not find expected key", STRAY, COLUMN),
    here("'-' indicator", STRAY, "begin the items of one list in the same column, each with `- `"),
    here(
        "block sequence entries are not allowed",
        "a list item where none can stand",
        "begin the list on a line of its own",
    ),
    here("comment or line break", "text behind `|` or `>`", "begin the text on the next line, indented"),
    at(
        Underline::Open,
        "unexpected document indicator",
        "a line of `---` or `...` inside a text in quotes",
        "close the quotes before it",
    ),
    at(Underline::Open, "quoted scalar, found unexpected end of stream", UNCLOSED, UNCLOSED_HELP),
    at(Underline::Open, "indentation in quoted scalar", UNCLOSED, UNCLOSED_HELP),
    at(Underline::Escape, "escape", ESCAPE, ESCAPE_HELP),
    at(Underline::Escape, "hexadecimal", ESCAPE, ESCAPE_HELP),
    at(Underline::Tab, "tab", "a tab where the line is indented", "indent with spaces"),
    here(
        "unknown anchor",
        "a name after `*` that stands for nothing",
        "write what is meant in full; a text that begins so goes in quotes",
    ),
    at(Underline::Rest, "<document start>", "text after the end of the keys", COLUMN),
    here("node content", "a value is missing before this", "put a text that begins with a mark in quotes"),
];

/// Start of the last line with something on it
fn last_line(text: &str) -> usize {
    let filled = text.trim_end();
    let start = filled.rfind(['\n', '\r']).map_or(0, |at| at + 1);
    let line = piece(filled, start..);
    start + line.len() - line.trim_start().len()
}

fn span(whole: Span, start: usize, end: usize) -> Span {
    Span { source: whole.source, start, end: end.max(start) }
}
