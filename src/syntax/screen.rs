//! A look over the raw lines before the grammar sees them: texts left open, and what is longer or deeper than any
//! hand writes, which the grammar must not be asked to take apart.
//!
//! A line at fault is told here. From the fault on it is crossed out, byte for byte: it reads as broken, all places
//! stay right, and what stands before the fault still says which block it was.

use crate::invariant::Hold;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{SourceId, Sources, Span, piece, run};

/// Deepest nesting of brackets taken: hand-written expressions have two or three, and the stack must hold
const MOST_DEEP: usize = 64;
/// Most signs and `of`s on a line: hand-written expressions have five or six, and each goes one deeper
const MOST_STEPS: usize = 64;
/// Longest word taken, in bytes: names are compared letter by letter when one is offered for another
pub(super) const LONGEST_WORD: usize = 60;
/// Most digits of a number: more than any reading has, and few enough to be kept to the last
const MOST_DIGITS: usize = 12;

/// The sign that crosses out; what is wrong with a line that holds one has been told
pub(super) const CROSSED_OUT: char = '\u{1}';

/// The text of a file with the lines at fault crossed out from the fault on
pub(super) fn screen(sources: &Sources, id: SourceId, problems: &mut Problems) -> String {
    let mut screened = String::with_capacity(sources.text(id).len() + 1);
    let mut start = 0;
    for line in sources.text(id).split_inclusive('\n') {
        match fault(line.trim_end()) {
            None => screened.push_str(line),
            Some((fault, from, to)) => {
                problems.push(fault.problem(Span { source: id, start: start + from, end: start + to }));
                let (good, bad) = line.split_at_checked(from).hold("a fault starts at a letter");
                screened.push_str(good);
                screened.extend(bad.bytes().map(crossed_out));
            }
        }
        start += line.len();
    }
    screened
}

fn crossed_out(byte: u8) -> char {
    if byte == b'\n' || byte == b'\r' { char::from(byte) } else { CROSSED_OUT }
}

/// What is wrong with a line
enum Fault {
    Unclosed,
    Control(u8),
    Deep,
    Steps,
    Word,
    Digits,
}

/// The first fault of a line, with the bytes where it starts and ends
fn fault(line: &str) -> Option<(Fault, usize, usize)> {
    let mut open_text = None;
    let mut depth = 0_usize;
    let mut steps = 0_usize;
    let mut rest = line;
    while let Some(sign) = rest.chars().next() {
        let at = line.len() - rest.len();
        let word = if open_text.is_none() { word(rest) } else { "" };
        if sign.is_ascii_control() && sign != '\t' {
            return Some((Fault::Control(u8::try_from(sign).hold("it is ASCII")), at, at + 1));
        }
        match sign {
            '"' if open_text.is_none() => open_text = Some(at),
            '"' => open_text = None,
            _ if open_text.is_some() => {}
            '#' => return control(rest).map(|(from, byte)| (Fault::Control(byte), at + from, at + from + 1)),
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            '+' | '-' | '*' | '/' => steps += 1,
            _ => steps += usize::from(word == "of"),
        }
        let digits = word.bytes().take_while(u8::is_ascii_digit).count();
        let fault = match () {
            () if depth > MOST_DEEP => Some((Fault::Deep, 1)),
            () if steps > MOST_STEPS => Some((Fault::Steps, word.len().max(1))),
            () if digits > MOST_DIGITS => Some((Fault::Digits, word.len())),
            () if word.len() > LONGEST_WORD => Some((Fault::Word, word.len())),
            () => None,
        };
        if let Some((fault, length)) = fault {
            return Some((fault, at, at + length));
        }
        rest = piece(rest, word.len().max(sign.len_utf8())..);
    }
    open_text.map(|at| (Fault::Unclosed, at, line.len()))
}

/// The first sign of a comment that no hand writes: to the grammar one may be a line end, or a crossing out
fn control(comment: &str) -> Option<(usize, u8)> {
    comment.bytes().enumerate().find(|(_, byte)| byte.is_ascii_control() && *byte != b'\t')
}

/// The word that a text starts with; empty when it starts with a sign
fn word(text: &str) -> &str {
    run(text, |sign| sign.is_alphanumeric() || sign == '_')
}

impl Fault {
    fn problem(&self, at: Span) -> Problem {
        let too_deep = |message: String| {
            Problem::new(Code::TooDeep, at, message)
                .help("split the expression: give its pieces names of their own with `measure … is …`")
        };
        match self {
            Fault::Unclosed => Problem::new(Code::UnclosedText, at, "this text has no closing quote")
                .help("a text stands in double quotes on one line; close it with `\"`"),
            Fault::Control(byte) => Problem::new(
                Code::Syntax,
                at,
                format!("byte {byte} stands here, which is no sign to be read"),
            )
            .help("delete it, and save the file as plain text"),
            Fault::Deep => too_deep(format!("brackets are nested more than {MOST_DEEP} deep")),
            Fault::Steps => too_deep(format!("this line reckons in more than {MOST_STEPS} steps")),
            Fault::Word => {
                Problem::new(Code::Syntax, at, format!("this word is longer than {LONGEST_WORD} letters"))
                    .help("choose a shorter one")
            }
            Fault::Digits => {
                Problem::new(Code::Syntax, at, format!("this number has more than {MOST_DIGITS} digits"))
                    .help("round it: no reading and no share is that fine")
            }
        }
    }
}
