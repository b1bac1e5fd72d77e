//! Left against right, one of a row against the others, and a pace against what the ground explains.
//!
//! Whether a part's own pace counts is decided for all that went on together where its reading lies within the errors of
//! `SILENT_UNDER`: a hundredth of a millimetre must not part one side from the other.

use super::Readings;
use super::SILENT_UNDER;
use super::estimate::Evaluator;
use super::history::{CLEARLY, History, Taken};
use super::line::{Line, nine_of_ten};
use super::rate::Usual;
use crate::model::subject::{Subject, Term, as_measure};
use crate::model::{How, MeasureId, Model};
use crate::place::{Place, Side};
use crate::units::{self, Unit};
use serde::Serialize;
use std::collections::BTreeMap;

/// How many standard errors one of a row must lie from the mean of the others, for there are many to choose from
const CLEARLY_OF_A_ROW: f64 = 3.0;

/// Two sides under one measure
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Sides {
    /// The measure
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words
    #[serde(flatten, serialize_with = "as_measure")]
    pub term: Term,
    /// Per cent worn on the left, of a row its mean
    pub left: f64,
    /// Per cent worn on the right, of a row its mean
    pub right: f64,
    /// Standard error of the difference
    pub sigma: f64,
    /// The side clearly more worn; none where the errors explain the difference
    pub ahead: Option<Side>,
}

/// One of a row that is clearly more or less worn than the others
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Odd {
    /// The measure
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words, and where
    #[serde(flatten, serialize_with = "as_measure")]
    pub named: Subject,
    /// Its per cent worn
    pub percent: f64,
    /// Mean per cent of the others of its side
    pub others: f64,
    /// Standard error of the difference
    pub sigma: f64,
}

/// A measure that is itself a difference, such as that of two rows of rails, read at a place
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Step {
    /// The measure
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words, and where
    #[serde(flatten, serialize_with = "as_measure")]
    pub named: Subject,
    /// What was read, in `unit`
    pub read: f64,
    /// Its standard error
    pub sigma: f64,
    /// Half of what nine of ten such readings lie within
    pub give_or_take: f64,
    /// Unit of both
    pub unit: Unit,
    /// It is clearly not 0
    pub clear: bool,
}

/// A part's own pace against the usual one on such ground
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AgainstUsual {
    /// How many times as fast as usual
    pub times: f64,
    /// Least of what 90 of 100 machines on such ground show
    pub lower: f64,
    /// Most of it
    pub upper: f64,
    /// The pace is clearly outside of what ground and reading explain
    pub clear: bool,
}

/// What was read last at several places, under one measure
type Last<'h> = Vec<(&'h Place, &'h Taken)>;

/// What was read last of parts that went on together and were read together, by measure and the hours when they went on;
/// of several such groups under one measure the largest, of two as large the older
fn alike<'h>(histories: &[&'h History]) -> BTreeMap<MeasureId, Last<'h>> {
    let mut groups: BTreeMap<(MeasureId, Option<u64>, usize), Last<'h>> = BTreeMap::new();
    for history in histories {
        let Some(last) = history.points.last() else { continue };
        let since = history.since.map(|since| since.at.to_bits());
        groups.entry((history.measure, since, last.visit)).or_default().push((&history.place, last));
    }
    let mut largest: BTreeMap<MeasureId, Last<'h>> = BTreeMap::new();
    for ((measure, ..), group) in groups {
        let own = largest.entry(measure).or_default();
        if group.len() > own.len() {
            *own = group;
        }
    }
    largest
}

/// Compares left with right, measure by measure, among parts that went on together
pub fn sides(model: &Model, histories: &[&History]) -> Vec<Sides> {
    let compared = alike(histories).into_iter().filter_map(|(measure, group)| {
        let on = |side: Side| {
            let here = group.iter().filter(|(place, _)| place.side() == Some(side));
            mean(here.map(|(_, taken)| *taken))
        };
        let (left, right) = (on(Side::Left)?, on(Side::Right)?);
        let sigma = libm::hypot(left.1, right.1);
        let more = if left.0 > right.0 { Side::Left } else { Side::Right };
        let ahead = ((left.0 - right.0).abs() > CLEARLY * sigma).then_some(more);
        Some(Sides { measure, term: model.term(measure), left: left.0, right: right.0, sigma, ahead })
    });
    compared.collect()
}

/// Mean per cent of several, with its standard error
fn mean<'t>(taken: impl Iterator<Item = &'t Taken>) -> Option<(f64, f64)> {
    let taken: Vec<&Taken> = taken.collect();
    let share = 1.0 / taken.len() as f64;
    let sum: f64 = taken.iter().map(|taken| taken.percent).sum();
    let square: f64 = taken.iter().map(|taken| taken.sigma * taken.sigma).sum();
    share.is_finite().then(|| (sum * share, libm::sqrt(square) * share))
}

/// Those of each row of numbered parts that are clearly more or less worn than the others of their side which went on with
/// them
pub fn odd(model: &Model, histories: &[&History]) -> Vec<Odd> {
    let mut odd = Vec::new();
    let rows = alike(histories).into_iter().flat_map(|(measure, group)| {
        Side::BOTH.map(|side| {
            let here = |place: &Place| matches!(place, Place::Numbered { side: own, .. } if *own == side);
            (measure, group.iter().filter(|(place, _)| here(place)).copied().collect::<Last<'_>>())
        })
    });
    for (measure, row) in rows {
        for (place, own) in row.iter().filter(|_| row.len() > 2) {
            let others = row.iter().filter(|(other, _)| other != place).map(|(_, taken)| *taken);
            let Some((others, error)) = mean(others) else { continue };
            let sigma = libm::hypot(own.sigma, error);
            if (own.percent - others).abs() > CLEARLY_OF_A_ROW * sigma {
                let named = model.subject(measure, place);
                odd.push(Odd { measure, named, percent: own.percent, others, sigma });
            }
        }
    }
    odd
}

/// Measures that are differences of two lengths: those that can be under 0
pub fn steps(model: &Model, readings: &Readings) -> Vec<Step> {
    let read = readings.iter().filter_map(|((measure, place), reading)| {
        let How::Read { unit, range, .. } = &model[*measure].how else { return None };
        if range.0 >= 0.0 || unit.dimension() != units::Dimension::Length {
            return None;
        }
        let sigma = reading.error;
        let clear = reading.value.abs() > CLEARLY * sigma;
        Some(Step {
            measure: *measure,
            named: model.subject(*measure, place),
            read: unit.from_base(reading.value),
            sigma: unit.from_base(sigma),
            give_or_take: unit.from_base(nine_of_ten(sigma)),
            unit: *unit,
            clear,
        })
    });
    read.collect()
}

/// Whether so little of a part is worn that its own pace says nothing.
///
/// Where its own reading lies within the errors of that bound, the mean of all that went on with it tells, so that a hair does
/// not part one side from the other, or a part from its row.
pub fn is_young(own: &History, all: &[History]) -> bool {
    let Some(last) = own.points.last() else { return false };
    if (last.percent - SILENT_UNDER).abs() > CLEARLY * last.sigma {
        return last.percent < SILENT_UNDER;
    }
    let group = |history: &&History| {
        let last = history.points.last().map(|last| last.visit);
        (history.measure, history.since.map(|since| since.at.to_bits()), last)
    };
    let together = all.iter().filter(|other| group(other) == group(&own));
    mean(together.filter_map(|other| other.points.last())).is_some_and(|(mean, _)| mean < SILENT_UNDER)
}

/// A pace against the usual one
pub fn against(pace: &Line, usual: Usual) -> Option<AgainstUsual> {
    if pace.slope <= 0.0 {
        return None;
    }
    let times = pace.slope * usual.life / 100.0;
    let sigma = libm::hypot(usual.spread, pace.slope_sigma() / pace.slope);
    let reach = nine_of_ten(usual.spread);
    let clear = libm::log(times).abs() > CLEARLY * sigma;
    Some(AgainstUsual { times, lower: libm::exp(-reach), upper: libm::exp(reach), clear })
}

/// A part's own pace, from new where that is known, against the usual one at its place
pub fn own_against(
    evaluator: &Evaluator<'_>,
    history: &History,
    pace: Option<&Line>,
) -> Option<AgainstUsual> {
    against(pace?, evaluator.usual(history.measure, &history.place)?)
}
