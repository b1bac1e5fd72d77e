//! Places in a YAML text: from the characters its parser counts to bytes, and to the ends of lines and words.

use crate::invariant::Hold;
use crate::source::piece;

/// Bytes by the number of the character that begins there
pub(super) struct Bytes {
    /// None where every character is one byte
    starts: Option<Vec<usize>>,
    end: usize,
}

impl Bytes {
    /// Those of a text
    pub(super) fn of(text: &str) -> Self {
        let starts = (!text.is_ascii()).then(|| text.char_indices().map(|(at, _)| at).collect());
        Bytes { starts, end: text.len() }
    }

    /// The byte at which a character begins, counted from 0; the end of the text for those past the last
    pub(super) fn at(&self, character: usize) -> usize {
        match &self.starts {
            Some(starts) => starts.get(character).copied().unwrap_or(self.end), // else: as said above
            None => character.min(self.end),
        }
    }
}

/// True for what a reader takes for the end of a line: line feed, carriage return, next line, line and paragraph separator
pub(super) fn is_break(letter: char) -> bool {
    matches!(letter, '\n' | '\r' | '\u{85}' | '\u{2028}' | '\u{2029}')
}

/// Length of the first line of a text, without the space at its end
pub(super) fn first_line(text: &str) -> usize {
    let line = text.split(is_break).next().hold("a text has a first line, if an empty one");
    line.trim_end().len()
}

/// End of the line that holds a byte, without the space before it
pub(super) fn line_end(text: &str, from: usize) -> usize {
    from + first_line(piece(text, from..))
}

/// The next byte with something on it that is no space, no comment and no mark of a list or map
pub(super) fn ahead(text: &str, from: usize) -> usize {
    let mut at = from;
    while let Some(rest) = text.get(at..)
        && let Some(letter) = rest.chars().next()
    {
        match letter {
            '#' => at += rest.find(is_break).unwrap_or(rest.len()), // else: the comment ends the text
            '-' | '?' | ':' | ',' | '[' | '{' => at += 1,
            letter if letter.is_whitespace() => at += letter.len_utf8(),
            _ => break,
        }
    }
    at
}

/// End of the word that starts at a byte: at least one character, as long as the text has one
pub(super) fn word_end(text: &str, from: usize) -> usize {
    let rest = piece(text, from..);
    let is_end = |letter: char| letter.is_whitespace() || ",[]{}".contains(letter);
    let first = rest.chars().next().map_or(0, char::len_utf8);
    let tail = piece(rest, first..);
    if rest.starts_with(is_end) {
        return from + first;
    }
    from + first + tail.find(is_end).unwrap_or(tail.len()) // else: the word ends the text
}
