//! A line up to the word being typed, cut into words and signs.

use crate::invariant::Hold;
use crate::source::run;
use crate::syntax::language;

/// The words and signs of a line before the one being typed
pub(super) struct Line<'t> {
    /// The words and signs, a text in quotes as one
    pub(super) words: Vec<&'t str>,
    /// Which of them stand behind two blanks or more, or first
    gaps: Vec<bool>,
    /// The word being typed stands behind two blanks or more
    pub(super) ends_in_gap: bool,
}

/// The clause of a line that the word being typed belongs to
pub(super) struct Clause<'l, 't> {
    /// The word it starts with; empty where nothing stands yet
    pub(super) word: &'t str,
    /// What stands behind that word
    pub(super) rest: &'l [&'t str],
    /// What stands behind its `where`
    pub(super) test: Option<&'l [&'t str]>,
}

impl<'t> Line<'t> {
    /// Cuts a line
    pub(super) fn read(line: &'t str) -> Self {
        let mut read = Line { words: Vec::new(), gaps: Vec::new(), ends_in_gap: line.ends_with("  ") };
        let mut rest = line;
        loop {
            let trimmed = rest.trim_start();
            let gap = rest.len() - trimmed.len() > 1 || read.words.is_empty();
            let Some(first) = trimmed.chars().next() else { return read };
            let length = match first {
                '"' => trimmed.get(1..).and_then(|text| text.find('"')).map_or(trimmed.len(), |end| end + 2),
                sign if is_word(sign) => run(trimmed, is_word).len(),
                sign => sign.len_utf8(),
            };
            let (word, after) = trimmed.split_at_checked(length).hold("a word ends at a letter");
            read.words.push(word);
            read.gaps.push(gap);
            rest = after;
        }
    }

    /// The last clause that starts on the line at or behind a word
    pub(super) fn clause(&self, from: usize) -> Clause<'_, 't> {
        let mut start = from;
        for (number, (word, gap)) in self.words.iter().zip(&self.gaps).enumerate().skip(from) {
            // `from spread of …` starts no clause of its own.
            if *gap && number > start + 1 && starts_clause(word) {
                start = number;
            }
        }
        let rest = self.words.get(start + 1..).unwrap_or_default(); // else: nothing stands there yet
        let place = rest.iter().rposition(|word| *word == "where");
        Clause {
            word: self.words.get(start).copied().unwrap_or(""), // else: nothing stands there yet
            rest,
            test: place.and_then(|place| rest.get(place + 1..)),
        }
    }
}

/// Whether a sign is part of a word or a number
fn is_word(sign: char) -> bool {
    sign.is_alphanumeric() || sign == '_' || sign == '.'
}

fn starts_clause(word: &str) -> bool {
    language::starting_with(word).is_some()
}
