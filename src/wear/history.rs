//! Readings of one measure at one place over the visits to a machine: which belong to the part that is on it now.
//!
//! A turn makes a measure anew where a remedy that is for parts never turned renews it, or where it has clearly gone back over
//! the turn. What has gone back without one is asked about, and no pace is taken from it.

use super::Readings;
use super::estimate::{Evaluator, Source};
use crate::machine::{Machine, Turned};
use crate::model::formula::Formula;
use crate::model::{MeasureId, Model, PartId};
use crate::place::Place;
use serde::Serialize;

/// How many standard errors two readings must lie apart before one is held to be under the other; once in 40 by chance
pub const CLEARLY: f64 = 2.0;

/// One visit to a machine, in the terms of the rules
#[derive(Clone, Copy, Debug)]
pub struct Visit<'a> {
    /// The machine as the case of that visit gives it
    pub machine: &'a Machine,
    /// What was read then
    pub readings: &'a Readings,
}

/// All readings of one measure at one place that belong to one part
#[derive(Clone, Debug, PartialEq)]
pub struct History {
    /// The measure
    pub measure: MeasureId,
    /// Where
    pub place: Place,
    /// What was read, in the order of hours; never empty
    pub points: Vec<Taken>,
    /// Hours at the last of all visits, whether it was read then or not; none where they are not given
    pub now: Option<f64>,
    /// Hours count from when the part went on or was turned, and it was new then; else they are the machine's
    pub since: Option<Since>,
    /// Hours of the machine at a turn that left the part neither new nor as it was, so that nobody knows how worn it was then
    pub turned: Option<f64>,
    /// Readings of a part that is no longer there, or no longer so
    pub left_out: Vec<LeftOut>,
    /// What does not go together; while there is any, nothing is taken from how the readings went
    pub doubts: Vec<Doubt>,
}

/// One reading of a history
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taken {
    /// Number of the visit, from 0
    pub visit: usize,
    /// Hours then, counted as the history counts them; none where they are not given
    pub hours: Option<f64>,
    /// What was read, in the base unit
    pub read: f64,
    /// Per cent worn, by the table that holds for the machine as it is now
    pub percent: f64,
    /// Standard error of the per cent by the reading alone
    pub error: f64,
    /// Standard error of the per cent with that of the new size
    pub sigma: f64,
}

/// When a part was new
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Since {
    /// Hours of the machine then
    pub at: f64,
    /// It was turned then, else it went on
    pub turned: bool,
    /// Standard error of 0 %, for no two new parts are quite alike, in per cent worn
    pub error: f64,
}

/// A reading that does not belong to the part as it is now
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LeftOut {
    /// Number of the visit, from 0
    pub visit: usize,
    /// Hours of the machine when the part was changed or turned
    pub at: f64,
    /// It was turned, else it was changed
    pub turned: bool,
}

/// What does not go together over the visits
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doubt {
    /// A part that was clearly less worn at a later visit
    Younger {
        /// Number of the earlier visit
        before: usize,
        /// Number of the later visit
        after: usize,
    },
    /// Two visits tell otherwise when the part on the machine at both went on
    HoursDiffer {
        /// Number of the earlier visit
        before: usize,
        /// Hours it tells
        first: f64,
        /// Number of the later visit
        after: usize,
        /// Hours it tells, which count
        second: f64,
    },
    /// Worn, and no hours on it
    NoHoursOn,
}

/// When a part went on and was turned, in hours of the machine
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Fitted {
    /// When it went on
    pub on: Option<f64>,
    /// When it was turned last
    pub turned: Option<f64>,
}

/// When the part at a place went on, by the last visit that tells
pub fn fitted(model: &Model, visits: &[Visit<'_>], part: PartId, place: &Place) -> Fitted {
    let fitted = visits.iter().rev().filter_map(|visit| own_fitted(model, visit, part, place));
    let fitted = fitted.into_iter().find(|fitted| fitted.on.is_some() || fitted.turned.is_some());
    fitted.unwrap_or_default() // else: no visit tells, so that neither hour is known
}

fn own_fitted(model: &Model, visit: &Visit<'_>, part: PartId, place: &Place) -> Option<Fitted> {
    let meter = visit.machine.hours?;
    let service = visit.machine.service(model, part, place)?;
    Some(Fitted {
        on: service.hours.map(|hours| meter - hours),
        turned: service.turned.since().map(|hours| meter - hours),
    })
}

/// The readings of a measure at a place, parted by what was done to the part
pub(super) struct Parted {
    /// Those of the part as it is now, their hours those of the machine
    pub(super) points: Vec<Taken>,
    /// Those of a part that is no longer there, or no longer so
    pub(super) before: Vec<(Taken, LeftOut)>,
    /// When it went on and was turned
    fitted: Fitted,
    /// Hours of the machine at a turn that made the measure anew
    renewed: Option<f64>,
}

/// Parts the readings of a measure at a place; none without a visit
pub(super) fn parted(
    model: &Model,
    visits: &[Visit<'_>],
    measure: MeasureId,
    place: &Place,
) -> Option<Parted> {
    let now = visits.last()?;
    let part = model[measure].common.part;
    let fitted = part.map_or_else(Fitted::default, |part| fitted(model, visits, part, place));
    let mut points = Vec::new();
    let mut before = Vec::new();
    for (number, visit) in visits.iter().enumerate() {
        let Some(taken) = taken(model, now.machine, visit, number, measure, place) else {
            continue;
        };
        match fitted.on.filter(|on| visit.machine.hours.is_some_and(|hours| hours < *on)) {
            Some(at) => before.push((taken, LeftOut { visit: number, at, turned: false })),
            None => points.push(taken),
        }
    }
    let renewed = turned(model, measure, fitted, &points);
    if let Some((from, at)) = renewed {
        let older = points.drain(..from);
        before.extend(older.map(|taken| (taken, LeftOut { visit: taken.visit, at, turned: true })));
    }
    Some(Parted { points, before, fitted, renewed: renewed.map(|(_, at)| at) })
}

/// The history of a measure at a place, over visits in the order of hours; none where nothing read of the part as it is now
/// has a per cent
pub fn history(model: &Model, visits: &[Visit<'_>], measure: MeasureId, place: &Place) -> Option<History> {
    let Parted { mut points, before, fitted, renewed } = parted(model, visits, measure, place)?;
    let now = visits.last()?;
    let last = *points.last()?;
    let evaluator = Evaluator { model, machine: now.machine, readings: now.readings };
    let new = evaluator.new_error(measure, place);
    let since = |at: f64, turned: bool| Since { at, turned, error: new };
    let as_new = by_turning(model, measure);
    let since = match (renewed, fitted.on) {
        (Some(at), _) => as_new.then(|| since(at, true)),
        (None, on) => {
            on.filter(|_| !may_have_been_renewed(&evaluator, measure, place)).map(|on| since(on, false))
        }
    };
    let mut doubts = hours_differ(model, visits, model[measure].common.part, place);
    doubts.extend(younger(&points));
    let zero = since.map_or(0.0, |since| since.at);
    for taken in &mut points {
        taken.hours = taken.hours.map(|hours| hours - zero);
    }
    let now = now.machine.hours.map(|hours| hours - zero);
    let starts_now =
        since.is_some() && points.last().is_some_and(|taken| taken.hours.is_some_and(|hours| hours <= 0.0));
    if starts_now && last.percent > CLEARLY * last.sigma {
        doubts.push(Doubt::NoHoursOn);
    }
    let turned = renewed.filter(|_| !as_new);
    let left_out = before.into_iter().map(|(_, left_out)| left_out).collect();
    Some(History { measure, place: place.clone(), points, now, since, turned, left_out, doubts })
}

/// Whether a turn would have changed what is read, and nobody told whether there was one
fn may_have_been_renewed(evaluator: &Evaluator<'_>, measure: MeasureId, place: &Place) -> bool {
    let part = evaluator.model[measure].common.part;
    part.is_some_and(|part| matches!(evaluator.turned(part, place), Ok(Turned::Unknown)))
        && (by_turning(evaluator.model, measure) || evaluator.model[measure].anew)
}

/// Hours of wear that what is read of a part stands for: since it went on, or since the turn that made it anew; none where
/// nobody told, and where a turn left it neither new nor as it was
pub fn hours_of_wear(evaluator: &Evaluator<'_>, measure: MeasureId, place: &Place) -> Option<f64> {
    let part = evaluator.model[measure].common.part?;
    let service = evaluator.machine.service(evaluator.model, part, place)?;
    match service.turned {
        Turned::Since(since) if by_turning(evaluator.model, measure) => Some(since),
        Turned::Since(_) if evaluator.model[measure].anew => None,
        Turned::Unknown if may_have_been_renewed(evaluator, measure, place) => None,
        _ => service.hours,
    }
}

/// What one visit read, its hours still those of the machine
fn taken(
    model: &Model,
    machine: &Machine,
    visit: &Visit<'_>,
    number: usize,
    measure: MeasureId,
    place: &Place,
) -> Option<Taken> {
    let read = visit.readings.get(&(measure, place.clone()))?.value;
    let worn = Evaluator { model, machine, readings: visit.readings }.worn(measure, place).ok()?;
    let of_reading =
        |(source, error): (&Source, &f64)| matches!(source, Source::Reading(..)).then_some(error.abs());
    Some(Taken {
        visit: number,
        hours: visit.machine.hours,
        read,
        percent: worn.value,
        error: worn.errors.iter().filter_map(of_reading).sum(),
        sigma: worn.sigma(),
    })
}

/// From which of the points on, and since what hours, a turn made the measure anew.
///
/// It does where a remedy says that it renews the measure by turning; where the rules say that it counts anew; and where the part
/// was clearly less worn after it was turned than before.
fn turned(model: &Model, measure: MeasureId, fitted: Fitted, points: &[Taken]) -> Option<(usize, f64)> {
    let at = fitted.turned?;
    let from = points.iter().take_while(|taken| taken.hours.is_some_and(|hours| hours < at)).count();
    let before = from.checked_sub(1).and_then(|last| points.get(last));
    let fell = before.zip(points.get(from)).is_some_and(|(before, after)| is_under(after, before));
    let anew = fell || by_turning(model, measure) || model[measure].anew;
    anew.then_some((from, at))
}

/// Whether a remedy for parts that were never turned renews a measure: then it does so by turning them
fn by_turning(model: &Model, measure: MeasureId) -> bool {
    let part = model[measure].common.part;
    let of_turn = |formula: &Formula| matches!(formula, Formula::Turn(turned) if Some(*turned) == part);
    model.remedies.iter().any(|remedy| {
        let mut facts = remedy.common.gate.facts();
        remedy.makes_new(measure)
            && facts.any(|fact| model[fact].derived.as_ref().is_some_and(|(formula, _)| of_turn(formula)))
    })
}

/// The first reading that is clearly under an earlier one
fn younger(points: &[Taken]) -> Option<Doubt> {
    points.iter().enumerate().find_map(|(number, after)| {
        let before = points.iter().take(number).find(|before| is_under(after, before))?;
        Some(Doubt::Younger { before: before.visit, after: after.visit })
    })
}

fn is_under(after: &Taken, before: &Taken) -> bool {
    before.percent - after.percent > CLEARLY * libm::hypot(before.error, after.error)
}

/// Two visits with the same part on, and different hours given for it
fn hours_differ(model: &Model, visits: &[Visit<'_>], part: Option<PartId>, place: &Place) -> Vec<Doubt> {
    let Some(part) = part else { return Vec::new() };
    let hours_on = visits.iter().enumerate().filter_map(|(number, visit)| {
        Some((number, visit.machine.hours?, own_fitted(model, visit, part, place)?.on?))
    });
    let hours_on: Vec<(usize, f64, f64)> = hours_on.collect();
    let pairs = hours_on.iter().zip(hours_on.iter().skip(1));
    let differ =
        pairs.filter(|((_, hours, first), (_, _, second))| second < hours && (first - second).abs() > 0.5);
    differ
        .map(|((before, _, first), (after, _, second))| Doubt::HoursDiffer {
            before: *before,
            first: *first,
            after: *after,
            second: *second,
        })
        .collect()
}
