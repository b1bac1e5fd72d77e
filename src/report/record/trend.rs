//! Everything a reader may be told of a machine's wear over its visits; labels put to names, nothing reckoned.

mod curves;
mod from_visits;

pub use curves::curves;
pub use from_visits::{VisitMade, report};

use crate::ground::{Held, Misfit};
use crate::plan::record::TurnDecision;
use crate::report::record::hours_left::HoursLeft;
use crate::wear::compare::{AgainstUsual, Odd, Sides, Step};
use crate::wear::history::LeftOut;
use crate::wear::outdated::Outdated;
use crate::wear::rate::{Ahead, Change, Usual};
use serde::Serialize;

/// The wear of one machine over its visits
#[derive(Debug, Serialize)]
pub struct Trend {
    /// What its people call the machine
    pub machine: String,
    /// Size class
    pub size: Option<String>,
    /// Digest of the rules used
    pub rules_digest: String,
    /// The visits in the order of hours; the last is the one that the figures are for
    pub visits: Vec<VisitRow>,
    /// Every part that was read, in the order of measures and places
    pub parts: Vec<PartWear>,
    /// Parts that were changed or turned after all that was read of them, in the same order
    pub outdated: Vec<Outdated>,
    /// The parts of each side whose hours left are known, by their numbers in `parts`, soonest to end first
    pub ends: Ends,
    /// Gaps that close
    pub contacts: Vec<ClosingGap>,
    /// Whether what can be given its life once more is
    pub turns: Vec<TurnDecision>,
    /// Work that the plan has for what is worn, the soonest first
    pub work: Vec<PlannedWork>,
    /// Left against right
    pub sides: Vec<Sides>,
    /// Those of a row that are clearly not like the others
    pub odd: Vec<Odd>,
    /// Differences read as such, as that of two rows of rails
    pub steps: Vec<Step>,
    /// The size class, where its sizes are not those of the machine at the last visit
    pub misfit: Option<Misfit>,
    /// What does not count of each visit, and why
    pub held: Vec<HeldRow>,
    /// What to beware of, and to whom all this defers
    pub notice: &'static str,
}

/// One visit
#[derive(Debug, Serialize)]
pub struct VisitRow {
    /// Name of its file
    pub file: String,
    /// What the case is called
    pub case: String,
    /// Digest of the file
    pub case_digest: String,
    /// Hours of the machine
    pub hours: Option<f64>,
    /// Day of the visit
    pub on: Option<String>,
}

/// Numbers of parts, soonest to end first
#[derive(Debug, Default, Serialize)]
pub struct Ends {
    /// On the left
    pub left: Vec<usize>,
    /// On the right
    pub right: Vec<usize>,
}

/// Something that does not count
#[derive(Debug, Serialize)]
pub struct HeldRow {
    /// Number of the visit, from 0
    pub visit: usize,
    /// What it is, and why
    #[serde(flatten)]
    pub held: Held,
}

/// One part at one place
#[derive(Debug, Serialize)]
pub struct PartWear {
    /// Name of the measure
    pub measure: String,
    /// Where
    pub place: String,
    /// Label of the measure
    pub label: String,
    /// Label of the part it belongs to
    pub part: Option<String>,
    /// Unit of what was read
    pub unit: &'static str,
    /// What was read last
    pub read: f64,
    /// Number of the visit at which, from 0
    pub visit: usize,
    /// Per cent worn, not clipped at 100
    pub percent: f64,
    /// Standard error of it
    pub sigma: f64,
    /// Half of what nine of ten such readings lie within
    pub give_or_take: f64,
    /// What `hours` of points and of the line ahead count from: `part`, from when it was new, or `machine`
    pub hours_of: &'static str,
    /// Hours at the last visit, so counted
    pub hours: Option<f64>,
    /// When the part was new
    pub new: Option<WhenNew>,
    /// Hours of the machine at a turn that left it neither new nor as it was
    pub turned: Option<f64>,
    /// So little of it is worn that its own pace says nothing
    pub young: bool,
    /// What was read of this part
    pub points: Vec<PointRow>,
    /// How fast it wears, by each way there is to tell
    pub rates: PartRates,
    /// Which of them hours left are reckoned from: `from_new`, `last_two`, `all` or `usual`
    pub by: Option<&'static str>,
    /// Hours from the last visit to the limit
    pub left: Option<HoursLeft>,
    /// Work that falls due
    pub due: Vec<DueWork>,
    /// Its pace against the usual one
    pub against: Option<AgainstUsual>,
    /// The line that lies ahead, from the last reading to the far end of the hours left
    pub ahead: Vec<Ahead>,
    /// Per cent at the limit
    pub limit: f64,
    /// Readings of earlier visits that do not belong to the part as it is now
    pub left_out: Vec<LeftOut>,
    /// What does not go together; no pace of its own is reckoned then
    pub doubts: Vec<String>,
}

/// When a part was new
#[derive(Debug, Serialize)]
pub struct WhenNew {
    /// Hours of the machine then
    pub at: f64,
    /// It was turned then, else it went on
    pub turned: bool,
    /// Standard error of 0 %, in per cent, as it goes into the line through all readings
    pub sigma: f64,
}

/// One reading
#[derive(Debug, Serialize)]
pub struct PointRow {
    /// Number of the visit, from 0
    pub visit: usize,
    /// Hours
    pub hours: Option<f64>,
    /// What was read
    pub read: f64,
    /// Per cent worn
    pub percent: f64,
    /// Standard error of the per cent by the reading alone
    pub sigma: f64,
    /// Half of what nine of ten such readings lie within
    pub give_or_take: f64,
}

/// How fast a part wears
#[derive(Debug, Serialize)]
pub struct PartRates {
    /// From new to the last reading
    pub from_new: Option<PartRate>,
    /// Between the last two readings
    pub last_two: Option<PartRate>,
    /// By the line nearest to all readings and the new part
    pub all: Option<PartRate>,
    /// By the usual life on such ground
    pub usual: Option<UsualRate>,
    /// How the pace has clearly changed of late
    pub change: Option<Change>,
}

/// One pace of a part's own: a line of per cent over hours
#[derive(Debug, Serialize)]
pub struct PartRate {
    /// Per cent for each hour
    pub per_hour: f64,
    /// Standard error of it
    pub per_hour_sigma: f64,
    /// Per cent by the line at 0 hours
    pub at_zero: f64,
    /// Standard error of it
    pub at_zero_sigma: f64,
    /// How many times the variance of the readings their scatter is, where it is clearly more than their errors explain and
    /// all errors are taken from it
    pub scatter: Option<f64>,
    /// How many standard errors the interval goes to each side
    pub quantile: f64,
    /// Hours to the limit
    pub left: Option<HoursLeft>,
}

/// The usual life
#[derive(Debug, Serialize)]
pub struct UsualRate {
    /// What it is
    #[serde(flatten)]
    pub usual: Usual,
    /// Hours to the limit
    pub left: Option<HoursLeft>,
}

/// Work of a planned visit that something worn calls for
#[derive(Debug, Serialize)]
pub struct PlannedWork {
    /// Hours from now of the visit
    pub within: f64,
    /// Where
    pub place: String,
    /// What to do
    pub label: String,
}

/// Work that falls due
#[derive(Debug, Serialize)]
pub struct DueWork {
    /// Name of the remedy
    pub id: String,
    /// What to do
    pub label: String,
    /// Label of work that puts this wear back, for what has its life once more; done before, while that pays
    #[serde(skip_serializing_if = "Option::is_none")]
    pub put_back_by: Option<String>,
    /// Per cent worn from which the work is to be planned
    pub percent: f64,
    /// Working hours within which it is to be done from then on
    pub within: Option<f64>,
    /// It gives the part its life once more, which `turns` decides
    pub gives_life_again: bool,
    /// Hours until then
    pub left: Option<HoursLeft>,
}

/// A gap that closes
#[derive(Debug, Serialize)]
pub struct ClosingGap {
    /// Name of the measure
    pub measure: String,
    /// Where
    pub place: String,
    /// Label of the measure
    pub label: String,
    /// What is left of it
    pub gap: f64,
    /// Standard error of it
    pub sigma: f64,
    /// Half of what nine of ten such readings lie within
    pub give_or_take: f64,
    /// Unit of both
    pub unit: &'static str,
    /// How much of it goes in an hour
    pub per_hour: Option<f64>,
    /// Hours until nothing is left
    pub left: Option<HoursLeft>,
}
