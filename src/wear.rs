//! From readings and dimensions to per cent worn, losses, pace and hours left, each with its standard error.
//!
//! This stands before `ground`, because readings become findings there.

pub mod advice;
pub mod compare;
pub mod contact;
pub mod contradiction;
pub mod estimate;
pub mod history;
pub mod line;
pub mod normal;
pub mod outdated;
pub mod overall;
pub mod range;
pub mod rate;
pub mod sample;
pub mod table;
pub mod trend;

use crate::machine::Machine;
use crate::model::{How, MeasureId, Model, PartId};
use crate::place::{Place, Side};
use crate::wear::estimate::Gap;
use crate::wear::history::Visit;
use crate::wear::rate::{By, Left};
use std::collections::BTreeMap;

/// One measure as read at one place
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// What counts of the values read, their mean or the worst of them, in the base unit of the measure
    pub value: f64,
    /// Standard error of it, in the base unit: that of the instrument, or of the scatter of the values where that is more
    pub error: f64,
}

/// All readings of a visit
pub type Readings = BTreeMap<(MeasureId, Place), Reading>;

/// Per cent worn under which a pace says nothing: the first of the wear is bedding in (common practice)
pub const SILENT_UNDER: f64 = 20.0;

/// How worn one part is at one place, by one reading
#[derive(Clone, Debug, PartialEq)]
pub struct Worn {
    /// The measure read
    pub measure: MeasureId,
    /// Where
    pub place: Place,
    /// What was read, in the base unit
    pub read: f64,
    /// Per cent worn, not clipped at 100
    pub percent: f64,
    /// Standard error of the per cent
    pub sigma: f64,
    /// Hours to 100 %, and what they are reckoned from; none when nothing tells
    pub left: Option<HoursLeft>,
}

/// Hours to 100 % from here
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoursLeft {
    /// Hours; 0 when past the limit
    pub hours: f64,
    /// One chance in twenty that it is sooner
    pub lower: f64,
    /// One chance in twenty that it is later; none where no end can be told
    pub upper: Option<f64>,
    /// What they are reckoned from
    pub by: Pace,
}

/// What a pace of wear is taken from
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Pace {
    /// This part's own wear over its own hours
    Own,
    /// The usual life of the size class on such ground
    Usual,
}

/// How worn every part is that was read at one visit and has a limit, in the order of measures and places; see
/// [`trend::worn_over`]
pub fn worn(model: &Model, machine: &Machine, readings: &Readings) -> Vec<Worn> {
    trend::worn_over(model, &[Visit { machine, readings }])
}

impl HoursLeft {
    /// Hours left by one of the ways
    fn new(left: Left, by: By) -> Self {
        let by = if by == By::Usual { Pace::Usual } else { Pace::Own };
        HoursLeft { hours: left.hours, lower: left.lower, upper: left.upper, by }
    }
}

/// Why no figure can be had, in a sentence for the person at the machine
pub fn gap_in_words(gap: &Gap, model: &Model) -> String {
    let label = |measure: MeasureId| model[measure].common.label.clone();
    let part = |part: PartId| model[part].common.label.clone();
    match gap {
        Gap::NotRead(measure, Place::Machine) => format!("the {} was not read", label(*measure)),
        Gap::NotRead(measure, place) => format!("the {} was not read: {place}", label(*measure)),
        Gap::FewRead(measure, of, read, all) => format!(
            "the {} was read at only {read} of the {all} {} of a side: read the first, one in the middle and the last at least",
            label(*measure),
            model[*of].plural()
        ),
        Gap::Hangs(facts) => {
            let mut labels: Vec<String> =
                facts.iter().map(|(fact, side)| fact_at(model[*fact].common.label.as_str(), *side)).collect();
            labels.dedup();
            let mut names: Vec<String> =
                facts.iter().map(|(fact, _)| format!("`{}`", model[*fact].common.name)).collect();
            names.dedup();
            format!("it is not told: {} (tell {} under `facts`)", labels.join("; "), names.join(" and "))
        }
        Gap::NoSize => {
            "no sizes are told for it: neither the machine's `size` nor its own under `sizes`".to_owned()
        }
        Gap::NoDimension(measure) => format!("no new size is told for the {} here", label(*measure)),
        Gap::NoLimit(measure) => format!("no limit is told for the {}", label(*measure)),
        Gap::NoLife(measure) => format!("the rules have no life for the {} here", label(*measure)),
        Gap::NoHours(it) => format!("the hours on the {} are not told", part(*it)),
        Gap::NoTurn(it) => format!(
            "it is not told whether the {} was turned: add `turned: never` to it under `parts`, or the hours of the turn",
            part(*it)
        ),
        Gap::TooYoung(measure) => {
            format!(
                "the {} is less than {SILENT_UNDER:.0} % worn, which says nothing of its pace",
                label(*measure)
            )
        }
        Gap::NotOnePart(measure) => format!("the {} belongs to no one part", label(*measure)),
        Gap::NotFinite => "the figures give no value".to_owned(),
    }
}

fn fact_at(label: &str, side: Option<Side>) -> String {
    match side {
        Some(side) => format!("{label}, {}", side.word()),
        None => label.to_owned(),
    }
}

/// True when a measure is read with an instrument
pub fn is_read(model: &Model, measure: MeasureId) -> bool {
    matches!(model[measure].how, How::Read { .. })
}
