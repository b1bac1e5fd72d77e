//! What a plan says of one machine: what the other files of this folder fill in, and what is written as it stands.

use crate::ground::{Misfit, Observation};
use crate::infer::bounds::Interval;
use crate::model::subject::{Subject, Term, as_measure};
use crate::model::{Hidden, MeasureId, Model, RemedyId, StateId, SymptomId};
use crate::place::Place;
use crate::reason::Ranked;
use serde::Serialize;
use serde::ser::{SerializeStruct, Serializer};

/// What to do about one machine
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Plan {
    /// The word for the money; none where costs are in the units of the rules
    pub currency: Option<String>,
    /// Hours ahead that are planned for
    pub horizon: f64,
    /// What each visit costs besides its work, for bringing the machine in
    pub visit_costs: f64,
    /// What an hour of work costs besides its labour, because the machine stands
    pub hour_stands: f64,
    /// Visits, the first first; none where nothing is to be done
    pub visits: Vec<Visit>,
    /// What those do who work the machine, where it works; what is due first stands first
    pub on_site: Vec<Job>,
    /// What all of it costs, in the money of the terms
    pub cost: f64,
    /// Whether no cheaper way to lay the work into visits exists
    pub exact: bool,
    /// Whether to turn what can be turned, place by place
    pub turns: Vec<TurnDecision>,
    /// What was read and may run on, that which ends first at the front
    #[serde(rename = "may_run")]
    pub running: Vec<Running>,
    /// What is not worth doing yet
    #[serde(rename = "watch")]
    pub watched: Vec<Watched>,
    /// Remedies of the plan whose cost is no price of the workshop, by where it is from
    pub unpriced: Unpriced,
    /// The size class, where its sizes are not those of the machine, so that no work comes of wear
    pub misfit: Option<Misfit>,
    /// Some chances are known within bounds only
    pub bounded: bool,
    /// What all of it costs, and the life of the new parts used up by [`end`](super::prices::Terms::end): of two machines the
    /// one with more worn parts or likelier causes is never the cheaper by this figure, since what is done early is paid for
    /// by what it uses up
    #[serde(skip)]
    pub reckoned: f64,
}

impl Plan {
    /// Everything to do, that of the visits first
    pub fn jobs(&self) -> impl Iterator<Item = &Job> {
        self.visits.iter().flat_map(|visit| &visit.jobs).chain(&self.on_site)
    }
}

/// Labels of remedies without a price
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Unpriced {
    /// Costed by the rules
    pub by_rules: Vec<String>,
    /// Costed by their hours of labour alone, for the rules do not say what they cost
    pub by_hours: Vec<String>,
}

/// Work done while the machine stands
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Visit {
    /// Hours from now; 0 is now
    #[serde(rename = "in_hours")]
    pub at: f64,
    /// Reading of the meter then; none where the case tells no hours
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_meter: Option<f64>,
    /// Labour, hours, what is shared counted once
    pub hours: f64,
    /// Labour that is saved because work is done together, hours
    #[serde(rename = "hours_saved")]
    pub saved: f64,
    /// What the visit costs in all, its standing included
    pub cost: f64,
    /// What is done, in the order in which to do it
    pub jobs: Vec<Job>,
}

/// Work at one place
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Job {
    /// What is done
    #[serde(skip)]
    pub remedy: RemedyId,
    /// The same with its words, and where
    #[serde(flatten)]
    pub named: Subject,
    /// It finds out what is wrong, and mends nothing
    pub finds_out: bool,
    /// When it is due, in words of the trade
    pub when: When,
    /// Hours from now by which it is due
    pub due: f64,
    /// Labour, hours
    pub hours: f64,
    /// The chance from which the machine may not be worked until it is done, where the rules name one under a half and it is
    /// what calls for it
    #[serde(skip_serializing_if = "Option::is_none")]
    pub floor: Option<f64>,
    /// What it costs by itself, in the money of the terms
    pub cost: f64,
    /// Where that figure is from
    #[serde(rename = "cost_from")]
    pub priced: Priced,
    /// What is lost if it is left, in the same money; none where the rules do not say
    #[serde(rename = "loss_if_left")]
    pub loss: Option<f64>,
    /// Chance of what it fixes or mends, at least: that of the likeliest, 1 for worn parts
    pub chance: f64,
    /// What doing it saves on the whole, by its chance; none where the rules do not say what is lost
    pub expected_saving: Option<f64>,
    /// What calls for it, the likeliest or most worn first
    #[serde(rename = "because")]
    pub calls: Vec<Call>,
    /// What happens if it is left
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left: Option<String>,
    /// What to beware of
    pub cautions: Vec<String>,
    /// Remedies that it makes needless, which were called for too
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub instead_of: Vec<Subject>,
    /// Remedies that were called for by wear alone that it puts back
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub put_off: Vec<Subject>,
    /// Whether it gives a part its life once more, so that something else must last for it to pay
    pub gives_life_again: bool,
    /// A reading may show that the part can be given its life once more instead
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub undecided: bool,
    /// The work that it goes along with, where it would not be due so soon by itself
    #[serde(rename = "along_with", skip_serializing_if = "Option::is_none")]
    pub taken_by: Option<Subject>,
    /// Work that goes with it where what that renews is as far worn as the rules say, of which nothing was read
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub may_take: Vec<MayTake>,
    /// Label of the state that it shares with other work of the visit
    #[serde(rename = "shares", skip_serializing_if = "Option::is_none")]
    pub together: Option<String>,
    /// What is brought about for it once in a visit
    #[serde(skip)]
    pub shares: Option<Shared>,
    /// Hours from new in which the part it renews comes to its figure; none where it renews none
    #[serde(skip)]
    pub life: Option<f64>,
}

/// Work that goes with other work where its parts are far enough worn, which a reading has to tell
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MayTake {
    /// Its words, and where
    #[serde(flatten)]
    pub named: Subject,
    /// Per cent worn from which it goes along
    pub from: f64,
    /// Labour, hours
    pub hours: f64,
    /// What it costs by itself, in the money of the terms
    pub cost: f64,
    /// What would have to be read
    pub unread: Vec<Unread>,
}

/// A state that work at a place needs
#[derive(Clone, Debug, PartialEq)]
pub struct Shared {
    /// The state
    pub state: StateId,
    /// Where it is brought about
    pub place: Place,
    /// Hours that takes
    pub hours: f64,
}

/// A cause or a condition that the findings speak for
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Suspected {
    /// Its words, and where
    #[serde(flatten)]
    pub named: Subject,
    /// Which
    #[serde(rename = "sort", serialize_with = "sort")]
    pub hidden: Hidden,
    /// Its probability
    #[serde(flatten, serialize_with = "least_and_most")]
    pub within: Interval,
}

impl Suspected {
    /// One as it is ranked
    pub fn of(model: &Model, ranked: &Ranked) -> Suspected {
        Suspected {
            named: model.subject(ranked.hidden, &ranked.place),
            hidden: ranked.hidden,
            within: ranked.within,
        }
    }
}

/// What calls for work
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Call {
    /// A cause or a condition
    Hidden(Suspected),
    /// A sign that is a fault by itself
    Seen {
        /// Its words, and where
        #[serde(flatten)]
        named: Subject,
        /// The symptom
        #[serde(rename = "sort", serialize_with = "sign")]
        symptom: SymptomId,
        /// The grade seen or read
        grade: String,
        /// Probability that it calls for the work, by what was seen or read of it alone
        probability: f64,
    },
    /// A worn part
    Worn {
        /// Its words, and the place of the work
        #[serde(flatten)]
        named: Subject,
        /// The measure
        #[serde(rename = "sort", serialize_with = "wear")]
        measure: MeasureId,
        /// Per cent worn
        percent: f64,
        /// Per cent worn from which it is due
        #[serde(rename = "due_from")]
        from: f64,
        /// Hours until then; 0 when past it
        #[serde(rename = "due_in")]
        reached: f64,
        /// Hours until it is used up, or until the remedy comes too late where it can be done past that; 0 when past it
        #[serde(rename = "ends_in")]
        ends: f64,
        /// Hours until it may be, with one chance in twenty that it is sooner
        #[serde(rename = "may_end_in")]
        may_end: f64,
        /// How many places were read; over 1 the per cent is their mean
        #[serde(skip_serializing_if = "is_one")]
        places: usize,
        /// The most worn of several places
        #[serde(skip_serializing_if = "Option::is_none")]
        worst: Option<Worst>,
    },
}

impl Call {
    /// What calls, and where
    pub fn named(&self) -> &Subject {
        match self {
            Call::Hidden(Suspected { named, .. }) | Call::Seen { named, .. } | Call::Worn { named, .. } => {
                named
            }
        }
    }

    /// Whether work is called for by what was observed
    pub fn is_for(&self, own: &Observation) -> bool {
        matches!(self, Call::Seen { symptom, named, .. } if *symptom == own.symptom && named.place == own.place)
    }
}

/// The most worn part of a row
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Worst {
    /// Where
    pub place: Place,
    /// Per cent worn
    pub percent: f64,
    /// Hours until it comes to the figure from which the row is due; none when no hours tell
    pub due_in: Option<f64>,
}

/// When work is due
#[derive(Clone, Copy, Debug, Eq, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum When {
    /// Before the machine works again
    Now,
    /// As soon as it can be arranged: what it renews is used up
    Overdue,
    /// By so many hours
    ByHours,
    /// At the next planned stop
    NextStop,
}

/// Where a cost is from
#[derive(Clone, Copy, Debug, Eq, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Priced {
    /// The workshop's own price, and its labour
    #[serde(rename = "price")]
    Listed,
    /// What the rules say it costs
    Rules,
    /// Its hours of labour alone, for the rules do not say what it costs
    Hours,
}

/// The decision whether to turn at one place, with the figures that make it
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TurnDecision {
    /// The remedy that turns
    #[serde(skip)]
    pub remedy: RemedyId,
    /// The same with its words, and where
    #[serde(flatten)]
    pub named: Subject,
    /// It turns what is there, else it renews it on parts that must last
    pub turns: bool,
    /// What to do
    pub verdict: Verdict,
    /// What is done instead of a needless one
    #[serde(skip_serializing_if = "Option::is_none")]
    pub instead: Option<Subject>,
    /// The most worn of what it renews
    pub face: Option<Share>,
    /// Hours until that is due; 0 when it is
    #[serde(rename = "due_in")]
    pub due: Option<f64>,
    /// What must last
    pub lasts: Option<Share>,
    /// Hours that it has left when the turn is due
    #[serde(rename = "hours_left")]
    pub left: Option<f64>,
    /// Hours that the turn wins
    #[serde(rename = "hours_won")]
    pub won: Option<f64>,
    /// Least share of these that must be left for it to pay
    #[serde(rename = "share_needed")]
    pub share: Option<f64>,
    /// Probability that it pays by what was read, whose errors leave it open; none where too little is known
    pub chance: Option<f64>,
    /// What would have to be read again to decide, where either way is defensible
    #[serde(skip_serializing_if = "Option::is_none")]
    pub deciding: Option<Unread>,
    /// What it costs by itself, in the money of the terms
    pub cost: f64,
    /// What an hour that it wins costs
    #[serde(rename = "cost_per_hour")]
    pub per_hour: Option<f64>,
    /// What would have to be read to decide, with the check that reads it
    pub unread: Vec<Unread>,
    /// Labels of facts that would have to be known to decide
    #[serde(rename = "untold")]
    pub unknown: Vec<String>,
    /// What can be done instead, side by side; shown with the first decision of a place
    pub ways: Vec<Way>,
}

impl TurnDecision {
    /// What was read speaks for it, or leaves it open by its errors
    pub fn pays(&self) -> bool {
        matches!(self.verdict, Verdict::Turn | Verdict::Either)
    }

    /// It pays, or nobody knows yet
    pub fn may_be_done(&self) -> bool {
        self.pays() || self.verdict == Verdict::Open
    }

    /// It cannot be said before something is read
    pub fn waits_for_a_reading(&self) -> bool {
        self.verdict == Verdict::Open && !self.unread.is_empty()
    }
}

/// One way to go on with a part that can be given its life once more
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Way {
    /// What to do; none where it is run out as it is
    pub label: Option<String>,
    /// What that costs, in the money of the terms
    pub cost: f64,
    /// Its hours count from when it is new, else from now
    pub from_new: bool,
    /// What can be turned is turned once on the way, at the cost of that
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub turned: bool,
    /// Hours until the next work of its kind
    pub hours: f64,
    /// One chance in twenty that they are fewer, by the errors of what was read
    pub lower: f64,
    /// One chance in twenty that they are more; none where no end can be told
    pub upper: Option<f64>,
}

/// What to do about what can be turned
#[derive(Clone, Copy, Debug, Eq, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Turn when it is due
    Turn,
    /// By the errors of what was read it may pay or not: either way is defensible
    Either,
    /// Do not turn: what must last ends too soon
    RunOut,
    /// Past the figure up to which it can be turned
    TooLate,
    /// Cannot be said
    Open,
    /// Work that makes it needless is planned
    Needless,
}

/// A measure with how far it has gone
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Share {
    /// The measure
    #[serde(flatten, serialize_with = "as_measure")]
    pub term: Term,
    /// Per cent worn
    pub percent: f64,
}

/// A measure that was not read
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Unread {
    /// The measure
    #[serde(flatten, serialize_with = "as_measure")]
    pub term: Term,
    /// Label of the quickest check that reads it
    pub check: Option<String>,
    /// Minutes that takes
    pub minutes: Option<f64>,
}

impl Unread {
    /// A measure with the quickest check that reads it
    pub fn of(model: &Model, id: MeasureId) -> Unread {
        let checks = model.checks.iter().filter(|check| check.reads.contains(&id));
        let quickest = checks.min_by(|a, b| a.minutes.total_cmp(&b.minutes));
        Unread {
            term: model.term(id),
            check: quickest.map(|check| check.common.label.clone()),
            minutes: quickest.map(|check| check.minutes),
        }
    }
}

/// A part that may run on
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Running {
    /// The measure
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words, and where; of numbered parts the most worn of a side
    #[serde(flatten)]
    pub named: Subject,
    /// Per cent worn
    pub percent: f64,
    /// Hours to 100 %; 0 when past it, none when nothing tells
    pub hours: Option<f64>,
    /// Hours that it lasts, but for one chance in twenty, where it is so little worn that no end can be told
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_least: Option<f64>,
    /// Hours from now of the visit in which it is renewed; none when none is planned
    #[serde(rename = "renewed_in")]
    pub renewed: Option<f64>,
    /// What to do about it waits for a reading that decides whether to turn
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub undecided: bool,
}

/// Something not worth mending yet
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Watched {
    /// A cause or a condition
    Hidden {
        /// The same
        #[serde(flatten)]
        suspected: Suspected,
        /// Label of the quickest check that shows what it brings about at once
        #[serde(skip_serializing_if = "Option::is_none")]
        check: Option<String>,
        /// What its cheapest remedy costs; none when the rules name none
        #[serde(rename = "remedy_costs", skip_serializing_if = "Option::is_none")]
        costs: Option<f64>,
        /// What is lost by its chance if it is left
        #[serde(rename = "expected_loss", skip_serializing_if = "Option::is_none")]
        loss: Option<f64>,
        /// Hours within which to look; 0 before the machine works again, none where the next stop will do
        #[serde(rename = "look_in", skip_serializing_if = "Option::is_none")]
        look: Option<f64>,
    },
    /// A part that comes to its figure past the horizon
    Worn {
        /// Its words, and where
        #[serde(flatten)]
        named: Subject,
        /// The measure
        #[serde(rename = "sort", serialize_with = "wear")]
        measure: MeasureId,
        /// Label of the quickest check that reads it
        #[serde(skip_serializing_if = "Option::is_none")]
        check: Option<String>,
        /// Per cent worn
        percent: f64,
        /// Per cent worn from which something is due
        #[serde(rename = "due_from")]
        from: f64,
        /// Hours until then; none when nothing tells its pace
        #[serde(rename = "due_in", skip_serializing_if = "Option::is_none")]
        reached: Option<f64>,
        /// Hours in which to read it again; none when nothing tells its pace
        #[serde(rename = "look_in", skip_serializing_if = "Option::is_none")]
        look: Option<f64>,
        /// The most worn of several places
        #[serde(skip_serializing_if = "Option::is_none")]
        worst: Option<Worst>,
    },
}

impl Watched {
    /// What it is, and where
    pub fn named(&self) -> &Subject {
        match self {
            Watched::Hidden { suspected, .. } => &suspected.named,
            Watched::Worn { named, .. } => named,
        }
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks for a reference")]
fn is_one(places: &usize) -> bool {
    *places <= 1
}

fn sort<S: Serializer>(hidden: &Hidden, out: S) -> Result<S::Ok, S::Error> {
    out.serialize_str(match hidden {
        Hidden::Cause(_) => "cause",
        Hidden::Condition(_) => "condition",
    })
}

fn sign<S: Serializer>(_: &SymptomId, out: S) -> Result<S::Ok, S::Error> {
    out.serialize_str("sign")
}

fn wear<S: Serializer>(_: &MeasureId, out: S) -> Result<S::Ok, S::Error> {
    out.serialize_str("wear")
}

fn least_and_most<S: Serializer>(within: &Interval, out: S) -> Result<S::Ok, S::Error> {
    let mut fields = out.serialize_struct("Interval", 2)?;
    fields.serialize_field("at_least", &within.lower)?;
    fields.serialize_field("at_most", &within.upper)?;
    fields.end()
}
