//! An inspection as it was written, every name and value with its place.

use crate::place::{Place, Side};
use crate::source::{SourceId, Span, Spanned};
use crate::units::Quantity;

/// Most hours that a machine can have run, over twenty years of day and night: a choice
pub const MOST_HOURS: f64 = 200_000.0;

/// One visit to one machine, as its case file has it; nothing in it has been held against the rules yet
#[derive(Clone, Debug, PartialEq)]
pub struct Inspection {
    /// The file it was read from
    pub source: SourceId,
    /// What the case is called; empty when the file does not say (a problem has been noted then)
    pub title: Spanned<String>,
    /// The machine
    pub machine: Machine,
    /// When its parts went on, and which were turned
    pub parts: Vec<Fitted>,
    /// When, by whom and where it was looked at
    pub visit: Visit,
    /// What was looked at, found and read, one entry a place, in the order of the file
    pub seen: Vec<SeenAt>,
    /// The findings an assessor is asked about
    pub in_question: Vec<NameAt>,
    /// Files of earlier visits to the same machine, as written: a path from the folder of this file
    pub earlier: Vec<Spanned<String>>,
    /// Pictures named at the outermost level; [`Inspection::pictures`] gives those under places as well
    pub photos: Vec<Photo>,
    /// What strip-down showed; none as long as nobody looked
    pub truth: Option<Truth>,
    /// What the rules are expected to make of the case; none when nothing is said
    pub expect: Option<Expect>,
}

impl Inspection {
    /// All pictures that the case names: those at its outermost level, then those under each place
    pub fn pictures(&self) -> impl Iterator<Item = Photo> {
        let below = self.seen.iter().flat_map(|seen| {
            seen.photos.iter().map(|(name, file)| Photo {
                place: seen.place.clone(),
                name: name.clone(),
                file: file.clone(),
            })
        });
        self.photos.iter().cloned().chain(below)
    }
}

/// A picture named
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    /// Where it was taken
    pub place: Spanned<Place>,
    /// Name of the symptom, measure or part it shows
    pub name: Spanned<String>,
    /// Its file, as written: a path from the folder of the case
    pub file: Spanned<String>,
}

/// What the case gives of the machine as a whole
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Machine {
    /// What its people call it; empty when the file does not say (a problem has been noted then)
    pub tag: Spanned<String>,
    /// Hours it has run: those on its meter, and where the meter was changed those on the one before; finite, not negative
    pub hours: Option<Spanned<f64>>,
    /// Its size, a name that dimensions and lives go by
    pub size: Option<Spanned<String>>,
    /// Sizes of its own, beside or in place of those of its class, in the order written
    pub sizes: Vec<GivenSize>,
    /// File that holds such sizes, by its path from the folder of the case
    pub sizes_file: Option<Spanned<String>>,
    /// Its facts, in the order written
    pub facts: Vec<GivenFact>,
}

/// The sizes of one part as its owner knows them
#[derive(Clone, Debug, PartialEq)]
pub struct GivenSize {
    /// Name of the measure
    pub measure: Spanned<String>,
    /// Size when new; none when it could not be read (a problem has been noted then)
    pub new: Option<Spanned<Quantity>>,
    /// Sizes at which it is worn out, in the order written; empty where none is given
    pub limits: Vec<GivenLimit>,
}

/// A size at which a part is worn out
#[derive(Clone, Debug, PartialEq)]
pub struct GivenLimit {
    /// When it holds, as `impact high`; none where it always does, or where no other does
    pub holds: Option<Spanned<String>>,
    /// The size
    pub size: Spanned<Quantity>,
}

/// One fact given, for the whole machine or for one side
#[derive(Clone, Debug, PartialEq)]
pub struct GivenFact {
    /// Name of the fact
    pub name: Spanned<String>,
    /// The side it is given for; none when it is given without a side
    pub side: Option<Side>,
    /// The choice or the number, as written
    pub value: Spanned<String>,
}

/// When a part went on, and when it was turned, in hours of the machine
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// Name of the part
    pub part: Spanned<String>,
    /// Which of them; none for all of that name. A numbered place bears the name of `part`.
    pub at: Option<Spanned<Place>>,
    /// Hours of the machine when it went on; finite, not negative
    pub on: Option<Spanned<f64>>,
    /// When it was turned, or that it never was; none when it is not given
    pub turned: Option<Spanned<Turned>>,
}

/// When a part was turned
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turned {
    /// Never
    Never,
    /// At so many hours of the machine; finite, not negative
    At(f64),
}

impl Turned {
    /// Hours of the machine when it was turned; none where it never was
    pub fn at(self) -> Option<f64> {
        match self {
            Turned::Never => None,
            Turned::At(hours) => Some(hours),
        }
    }
}

/// When, by whom and where the machine was looked at
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Visit {
    /// Day of the visit, `yyyy-mm-dd`, a day of the calendar (ISO 8601)
    pub on: Option<Spanned<String>>,
    /// Who looked
    pub by: Option<Spanned<String>>,
    /// Where the machine stood
    pub place: Option<Spanned<String>>,
    /// Names of the states the machine was in on arrival
    pub state: Vec<Spanned<String>>,
}

/// What was looked at, found and read at one place
#[derive(Clone, Debug, PartialEq)]
pub struct SeenAt {
    /// The place, and the key that names it
    pub place: Spanned<Place>,
    /// Names of the checks done there: what they show and nobody noted was normal
    pub looked: Vec<Spanned<String>>,
    /// Symptoms noted, none twice
    pub found: Vec<Found>,
    /// Measures read, none twice
    pub read: Vec<Read>,
    /// Names of what could not be looked at or read, each with the reason
    pub not_possible: Vec<(Spanned<String>, String)>,
    /// Names of symptoms, measures or parts, each with a picture's file; a name with several pictures stands once for each
    pub photos: Vec<(Spanned<String>, Spanned<String>)>,
}

/// One symptom noted
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// Name of the symptom
    pub symptom: Spanned<String>,
    /// What was seen of it
    pub seen: Seen,
}

/// What was seen of a symptom
#[derive(Clone, Debug, PartialEq)]
pub enum Seen {
    /// A grade, with no doubt said
    Grade(Spanned<String>),
    /// A grade by somebody who was not sure
    Unsure {
        /// The grade he says
        grade: Spanned<String>,
        /// How sure he is: over 0, at most 1
        sure: Spanned<f64>,
    },
    /// Which of a row show it
    Counted {
        /// What is counted, as written: `joints`, `bolts` and the like
        noun: Spanned<String>,
        /// Their numbers, from 1 to `of`, none twice; empty when none shows it
        which: Vec<Spanned<u32>>,
        /// How many there are; at least 1
        of: Spanned<u32>,
        /// The whole finding
        at: Span,
    },
}

/// One measure read, once or several times
#[derive(Clone, Debug, PartialEq)]
pub struct Read {
    /// Name of the measure
    pub measure: Spanned<String>,
    /// What was read, in the order written; at least one unless a problem has been noted, all finite
    pub values: Vec<Spanned<Quantity>>,
    /// Why the reading is not to be used; none when it is
    pub void: Option<Spanned<String>>,
}

/// A name at a place, as in `bushing_thin left` or `frame_toe toed_in right`
#[derive(Clone, Debug, PartialEq)]
pub struct NameAt {
    /// The name
    pub name: Spanned<String>,
    /// The grade of a condition or a symptom, or the form of a cause, where one stands behind the name
    pub grade: Option<Spanned<String>>,
    /// The place; none when the text names none
    pub place: Option<Spanned<Place>>,
    /// The whole text
    pub at: Span,
}

/// What was there in the end, by strip-down
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Truth {
    /// What was there
    pub present: Vec<NameAt>,
    /// What was looked for and was not there
    pub absent: Vec<NameAt>,
    /// Where it is said that nothing was there: `present` with an empty list
    pub sound: Option<Span>,
}

/// What the rules are expected to make of a case, for whoever writes them
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Expect {
    /// Causes that stand above all that are not named with them
    pub first: Vec<NameAt>,
    /// Causes and conditions over a chance, from over 0 to 1
    pub over: Vec<(NameAt, Spanned<f64>)>,
    /// Causes and conditions under a chance, from over 0 to 1
    pub under: Vec<(NameAt, Spanned<f64>)>,
    /// Checks, or facts to find out, among the first so many of what to look at next; at least 1
    pub next: Vec<(NameAt, Spanned<u32>)>,
    /// Symptoms whose finding nothing in the rules explains
    pub unexplained: Vec<NameAt>,
    /// Measures, symptoms and checks that are held back
    pub held: Vec<NameAt>,
    /// Weights of the findings on the damage in question
    pub weight: Vec<GivenWeight>,
}

/// What the findings are expected to weigh against a party: `owner over 10`
#[derive(Clone, Debug, PartialEq)]
pub struct GivenWeight {
    /// Whom the causes count against
    pub party: Spanned<String>,
    /// The likelihood ratio lies over the figure; else under it
    pub over: bool,
    /// The figure, over 0 and finite
    pub ratio: Spanned<f64>,
    /// The whole text
    pub at: Span,
}
