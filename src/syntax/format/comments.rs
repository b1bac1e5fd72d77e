//! The comments of a rule file with where they stand.

use crate::source::piece;

/// A comment, from its number sign to the last sign of its line
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Comment<'a> {
    /// Byte of the number sign
    pub(super) start: usize,
    /// Its text, blanks at the end left out
    pub(super) text: &'a str,
    /// Nothing but blanks stands before it on its line
    pub(super) own_line: bool,
    /// It stands at the first column
    at_margin: bool,
}

impl Comment<'_> {
    /// Byte after its last
    pub(super) fn end(&self) -> usize {
        self.start + self.text.len()
    }

    /// Whether a comment after the last clause of a block, which ends at `end`, belongs to that block and not to what comes next
    pub(super) fn belongs_above(&self, text: &str, end: usize) -> bool {
        let gap = text.get(end..self.start).unwrap_or(""); // else: it stands inside the block
        if self.own_line { !self.at_margin && gap.trim().is_empty() } else { !gap.contains('\n') }
    }
}

/// All comments of a text in which every quote is closed on its line
pub(super) fn comments(text: &str) -> Vec<Comment<'_>> {
    let mut comments = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        if let Some(column) = number_sign(line) {
            let before = piece(line, ..column);
            comments.push(Comment {
                start: start + column,
                text: piece(line, column..).trim_end(),
                own_line: before.trim().is_empty(),
                at_margin: column == 0,
            });
        }
        start += line.len();
    }
    comments
}

/// Byte of the first number sign outside quotes
fn number_sign(line: &str) -> Option<usize> {
    let mut quoted = false;
    line.char_indices().find_map(|(at, sign)| {
        quoted ^= sign == '"';
        (sign == '#' && !quoted).then_some(at)
    })
}
