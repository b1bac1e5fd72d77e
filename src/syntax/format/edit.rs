//! Pieces of a text that are taken out or put in.

/// Pieces to be replaced, by the bytes they start and end at
#[derive(Default)]
pub(super) struct Edits {
    pieces: Vec<(usize, usize, String)>,
}

impl Edits {
    /// Puts other words in the place of a piece
    pub(super) fn replace(&mut self, start: usize, end: usize, words: impl Into<String>) {
        self.pieces.push((start, end, words.into()));
    }

    /// Takes a piece out, with its line where nothing else stands there
    pub(super) fn take_out(&mut self, text: &str, start: usize, end: usize) {
        let rest = text.get(end..).unwrap_or(""); // else: nothing stands there
        let alone = rest.split('\n').next().unwrap_or("").trim().is_empty(); // else: nothing stands there
        let before = text.get(..start).unwrap_or("").trim_end_matches([' ', '\t']); // else: nothing stands there
        let first = before.is_empty() || before.ends_with('\n');
        let start = match alone && first {
            true => before.trim_end_matches(['\n', '\r', ' ', '\t']).len(),
            false => before.len(),
        };
        self.replace(start, end, "");
    }

    /// Whether there is nothing to replace
    pub(super) fn is_empty(&self) -> bool {
        self.pieces.is_empty()
    }

    /// The text with all pieces replaced; none where two of them overlap
    pub(super) fn applied(mut self, text: &str) -> Option<String> {
        self.pieces.sort_by_key(|(start, end, _)| (*start, *end));
        let mut new = String::with_capacity(text.len());
        let mut at = 0;
        for (start, end, words) in &self.pieces {
            new.push_str(text.get(at..*start)?);
            new.push_str(words);
            at = *end;
        }
        new.push_str(text.get(at..)?);
        Some(new)
    }
}
