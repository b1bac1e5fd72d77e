//! The rule files as they were written: declarations and clauses with their places, nothing resolved.

mod clause;

pub use super::language::Sort;
use crate::source::{Span, Spanned};
pub use clause::{
    As, Basis, Bounded, Chance, Clause, Counted, Drawn, Effect, Entry, Frequency, Grades, Lasts, Line,
    Mended, Parent, Reach, Renewed, Taken,
};

/// One rule file
#[derive(Clone, Debug, Default, PartialEq)]
pub struct File {
    /// What it says once for all of them, in order
    pub statements: Vec<Spanned<Statement>>,
    /// Its declarations, in order
    pub declarations: Vec<Declaration>,
    /// Names in head lines that do not even say what they declare: their uses are not reported as faults too
    pub unread: Vec<String>,
}

/// What is said once for a whole file, or for all files
#[derive(Clone, Debug, PartialEq)]
pub enum Statement {
    /// `basis estimate for remedy`: where the blocks of this file come from that do not say so themselves
    Basis {
        /// Where they come from
        basis: Basis,
        /// Which blocks; none for all
        sorts: Vec<Spanned<Sort>>,
    },
    /// `opposites "left" and "right"`: words that a mirrored line swaps, in all files
    Opposites(Vec<[Spanned<String>; 2]>),
    /// `hazard "lifting": "lift", "jack" beware "crib"`: what can hurt, in all files
    Hazard {
        /// What it is
        what: Spanned<String>,
        /// The starts of the words that tell of it
        words: Vec<Spanned<String>>,
        /// The starts of the words of which a caution against it says one; none for those that tell of it
        beware: Vec<Spanned<String>>,
    },
}

/// One block of a rule file
#[derive(Clone, Debug, PartialEq)]
pub struct Declaration {
    /// What is declared
    pub sort: Spanned<Sort>,
    /// Its name; the scale has none, and its keyword stands here
    pub name: Spanned<String>,
    /// What follows the name: places and the part it is seen on
    pub attributes: Vec<Spanned<Attribute>>,
    /// Its quoted label, without the quotes
    pub label: Option<Spanned<String>>,
    /// The party a kind counts against
    pub against: Option<Spanned<String>>,
    /// Its clauses, in order
    pub clauses: Vec<Spanned<Clause>>,
    /// Some of its lines could not be read, so that what seems missing may have stood there
    pub broken: bool,
}

impl Declaration {
    /// Its head without the clauses that stand on the same line
    pub fn head(&self) -> Span {
        let label = self.label.as_ref().map(|label| label.at);
        let against = self.against.as_ref().map(|against| against.at);
        self.sort.at.to(against.or(label).unwrap_or(self.name.at)) // else: the name ends it
    }

    /// Stands in for a declaration whose head line could not be read, while its other lines are looked over
    pub(super) fn unread() -> Self {
        Declaration {
            sort: Spanned::new(Sort::Symptom, Span::default()),
            name: Spanned::default(),
            attributes: Vec::new(),
            label: None,
            against: None,
            clauses: Vec::new(),
            broken: true,
        }
    }
}

/// What follows a name, after a comma
#[derive(Clone, Debug, PartialEq)]
pub enum Attribute {
    /// `each side`, `each roller`
    Each(Spanned<String>),
    /// `numbered`, `numbered 5 to 9`
    Numbered(Option<(f64, f64)>),
    /// `of idler`
    Of(Spanned<String>),
}

/// A number with the unit written behind it
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// The number as written
    pub value: f64,
    /// The unit as written
    pub unit: Option<Spanned<String>>,
}

/// One condition on facts and places
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    /// A fact, `side`, a numbered part, `hours`, or a symptom where a remedy asks what was seen
    pub subject: Spanned<String>,
    /// What must be so
    pub relation: Relation,
}

/// What a term asks
#[derive(Clone, Debug, PartialEq)]
pub enum Relation {
    /// `is a or b`, `is not a`
    Is {
        /// `not` was written
        negated: bool,
        /// The words, any of which will do
        values: Vec<Spanned<Value>>,
    },
    /// `over 6`
    Over(Spanned<Quantity>),
    /// `under 6`
    Under(Spanned<Quantity>),
}

/// A word after `is`
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A choice, a side, `first` or `last`
    Word(String),
    /// `in front half`
    FrontHalf,
    /// `in rear half`
    RearHalf,
}

/// An expression over measures
#[derive(Clone, Debug, PartialEq)]
pub enum Sum {
    /// A plain figure
    Figure(Quantity),
    /// A measure as read
    Measure(Spanned<String>),
    /// `worn M` and its like
    About(About, Spanned<String>),
    /// `hours of PART`
    Hours(Spanned<String>),
    /// `hours of PART since turned`
    HoursSinceTurned(Spanned<String>),
    /// `turn of PART`
    Turn(Spanned<String>),
    /// `half of X`
    Half(Box<Spanned<Sum>>),
    /// `mean of X across rollers`
    Across {
        /// How the places become one figure
        gather: Gather,
        /// What is taken at each place
        of: Box<Spanned<Sum>>,
        /// Front half (true) or rear half (false) of the row; none for all
        half: Option<bool>,
        /// `sides`, or a numbered part in the plural
        row: Spanned<String>,
    },
    /// `smallest of X and Y`
    Among {
        /// How the figures become one
        gather: Gather,
        /// The figures
        of: Vec<Spanned<Sum>>,
    },
    /// Two operands and the sign between them: `+` `-` `*` `/`
    Pair(Box<Spanned<Sum>>, char, Box<Spanned<Sum>>),
}

/// What is taken of a measure
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum About {
    /// Per cent worn
    Worn,
    /// What has gone from the new size
    Loss,
    /// The new size
    New,
    /// The size at 100 %
    Limit,
    /// Wear per hour over what `life` gives
    Pace,
    /// Hours to 100 %
    Life,
}

impl About {
    /// All of them
    pub const ALL: [About; 6] =
        [About::Worn, About::Loss, About::New, About::Limit, About::Pace, About::Life];

    /// The word that takes it
    pub fn word(self) -> &'static str {
        match self {
            About::Worn => "worn",
            About::Loss => "loss",
            About::New => "new",
            About::Limit => "limit",
            About::Pace => "pace",
            About::Life => "life",
        }
    }

    /// What a word takes
    pub fn of(word: &str) -> Option<About> {
        About::ALL.into_iter().find(|about| about.word() == word)
    }
}

/// How several figures, or those of several places, become one
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Gather {
    /// Their mean
    Mean,
    /// The largest
    Largest,
    /// The smallest
    Smallest,
    /// The largest less the smallest
    Spread,
    /// That of the left less that of the right
    Lead,
}

impl Gather {
    /// All of them
    pub const ALL: [Gather; 5] =
        [Gather::Mean, Gather::Largest, Gather::Smallest, Gather::Spread, Gather::Lead];

    /// The word that gathers so
    pub fn word(self) -> &'static str {
        match self {
            Gather::Mean => "mean",
            Gather::Largest => "largest",
            Gather::Smallest => "smallest",
            Gather::Spread => "spread",
            Gather::Lead => "lead",
        }
    }

    /// How a word gathers
    pub fn of(word: &str) -> Option<Gather> {
        Gather::ALL.into_iter().find(|gather| gather.word() == word)
    }
}
