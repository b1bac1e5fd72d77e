//! Lines and columns as editors count them: from 0, on a line in bytes or in units of UTF-16.

use crate::invariant::Hold;
use crate::source::{self, Span};
use lsp_types::{Position, Range};

/// What is counted on a line
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq)]
pub enum Encoding {
    /// Bytes
    Utf8,
    /// Units of UTF-16, two for a sign above U+FFFF; what the protocol has where nothing else was agreed on
    #[default]
    Utf16,
}

/// The lines of a text
pub struct Lines<'t> {
    text: &'t str,
    /// First byte of each line
    starts: Vec<usize>,
    encoding: Encoding,
    /// The editor counts a byte order mark in front, which the text has no more
    mark: bool,
}

impl<'t> Lines<'t> {
    /// Cuts a text into lines, which end with a line feed, a carriage return or both
    pub fn new(text: &'t str, encoding: Encoding, mark: bool) -> Self {
        let bytes = text.as_bytes();
        let ends = bytes
            .iter()
            .enumerate()
            .filter(|&(at, &byte)| byte == b'\n' || byte == b'\r' && bytes.get(at + 1) != Some(&b'\n'));
        let starts = std::iter::once(0).chain(ends.map(|(at, _)| at + 1)).collect();
        Lines { text, starts, encoding, mark }
    }

    /// Where a byte stands
    pub fn position(&self, byte: usize) -> Position {
        let line = self.starts.partition_point(|&start| start <= byte).saturating_sub(1);
        let start = self.starts.get(line).copied().hold("the first line starts at or before any byte");
        let mut end = byte.min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        let columns: usize = source::piece(self.text, start..end).chars().map(|sign| self.width(sign)).sum();
        let columns = columns + self.in_front(line);
        Position { line: number(line), character: number(columns) }
    }

    /// Where a piece of the text stands
    pub fn range(&self, span: Span) -> Range {
        Range { start: self.position(span.start), end: self.position(span.end) }
    }

    /// The byte at a place; a column past the end of a line is its end, and a line past the last is none
    pub fn byte(&self, position: Position) -> Option<usize> {
        let line = usize::try_from(position.line).ok()?;
        let start = self.starts.get(line).copied()?;
        let end = self.starts.get(line + 1).copied().unwrap_or(self.text.len()); // else: it is the last line
        let content = self.text.get(start..end)?.trim_end_matches(['\n', '\r']);
        let mut left = usize::try_from(position.character).ok()?.saturating_sub(self.in_front(line));
        let mut byte = start;
        for sign in content.chars() {
            // Within a sign is before it.
            if left < self.width(sign) {
                break;
            }
            left -= self.width(sign);
            byte += sign.len_utf8();
        }
        Some(byte)
    }

    fn width(&self, sign: char) -> usize {
        match self.encoding {
            Encoding::Utf8 => sign.len_utf8(),
            Encoding::Utf16 => sign.len_utf16(),
        }
    }

    fn in_front(&self, line: usize) -> usize {
        if self.mark && line == 0 { self.width('\u{feff}') } else { 0 }
    }
}

fn number(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX) // else: the protocol counts no further
}
