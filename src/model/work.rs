//! What work can do to whoever does it, and to other work of the same visit.

/// What can hurt
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Hazard {
    /// What it is
    pub what: String,
    /// The starts of the words that tell of it, in small letters
    pub words: Vec<String>,
    /// The starts of the words of which a caution against it says one, in small letters
    pub beware: Vec<String>,
}

impl Hazard {
    /// The word by which a text tells of it
    pub fn named_in(&self, text: &str) -> Option<&str> {
        let text = text.to_lowercase();
        let word = self.words.iter().find(|word| has_word(&text, word))?;
        Some(word)
    }

    /// Whether a caution speaks of it
    pub fn cautioned_in(&self, caution: &str) -> bool {
        let caution = caution.to_lowercase();
        self.beware.iter().any(|word| has_word(&caution, word))
    }
}

/// Whether a word of a text starts with another
fn has_word(text: &str, start: &str) -> bool {
    let inside = |at: usize| text.get(..at).is_some_and(|before| before.ends_with(char::is_alphanumeric));
    text.match_indices(start).any(|(at, _)| !inside(at))
}

/// When in a visit a remedy sets right what is there
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Setting {
    /// Behind the repairs
    BehindRepairs,
    /// Last of all, since any other work undoes it
    Last,
}
