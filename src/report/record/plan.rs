//! A work plan as it is told: the types that text and JSON are made from.

pub mod make;

use serde::Serialize;

/// What to do about one machine
#[derive(Clone, Debug, Serialize)]
pub struct Plan {
    /// The word for the money; none where costs are in the units of the rules
    pub currency: Option<String>,
    /// Hours ahead that are planned for
    pub horizon: f64,
    /// What each visit costs besides its work, for bringing the machine in
    pub visit_costs: f64,
    /// What an hour of work costs besides its labour, because the machine stands
    pub hour_stands: f64,
    /// Visits, the first first
    pub visits: Vec<Visit>,
    /// What all of them cost
    pub cost: f64,
    /// Whether no cheaper way to lay this work into visits exists
    pub exact: bool,
    /// Whether to turn what can be turned
    pub turns: Vec<Turn>,
    /// What may run on, and till when
    pub may_run: Vec<Running>,
    /// What is to be watched
    pub watch: Vec<Watched>,
    /// Remedies of the plan whose cost is no price of the workshop, by where it is from
    pub unpriced: Unpriced,
    /// Some chances are known within bounds only
    pub bounded: bool,
}

/// Labels of remedies without a price
#[derive(Clone, Debug, Default, Serialize)]
pub struct Unpriced {
    /// Costed by the rules
    pub by_rules: Vec<String>,
    /// Costed by their hours of labour alone, for the rules do not say what they cost
    pub by_hours: Vec<String>,
}

/// Work done while the machine stands
#[derive(Clone, Debug, Serialize)]
pub struct Visit {
    /// Hours from now; 0 is now
    pub in_hours: f64,
    /// Reading of the meter then; none where the case tells no hours
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_meter: Option<f64>,
    /// Labour, hours, what is shared counted once
    pub hours: f64,
    /// Labour saved because work is done together, hours
    pub hours_saved: f64,
    /// What it costs in all
    pub cost: f64,
    /// What is done, in order
    pub jobs: Vec<Job>,
}

/// Work at one place
#[derive(Clone, Debug, Serialize)]
pub struct Job {
    /// Name of the remedy
    pub id: String,
    /// Where
    pub place: String,
    /// What is done
    pub label: String,
    /// It finds out what is wrong, and mends nothing
    pub finds_out: bool,
    /// `now`, `overdue`, `by_hours` or `next_stop`
    pub when: &'static str,
    /// Hours from now by which it is due
    pub due: f64,
    /// Labour, hours, by itself
    pub hours: f64,
    /// What it costs by itself
    pub cost: f64,
    /// Where the cost is from: `price`, `rules` or `hours`
    pub cost_from: &'static str,
    /// What is lost if it is left
    pub loss_if_left: Option<f64>,
    /// Chance of what it fixes; 1 for worn parts
    pub chance: f64,
    /// Chance times loss, less the cost
    pub expected_saving: Option<f64>,
    /// What calls for it
    pub because: Vec<Because>,
    /// What happens if it is left
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left: Option<String>,
    /// What to beware of
    pub cautions: Vec<String>,
    /// What it makes needless
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub instead_of: Vec<Named>,
    /// What it puts off, because it puts back the wear that called for that
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub put_off: Vec<Named>,
    /// Whether it gives a part its life once more, so that something else must last for it to pay
    pub gives_life_again: bool,
    /// The state it shares with other work of the visit
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shares: Option<String>,
}

/// Something named in the rules, at a place
#[derive(Clone, Debug, Serialize)]
pub struct Named {
    /// Its name
    pub id: String,
    /// Where
    pub place: String,
    /// Its label
    pub label: String,
}

/// What calls for work
#[derive(Clone, Debug, Serialize)]
pub struct Because {
    /// The cause, the condition or the measure
    #[serde(flatten)]
    pub named: Named,
    /// `cause`, `condition` or `wear`
    pub sort: &'static str,
    /// Probability at least; none for wear
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_least: Option<f64>,
    /// Probability at most
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_most: Option<f64>,
    /// Per cent worn, the mean of several places
    #[serde(skip_serializing_if = "Option::is_none")]
    pub percent: Option<f64>,
    /// Per cent worn from which it is due
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due_from: Option<f64>,
    /// Hours until then
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due_in: Option<f64>,
    /// Hours until it is used up, or past what the remedy is for; 0 when it is
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ends_in: Option<f64>,
    /// Places read, where there are several
    #[serde(skip_serializing_if = "Option::is_none")]
    pub places: Option<usize>,
    /// The most worn of these
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst: Option<Worst>,
}

/// The most worn part of a row
#[derive(Clone, Debug, Serialize)]
pub struct Worst {
    /// Where
    pub place: String,
    /// Per cent worn
    pub percent: f64,
    /// Hours until it comes to the figure from which the row is due; none when no hours tell
    pub due_in: Option<f64>,
}

/// The decision whether to turn
#[derive(Clone, Debug, Serialize)]
pub struct Turn {
    /// The remedy that turns
    #[serde(flatten)]
    pub named: Named,
    /// `turn`, `run_out`, `too_late`, `open` or `needless`
    pub verdict: &'static str,
    /// What is done instead of a needless one
    #[serde(skip_serializing_if = "Option::is_none")]
    pub instead: Option<Named>,
    /// The most worn of what it renews
    pub face: Option<Share>,
    /// Hours until the turn is due
    pub due_in: Option<f64>,
    /// What must last
    pub lasts: Option<Share>,
    /// Hours that it has left when the turn is due
    pub hours_left: Option<f64>,
    /// Hours that the turn wins
    pub hours_won: Option<f64>,
    /// Least share of these that must be left
    pub share_needed: Option<f64>,
    /// What would have to be read to decide, with the check that reads it
    pub unread: Vec<Unread>,
    /// What would have to be told to decide
    pub untold: Vec<String>,
}

/// A measure with how far it has gone
#[derive(Clone, Debug, Serialize)]
pub struct Share {
    /// Name of the measure
    pub measure: String,
    /// Its label
    pub label: String,
    /// Per cent worn
    pub percent: f64,
}

/// A measure that was not read
#[derive(Clone, Debug, Serialize)]
pub struct Unread {
    /// Name of the measure
    pub measure: String,
    /// Its label
    pub label: String,
    /// Label of the quickest check that reads it
    pub check: Option<String>,
    /// Minutes that takes
    pub minutes: Option<f64>,
}

/// A part that may run on
#[derive(Clone, Debug, Serialize)]
pub struct Running {
    /// The measure
    #[serde(flatten)]
    pub named: Named,
    /// Per cent worn
    pub percent: f64,
    /// Hours to 100 %; none when nothing tells
    pub hours: Option<f64>,
    /// Hours from now of the visit that renews it
    pub renewed_in: Option<f64>,
}

/// Something to watch
#[derive(Clone, Debug, Serialize)]
pub struct Watched {
    /// The cause, the condition or the measure
    #[serde(flatten)]
    pub named: Named,
    /// `cause`, `condition` or `wear`
    pub sort: &'static str,
    /// Probability at least
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_least: Option<f64>,
    /// Probability at most
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_most: Option<f64>,
    /// Label of the check by which it is looked at
    #[serde(skip_serializing_if = "Option::is_none")]
    pub check: Option<String>,
    /// What its cheapest remedy costs
    #[serde(skip_serializing_if = "Option::is_none")]
    pub remedy_costs: Option<f64>,
    /// What is lost by its chance if it is left
    #[serde(skip_serializing_if = "Option::is_none")]
    pub expected_loss: Option<f64>,
    /// Per cent worn
    #[serde(skip_serializing_if = "Option::is_none")]
    pub percent: Option<f64>,
    /// Per cent worn from which something is due
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due_from: Option<f64>,
    /// Hours until then
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due_in: Option<f64>,
    /// The most worn of a row
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst: Option<Worst>,
}
