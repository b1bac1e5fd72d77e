//! One clause of a block, as it was written.

use super::{Quantity, Sum, Term};
use crate::source::Spanned;
use crate::syntax::language::ROW;

/// One clause of a block
#[derive(Clone, Debug, PartialEq)]
pub enum Clause {
    /// `grades none, slight, heavy`
    Grades(Grades),
    /// `drawn as front wheel where …`
    Drawn {
        /// Where it stands in the picture
        as_what: Spanned<Drawn>,
        /// When the line holds
        test: Vec<Term>,
    },
    /// `with A: often inboard where …`
    With(Line),
    /// `mirror A inboard: often outboard where …`: a `with` line and the same with opposites swapped
    Mirror(Line),
    /// `without 2% inboard where …`
    Without(Line),
    /// `shared 70%`
    Shared(Spanned<f64>),
    /// `chance 5% of sides where …`
    Chance(Chance),
    /// `recent 40%`
    Recent(Spanned<f64>),
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
    /// `counts one 1, most over 40% of joints or pins`
    Counts {
        /// Grades with the numbers they start at
        grades: Vec<Counted>,
        /// What may be counted
        of: Vec<Spanned<String>>,
    },
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
    /// `among worst`
    AmongWorst,
    /// `spans 4 links between pins`
    Spans {
        /// How many
        count: Spanned<f64>,
        /// Of what
        of: Spanned<String>,
        /// What stands at both ends of each
        between: Spanned<String>,
    },
    /// `anew since turned`
    Anew,
    /// `fixes A, B`
    Fixes(Vec<Spanned<String>>),
    /// `mends SYMPTOM, SYMPTOM GRADE`
    Mends(Vec<Mended>),
    /// `finds out`
    FindsOut,
    /// `on site`
    OnSite,
    /// `sets right`, `sets right last`: whether it is done last of all
    SetsRight(bool),
    /// `renews MEASURE from 85%, MEASURE from 90% to 115%`
    Renews(Vec<Renewed>),
    /// `along REMEDY from 60%`
    Along(Vec<Taken>),
    /// `spares REMEDY, REMEDY`
    Spares(Vec<Spanned<String>>),
    /// `lasts MEASURE 55% of 85% where …`
    Lasts(Lasts),
    /// `costs 150`
    Costs(Spanned<f64>),
    /// `within 0 h over 20%`: the hours, and the chance from which they hold
    Within(Spanned<Quantity>, Option<Spanned<f64>>),
    /// `left "…" loses 4000`
    Left(Spanned<String>, Option<Spanned<f64>>),
    /// `rubs chain`
    Rubs(Spanned<String>),
    /// `spread 18%`
    Spread(Spanned<f64>),
    /// `as medium times 0.9, to the nearest 50 h`
    As(As),
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

impl Clause {
    /// The words it is known by in the table of the language; [`ROW`] for a row of a table
    pub fn word(&self) -> &'static str {
        match self {
            Clause::Grades(_) => "grades",
            Clause::Drawn { .. } => "drawn",
            Clause::With(_) => "with",
            Clause::Mirror(_) => "mirror",
            Clause::Without(_) => "without",
            Clause::Shared(_) => "shared",
            Clause::Chance(_) => "chance",
            Clause::Recent(_) => "recent",
            Clause::Choices { .. } => "choices",
            Clause::Forms(_) => "forms",
            Clause::OnlyWhere(_) => "only where",
            Clause::Kind(_) => "kind",
            Clause::Basis(_) => "basis",
            Clause::Text(_) => "text",
            Clause::From { .. } => "from",
            Clause::Counts { .. } => "counts",
            Clause::GivesWay(_) => "gives way",
            Clause::Unit(_) => "unit",
            Clause::Range(_) => "range",
            Clause::Error(_) => "error",
            Clause::AmongWorst => "among",
            Clause::Spans { .. } => "spans",
            Clause::Anew => "anew",
            Clause::Needs(_) => "needs",
            Clause::Is { .. } => "is",
            Clause::Against { .. } => "against",
            Clause::More(_) => "more",
            Clause::Less(_) => "less",
            Clause::Advice { .. } => "advice",
            Clause::Tell(_) => "tell",
            Clause::Takes(_) => "takes",
            Clause::Shows(_) => "shows",
            Clause::Reads(_) => "reads",
            Clause::While(_) => "while",
            Clause::Makes(_) => "makes",
            Clause::Ends(_) => "ends",
            Clause::Access(_) => "access",
            Clause::Caution(_) => "caution",
            Clause::Fixes(_) => "fixes",
            Clause::Mends(_) => "mends",
            Clause::FindsOut => "finds out",
            Clause::OnSite => "on site",
            Clause::SetsRight(_) => "sets right",
            Clause::Renews(..) => "renews",
            Clause::Along(_) => "along",
            Clause::Spares(_) => "spares",
            Clause::Lasts(_) => "lasts",
            Clause::Costs(_) => "costs",
            Clause::Within(..) => "within",
            Clause::Left(..) => "left",
            Clause::Rubs(_) => "rubs",
            Clause::Spread(_) => "spread",
            Clause::As(_) => "as",
            Clause::Seen { .. } => "seen",
            Clause::Entry(_) => ROW,
        }
    }

    /// The names of blocks that it gives, where it does nothing but name them
    pub fn names(&self) -> &[Spanned<String>] {
        match self {
            Clause::Kind(name)
            | Clause::GivesWay(name)
            | Clause::While(name)
            | Clause::Makes(name)
            | Clause::Rubs(name) => std::slice::from_ref(name),
            Clause::Shows(names)
            | Clause::Reads(names)
            | Clause::Ends(names)
            | Clause::Fixes(names)
            | Clause::Spares(names) => names,
            _ => &[],
        }
    }

    /// The test that says when it holds; empty where it has none
    pub fn test(&self) -> &[Term] {
        match self {
            Clause::With(line) | Clause::Without(line) => &line.test,
            Clause::Chance(chance) => &chance.test,
            Clause::Lasts(lasts) => &lasts.test,
            Clause::Entry(entry) => &entry.test,
            Clause::OnlyWhere(test)
            | Clause::Choices { test, .. }
            | Clause::Drawn { test, .. }
            | Clause::Is { test, .. }
            | Clause::Advice { test, .. } => test,
            _ => &[],
        }
    }

    /// The expression it reckons with
    pub fn sum(&self) -> Option<&Spanned<Sum>> {
        match self {
            Clause::From { sum, .. } | Clause::Is { sum, .. } | Clause::Against { sum, .. } => Some(sum),
            _ => None,
        }
    }
}

/// Where a part stands in the picture of a side
#[derive(Clone, Debug, PartialEq)]
pub enum Drawn {
    /// `as front wheel`
    FrontWheel,
    /// `as rear wheel`
    RearWheel,
    /// `as drive wheel`
    DriveWheel,
    /// `as raised wheel`
    RaisedWheel,
    /// `as hub`
    Hub,
    /// `as bottom row of 7`
    BottomRow(Option<Spanned<f64>>),
    /// `as top row of 2`
    TopRow(Option<Spanned<f64>>),
    /// `along frame 20%`, in per cent from the front
    Frame(Spanned<f64>),
    /// `along top run 80%`, in per cent from the front
    TopRun(Spanned<f64>),
}

/// The rows of another size class
#[derive(Clone, Debug, PartialEq)]
pub struct As {
    /// Name of the other class
    pub class: Spanned<String>,
    /// What its figures are multiplied by
    pub times: Option<Spanned<f64>>,
    /// What the products are rounded to a multiple of
    pub nearest: Option<Spanned<Quantity>>,
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

/// A remedy that another takes along
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// Name of the remedy
    pub name: Spanned<String>,
    /// Per cent worn of what it renews from which it is
    pub from: Spanned<f64>,
}

/// A sign that calls for a remedy by itself
#[derive(Clone, Debug, PartialEq)]
pub struct Mended {
    /// Name of the symptom
    pub name: Spanned<String>,
    /// The least grade that calls for it; none where any abnormal one does
    pub grade: Option<Spanned<String>>,
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

/// A `with`, a `mirror` or a `without` line
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The parents that open it together; none for `without`
    pub parents: Vec<Parent>,
    /// What it brings about
    pub effects: Vec<Effect>,
    /// `slowly`
    pub slowly: Option<Spanned<()>>,
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
