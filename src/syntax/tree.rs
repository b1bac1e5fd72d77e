//! The rule files as they were written: declarations and clauses with their places, nothing resolved.

use crate::source::{Span, Spanned};

/// What the keyword of a declaration says it is
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Sort {
    /// What the words of frequency mean
    Scale,
    /// A kind of cause
    Kind,
    /// A state the machine can be in
    State,
    /// A part of the machine
    Part,
    /// A fact of the machine that changes which rules apply
    Fact,
    /// What went wrong at the root
    Cause,
    /// A hidden state between cause and symptom
    Condition,
    /// What can be seen, heard, felt or reckoned
    Symptom,
    /// A dimension read with an instrument, or reckoned from others
    Measure,
    /// New and worn sizes of one size class
    Dimensions,
    /// Hours to 100 % of one size class
    Life,
    /// A procedure that shows symptoms or takes measures
    Check,
    /// What is done about a cause, a condition or a worn part
    Remedy,
}

impl Sort {
    /// Every sort, in the order of the language's description
    pub const ALL: [Sort; 13] = [
        Sort::Scale,
        Sort::Kind,
        Sort::State,
        Sort::Part,
        Sort::Fact,
        Sort::Cause,
        Sort::Condition,
        Sort::Symptom,
        Sort::Measure,
        Sort::Dimensions,
        Sort::Life,
        Sort::Check,
        Sort::Remedy,
    ];

    /// The keyword
    pub fn word(self) -> &'static str {
        match self {
            Sort::Scale => "scale",
            Sort::Kind => "kind",
            Sort::State => "state",
            Sort::Part => "part",
            Sort::Fact => "fact",
            Sort::Cause => "cause",
            Sort::Condition => "condition",
            Sort::Symptom => "symptom",
            Sort::Measure => "measure",
            Sort::Dimensions => "dimensions",
            Sort::Life => "life",
            Sort::Check => "check",
            Sort::Remedy => "remedy",
        }
    }
}

/// One rule file
#[derive(Clone, Debug, Default, PartialEq)]
pub struct File {
    /// Its declarations, in order
    pub declarations: Vec<Declaration>,
    /// Names in head lines that do not even say what they declare: their uses are not told as faults too
    pub unread: Vec<String>,
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

/// One clause of a block
#[derive(Clone, Debug, PartialEq)]
pub enum Clause {
    /// `grades none, slight, heavy`
    Grades(Grades),
    /// `with A: often inboard where …`
    With(Line),
    /// `without 2% inboard where …`
    Without(Line),
    /// `chance 5% of sides where …`
    Chance(Chance),
    /// `choices a 70%, b 30% where …`
    Choices {
        /// The choices with their shares, in per cent
        choices: Vec<(Spanned<String>, Spanned<f64>)>,
        /// When the line holds
        test: Vec<Term>,
    },
    /// `forms a, b`
    Forms(Vec<Spanned<String>>),
    /// `only where …`
    OnlyWhere(Vec<Term>),
    /// `kind upkeep`
    Kind(Spanned<String>),
    /// `basis …`
    Basis(Basis),
    /// `text "…"`
    Text(Spanned<String>),
    /// `from EXPRESSION: a, b under 5 mm`
    From {
        /// What is reckoned
        sum: Spanned<Sum>,
        /// Grades or choices with the bounds they start at
        bounds: Vec<Bounded>,
    },
    /// `counts one 1, most over 40%`
    Counts(Vec<Counted>),
    /// `gives way to OTHER`
    GivesWay(Spanned<String>),
    /// `unit mm`
    Unit(Spanned<String>),
    /// `range 0 to 60`
    Range(Spanned<(f64, f64)>),
    /// `error 0.5`
    Error(Spanned<f64>),
    /// `needs "torch"`
    Needs(Vec<Spanned<String>>),
    /// `is EXPRESSION where …`
    Is {
        /// What is reckoned
        sum: Spanned<Sum>,
        /// When the line holds
        test: Vec<Term>,
    },
    /// `against EXPRESSION tolerance 2 mm`
    Against {
        /// What the reading is held against
        sum: Spanned<Sum>,
        /// By how much the two differ of themselves
        tolerance: Option<Spanned<Quantity>>,
    },
    /// `more "…"`
    More(Spanned<String>),
    /// `less "…"`
    Less(Spanned<String>),
    /// `advice "…" where …`
    Advice {
        /// What to mind
        text: Spanned<String>,
        /// When the line holds
        test: Vec<Term>,
    },
    /// `tell "…"`
    Tell(Spanned<String>),
    /// `takes 4 min`
    Takes(Spanned<Quantity>),
    /// `shows A, B`
    Shows(Vec<Spanned<String>>),
    /// `reads A, B`
    Reads(Vec<Spanned<String>>),
    /// `while STATE`
    While(Spanned<String>),
    /// `makes STATE`
    Makes(Spanned<String>),
    /// `ends A, B`
    Ends(Vec<Spanned<String>>),
    /// `access parked`
    Access(Spanned<String>),
    /// `caution "…"`
    Caution(Spanned<String>),
    /// `fixes A, B`
    Fixes(Vec<Spanned<String>>),
    /// `finds out`
    FindsOut,
    /// `renews MEASURE from 85%, MEASURE from 90% to 115%`
    Renews(Vec<Renewed>),
    /// `spares REMEDY, REMEDY`
    Spares(Vec<Spanned<String>>),
    /// `lasts MEASURE 55% of 85% where …`
    Lasts(Lasts),
    /// `costs 150`
    Costs(Spanned<f64>),
    /// `within 100 h`
    Within(Spanned<Quantity>),
    /// `left "…" loses 4000`
    Left(Spanned<String>, Option<Spanned<f64>>),
    /// `rubs chain`
    Rubs(Spanned<String>),
    /// `spread 18%`
    Spread(Spanned<f64>),
    /// `seen 12% of sides`
    Seen {
        /// How often, in per cent
        share: Spanned<f64>,
        /// Among what: `machines`, `sides`, `rollers`
        noun: Option<Spanned<String>>,
    },
    /// `link_height 114 mm 0%, 103 mm 100%`, `always 98%`
    Entry(Entry),
}

/// A measure that a remedy renews
#[derive(Clone, Debug, PartialEq)]
pub struct Renewed {
    /// Name of the measure
    pub name: Spanned<String>,
    /// Per cent worn from which it is due
    pub from: Spanned<f64>,
    /// Per cent worn past which the remedy comes too late
    pub to: Option<Spanned<f64>>,
}

/// What must last for a remedy to pay
#[derive(Clone, Debug, PartialEq)]
pub struct Lasts {
    /// Name of the measure that must last
    pub name: Spanned<String>,
    /// Least share of the life won that it must last for, in per cent
    pub share: Spanned<f64>,
    /// The life won as a share of the first, in per cent
    pub again: Spanned<f64>,
    /// When the line holds
    pub test: Vec<Term>,
}

/// Grades with the signs between them
#[derive(Clone, Debug, PartialEq)]
pub struct Grades {
    /// The grades, in order
    pub words: Vec<Spanned<String>>,
    /// The sign before each grade but the first: `,` `|` `<` or `>`
    pub signs: Vec<char>,
}

/// A `with` or a `without` line
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The parents that open it together; none for `without`
    pub parents: Vec<Parent>,
    /// What it brings about
    pub effects: Vec<Effect>,
    /// When it holds
    pub test: Vec<Term>,
    /// The sentence beneath it
    pub because: Option<Spanned<String>>,
}

/// A parent of a line
#[derive(Clone, Debug, PartialEq)]
pub struct Parent {
    /// Name of a cause or condition
    pub name: Spanned<String>,
    /// Its grade or form; none is any but the normal one
    pub grade: Option<Spanned<String>>,
    /// Which of its places
    pub reach: Option<Spanned<Reach>>,
}

/// Which places of a parent a line looks at
#[derive(Clone, Debug, PartialEq)]
pub enum Reach {
    /// `on either side`
    EitherSide,
    /// `on any roller`
    Any(Spanned<String>),
    /// `toward this side`
    ThisSide,
    /// `toward the other side`
    OtherSide,
}

/// One grade that a line brings about, with its share
#[derive(Clone, Debug, PartialEq)]
pub struct Effect {
    /// How often
    pub frequency: Spanned<Frequency>,
    /// Which grade; none where there are two grades
    pub grade: Option<Spanned<String>>,
}

/// A share, as a figure or a word
#[derive(Clone, Debug, PartialEq)]
pub enum Frequency {
    /// Per cent, as written
    Percent(f64),
    /// A word of the scale
    Word(String),
}

/// A `chance` line
#[derive(Clone, Debug, PartialEq)]
pub struct Chance {
    /// How often
    pub frequency: Spanned<Frequency>,
    /// Among what: `machines`, `sides`, `rollers`
    pub noun: Option<Spanned<String>>,
    /// `toward one side`
    pub toward: Option<Spanned<()>>,
    /// When the line holds
    pub test: Vec<Term>,
}

/// Where a block comes from
#[derive(Clone, Debug, PartialEq)]
pub enum Basis {
    /// What the trade commonly does
    CommonPractice,
    /// A guess to be corrected
    Estimate,
    /// A published source
    Source(Spanned<String>),
}

/// A grade or choice with the bound it starts at
#[derive(Clone, Debug, PartialEq)]
pub struct Bounded {
    /// The grade or choice
    pub grade: Spanned<String>,
    /// True for `over`, false for `under`, and the figure
    pub bound: Option<(bool, Spanned<Quantity>)>,
}

/// A grade with the number or share of joints it starts at
#[derive(Clone, Debug, PartialEq)]
pub struct Counted {
    /// The grade
    pub grade: Spanned<String>,
    /// A number, or a per cent
    pub from: Spanned<Quantity>,
    /// `over` was written: the figure itself is not enough
    pub over: bool,
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

/// A row of a table
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// A measure, or a word of the scale
    pub name: Spanned<String>,
    /// Sizes with the per cent worn that each means
    pub points: Vec<(Spanned<Quantity>, Option<Spanned<f64>>)>,
    /// How many times as fast wear goes on after the last point
    pub after: Option<Spanned<f64>>,
    /// Standard deviation of the new size
    pub tolerance: Option<Spanned<Quantity>>,
    /// When the row holds
    pub test: Vec<Term>,
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
}
