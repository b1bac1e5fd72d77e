//! A look over the raw lines before the grammar sees them: texts left open, brackets nested beyond reason.
//!
//! Lines at fault are told and blanked out, byte for byte, so that all places stay right.

use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{SourceId, Sources, Span};

/// Deepest nesting of brackets taken: hand-written expressions have two or three, and the stack must hold
const MAX_DEPTH: usize = 64;

/// The text of a file with the lines at fault blanked out
pub(super) fn screen(sources: &Sources, id: SourceId, problems: &mut Problems) -> String {
    let mut screened = String::with_capacity(sources.text(id).len() + 1);
    let mut start = 0;
    for line in sources.text(id).split_inclusive('\n') {
        match fault(line) {
            None => screened.push_str(line),
            Some(fault) => {
                problems.push(fault.told(id, start, line.trim_end().len()));
                screened.extend(line.bytes().map(blank));
            }
        }
        start += line.len();
    }
    screened
}

fn blank(byte: u8) -> char {
    if byte == b'\n' || byte == b'\r' { char::from(byte) } else { ' ' }
}

/// What is wrong with a line, with the byte where it starts
enum Fault {
    Unclosed(usize),
    Deep(usize),
}

fn fault(line: &str) -> Option<Fault> {
    let mut open_text = None;
    let mut depth = 0_usize;
    for (at, byte) in line.bytes().enumerate() {
        match (byte, open_text) {
            (b'"', None) => open_text = Some(at),
            (b'"', Some(_)) => open_text = None,
            (b'#', None) => break,
            (b'(', None) if depth == MAX_DEPTH => return Some(Fault::Deep(at)),
            (b'(', None) => depth += 1,
            (b')', None) => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    open_text.map(Fault::Unclosed)
}

impl Fault {
    fn told(&self, source: SourceId, line_start: usize, line_len: usize) -> Problem {
        let span = |start, end| Span { source, start: line_start + start, end: line_start + end };
        match *self {
            Fault::Unclosed(at) => {
                Problem::new(Code::UnclosedText, span(at, line_len), "this text has no closing quote")
                    .help("a text stands in double quotes on one line; close it with `\"`")
            }
            Fault::Deep(at) => Problem::new(
                Code::TooDeep,
                span(at, at + 1),
                format!("brackets are nested more than {MAX_DEPTH} deep"),
            )
            .help("split the expression: give its pieces names of their own with `measure … is …`"),
        }
    }
}
