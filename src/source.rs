//! Where a text came from: files held in memory, byte spans in them, lines and columns at the edge.

use crate::invariant::Hold;
use std::slice::SliceIndex;

/// Number of a file among [`Sources`], in the order in which they were added
#[derive(Clone, Copy, Debug, Default, Eq, Hash, Ord, PartialEq, PartialOrd)]
pub struct SourceId(usize);

/// Byte range `start..end` in one file
#[derive(Clone, Copy, Debug, Default, Eq, Hash, Ord, PartialEq, PartialOrd)]
pub struct Span {
    /// File that holds the range
    pub source: SourceId,
    /// First byte of the range
    pub start: usize,
    /// Byte after the last of the range
    pub end: usize,
}

impl Span {
    /// The smallest span that covers both; `other` is taken to lie in the same file
    pub fn to(self, other: Span) -> Span {
        Span { source: self.source, start: self.start.min(other.start), end: self.end.max(other.end) }
    }
}

/// A value with the place it was written at; compares by the value alone, so that trees compare without their places
#[derive(Clone, Debug, Default)]
pub struct Spanned<T> {
    /// What was written
    pub value: T,
    /// Where it was written
    pub at: Span,
}

impl<T> Spanned<T> {
    /// A value written at `at`
    pub fn new(value: T, at: Span) -> Self {
        Spanned { value, at }
    }
}

impl<T: PartialEq> PartialEq for Spanned<T> {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

/// Largest file taken in: rules and cases are written by hand, and a megabyte is some 20,000 lines of them
pub const LARGEST_FILE: usize = 1 << 20;

/// The byte order mark
const MARK: char = '\u{feff}';

/// Why the bytes of a file cannot be taken as text
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Unreadable {
    /// More than [`LARGEST_FILE`] bytes
    TooLarge {
        /// Size of the file in bytes
        bytes: usize,
    },
    /// Not UTF-8, or with a zero byte in it
    NotText {
        /// First byte that is not text
        byte: usize,
    },
}

/// One file in memory
#[derive(Clone, Debug)]
struct Source {
    name: String,
    text: String,
    /// A byte order mark stood in front
    marked: bool,
}

/// All files read in one run
#[derive(Clone, Debug, Default)]
pub struct Sources {
    files: Vec<Source>,
}

/// A place as people count it: lines and columns from 1, columns in characters
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Place {
    /// Name of the file
    pub file: String,
    /// Line, from 1
    pub line: usize,
    /// Column in characters, from 1
    pub column: usize,
}

impl Sources {
    /// Takes in a text; a byte order mark in front is dropped
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> SourceId {
        let mut text = text.into();
        let marked = text.starts_with(MARK);
        if marked {
            text.drain(..MARK.len_utf8());
        }
        self.files.push(Source { name: name.into(), text, marked });
        SourceId(self.files.len() - 1)
    }

    /// Takes in the bytes of a file. What is no text is taken in as empty, so that a problem has a place to stand.
    ///
    /// # Errors
    /// The number of the (empty) file with the reason, when the bytes are too many or no text.
    pub fn add_bytes(
        &mut self,
        name: impl Into<String>,
        bytes: Vec<u8>,
    ) -> Result<SourceId, (SourceId, Unreadable)> {
        let fault = if bytes.len() > LARGEST_FILE {
            Unreadable::TooLarge { bytes: bytes.len() }
        } else if let Some(byte) = bytes.iter().position(|&byte| byte == 0) {
            Unreadable::NotText { byte }
        } else {
            match String::from_utf8(bytes) {
                Ok(text) => return Ok(self.add(name, text)),
                Err(fault) => Unreadable::NotText { byte: fault.utf8_error().valid_up_to() },
            }
        };
        Err((self.add(name, ""), fault))
    }

    /// Name of a file as it was given
    pub fn name(&self, id: SourceId) -> &str {
        self.files.get(id.0).map_or("", |file| file.name.as_str())
    }

    /// Whole text of a file
    pub fn text(&self, id: SourceId) -> &str {
        self.files.get(id.0).map_or("", |file| file.text.as_str())
    }

    /// The bytes that a file was read from; none for what is no text
    pub fn bytes(&self, id: SourceId) -> Vec<u8> {
        let marked = self.files.get(id.0).is_some_and(|file| file.marked);
        let mark = if marked { MARK.to_string() } else { String::new() };
        (mark + self.text(id)).into_bytes()
    }

    /// The piece of text under a span; empty when the span does not fit the file
    pub fn slice(&self, span: Span) -> &str {
        self.text(span.source).get(span.start..span.end).unwrap_or("") // else: as said above
    }

    /// Span of a whole file
    pub fn whole(&self, id: SourceId) -> Span {
        Span { source: id, start: 0, end: self.text(id).len() }
    }

    /// Line and column of the start of a span
    pub fn place(&self, span: Span) -> Place {
        let text = self.text(span.source);
        let before = text.get(..span.start).unwrap_or(text); // else: it does not fit the file: the end
        let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
        Place {
            file: self.name(span.source).to_owned(),
            line: before.matches('\n').count() + 1,
            column: piece(before, line_start..).chars().count() + 1,
        }
    }

    /// Line and column just after the end of a span
    pub fn place_after(&self, span: Span) -> Place {
        self.place(Span { start: span.end, ..span })
    }

    /// All files, in the order in which they were added
    pub fn ids(&self) -> impl Iterator<Item = SourceId> + use<> {
        (0..self.files.len()).map(SourceId)
    }
}

/// The piece of a text between places that were found in it
pub fn piece(text: &str, bytes: impl SliceIndex<str, Output = str>) -> &str {
    text.get(bytes).hold("a place found in a text lies between two letters of it")
}

/// What a text starts with as long as its letters are such
pub fn run(text: &str, is_such: impl Fn(char) -> bool) -> &str {
    piece(text, ..text.len() - text.trim_start_matches(is_such).len())
}
