//! What is told, as typed pieces in the order in which they are read.
//!
//! Whoever tells something says what each piece is: a heading, a caution, a step for or against, an entry with its number. A
//! form lays pieces out and looks at nothing else, so that no form reads what another wrote, and a new form is a `match`.
//! Pieces stand in one row rather than in one another, for that is how they are told: a chapter lasts until the next heading,
//! an entry until the next gap.
//!
//! A chapter of its own needs an entry in `form/html/report.html` and a heading in `Sheet::chapter`, from which the contents
//! are made. What weighs is a `step`, which says for or against what; what a screen tells by pointing at the check before is
//! `cautions_as_before`, since on paper that may be another sheet.

/// Pieces in the order in which they are read
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prose {
    /// The pieces
    pub pieces: Vec<Piece>,
}

/// One piece; `depth` is how many columns it stands in where columns are all there is to show what belongs to what
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// A heading
    Heading {
        /// How much stands beneath it
        level: Level,
        /// What it says
        words: String,
        /// What is said beside it in small
        beside: String,
    },
    /// The title of a numbered entry; cautions told just before it belong to it
    Entry {
        /// Where what it says begins
        depth: usize,
        /// Its number, from 1
        number: usize,
        /// What it says
        words: String,
    },
    /// A paragraph
    Paragraph {
        /// Its depth
        depth: usize,
        /// What it says
        words: String,
    },
    /// A paragraph that a name stands before, as in `To do`
    Named {
        /// Its depth
        depth: usize,
        /// The name
        name: &'static str,
        /// What it says
        words: String,
    },
    /// A line of a list
    Item {
        /// Its depth
        depth: usize,
        /// What it says
        words: String,
    },
    /// What speaks for something, or against it
    Step {
        /// Its depth
        depth: usize,
        /// It speaks for it
        speaks_for: bool,
        /// What it speaks for or against, as in `Speaks for it`
        of: &'static str,
        /// What it says
        words: String,
    },
    /// What is said now and was not before, or the other way round
    Change {
        /// Its depth
        depth: usize,
        /// It is said now
        added: bool,
        /// What it says
        words: String,
    },
    /// What must be minded so that nobody is hurt
    Caution {
        /// Its depth
        depth: usize,
        /// What it says
        words: String,
    },
    /// Cautions that were told just before, to be told again wherever nobody would turn back for them
    CautionsAsBefore {
        /// Their depth
        depth: usize,
        /// The cautions
        cautions: Vec<String>,
    },
    /// A line as it is, no word of it moved
    Line {
        /// Its depth
        depth: usize,
        /// What it says
        words: String,
    },
    /// What follows belongs no more to what stands before
    Gap,
}

/// How much stands beneath a heading
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Level {
    /// A chapter
    Chapter,
    /// A passage about one thing, whose name must stay as it is
    Passage,
}

impl Prose {
    /// Nothing told yet
    pub fn new() -> Self {
        Self::default()
    }

    /// The heading of a chapter, written as a sentence begins
    pub fn heading(&mut self, words: &str) {
        self.heading_beside(words, "");
    }

    /// The heading of a chapter, with what is said beside it in small
    pub fn heading_beside(&mut self, words: &str, beside: &str) {
        let (words, beside) = (words.to_owned(), beside.to_owned());
        self.pieces.push(Piece::Heading { level: Level::Chapter, words, beside });
    }

    /// The heading of a passage
    pub fn passage(&mut self, words: &str) {
        let words = words.to_owned();
        self.pieces.push(Piece::Heading { level: Level::Passage, words, beside: String::new() });
    }

    /// The title of a numbered entry
    pub fn entry(&mut self, depth: usize, number: usize, words: &str) {
        self.pieces.push(Piece::Entry { depth, number, words: words.to_owned() });
    }

    /// A paragraph
    pub fn say(&mut self, depth: usize, words: &str) {
        self.pieces.push(Piece::Paragraph { depth, words: words.to_owned() });
    }

    /// A paragraph with a name before it
    pub fn named(&mut self, depth: usize, name: &'static str, words: &str) {
        self.pieces.push(Piece::Named { depth, name, words: words.to_owned() });
    }

    /// A line of a list
    pub fn item(&mut self, depth: usize, words: &str) {
        self.pieces.push(Piece::Item { depth, words: words.to_owned() });
    }

    /// What speaks for something, or against it
    pub fn step(&mut self, depth: usize, speaks_for: bool, of: &'static str, words: &str) {
        self.pieces.push(Piece::Step { depth, speaks_for, of, words: words.to_owned() });
    }

    /// What is said now and was not before, or the other way round
    pub fn change(&mut self, depth: usize, added: bool, words: &str) {
        self.pieces.push(Piece::Change { depth, added, words: words.to_owned() });
    }

    /// What must be minded so that nobody is hurt
    pub fn caution(&mut self, depth: usize, words: &str) {
        self.pieces.push(Piece::Caution { depth, words: words.to_owned() });
    }

    /// Cautions that were told just before; nothing where there are none
    pub fn cautions_as_before(&mut self, depth: usize, cautions: &[String]) {
        if !cautions.is_empty() {
            self.pieces.push(Piece::CautionsAsBefore { depth, cautions: cautions.to_vec() });
        }
    }

    /// Lines as they are
    pub fn lines(&mut self, depth: usize, text: &str) {
        self.pieces.extend(text.lines().map(|line| Piece::Line { depth, words: line.to_owned() }));
    }

    /// What follows belongs no more to what stands before
    pub fn gap(&mut self) {
        self.pieces.push(Piece::Gap);
    }

    /// What another tells, after this
    #[must_use]
    pub fn then(mut self, after: Prose) -> Self {
        self.pieces.extend(after.pieces);
        self
    }
}
