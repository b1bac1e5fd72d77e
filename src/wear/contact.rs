//! When wear lets two parts touch that should not: gaps that close, such as that between roller flange and pin boss.
//!
//! A gap is known from the rules: a measure reckoned as the new size of another less what its parts have lost, and nothing
//! else. Both the one that is read and the one that is reckoned are gone at 0. What else is reckoned from a new size, such as
//! the stroke that a sag stands for, is no gap.
//!
//! A gap that closes is a new size less losses and nothing else (`closed_by_wear`); what else is reckoned from a new size is
//! none.

use super::estimate::{Estimate, Evaluator, Source};
use super::history::{CLEARLY, Visit, fitted, history};
use super::line::{Line, Point};
use super::rate::Left;
use crate::model::formula::{Formula, Operator};
use crate::model::{How, MeasureId, Model};
use crate::place::Place;

/// A gap that closes
#[derive(Clone, Debug, PartialEq)]
pub struct Contact {
    /// The gap: a measure that is read, or one reckoned from losses
    pub measure: MeasureId,
    /// Where
    pub place: Place,
    /// What is left of it, in the base unit; under 0 where it should be gone already
    pub gap: f64,
    /// Standard error of it
    pub sigma: f64,
    /// How it closes: hours of the machine, and the gap with its sign turned
    pub line: Option<Line>,
    /// Hours from the last visit until nothing is left; none where nothing tells how fast it closes
    pub left: Option<Left>,
}

/// Every gap that could be read or reckoned at the last visit, in the order of measures and places
pub fn contacts(model: &Model, visits: &[Visit<'_>]) -> Vec<Contact> {
    let Some(now) = visits.last() else { return Vec::new() };
    let mut all = Vec::new();
    let evaluator = Evaluator { model, machine: now.machine, readings: now.readings };
    for sum in reckoned(model) {
        for place in now.machine.places(model, model[sum].common.extent) {
            let Ok(formula) = evaluator.sum(sum, &place) else { continue };
            let Some(gap) = closed_by_wear(formula) else { continue };
            all.extend([gap, sum].iter().filter_map(|id| contact(model, visits, formula, gap, *id, &place)));
        }
    }
    all.sort_by(|a, b| (a.measure, &a.place).cmp(&(b.measure, &b.place)));
    all
}

fn reckoned(model: &Model) -> impl Iterator<Item = MeasureId> {
    let measures = (0..model.measures.len()).map(MeasureId);
    measures.filter(|id| matches!(model[*id].how, How::Reckoned))
}

/// The measure whose new size a formula takes losses from, and nothing but losses; none for any other formula
fn closed_by_wear(formula: &Formula) -> Option<MeasureId> {
    match formula {
        Formula::Pair(rest, Operator::Minus, lost) if is_lost(lost) => match rest.as_ref() {
            Formula::New(id) => Some(*id),
            rest => closed_by_wear(rest),
        },
        Formula::Across { of, .. } => closed_by_wear(of),
        _ => None,
    }
}

/// Whether a formula is what parts have lost, a share of it, or the sum of several
fn is_lost(formula: &Formula) -> bool {
    match formula {
        Formula::Loss(_) => true,
        Formula::Across { of, .. } => is_lost(of),
        Formula::Pair(one, Operator::Plus, other) => is_lost(one) && is_lost(other),
        Formula::Pair(one, Operator::Times | Operator::Over, other) => match (one.as_ref(), other.as_ref()) {
            (Formula::Figure(_), lost) => is_lost(lost),
            (lost, Formula::Figure(_)) => is_lost(lost),
            _ => false,
        },
        _ => false,
    }
}

fn contact(
    model: &Model,
    visits: &[Visit<'_>],
    formula: &Formula,
    gap: MeasureId,
    measure: MeasureId,
    place: &Place,
) -> Option<Contact> {
    let now = visits.last()?;
    let worn = formula.readings();
    let parts = worn.iter().filter_map(|id| model[*id].common.part);
    let ons: Vec<Option<f64>> = parts.map(|part| fitted(model, visits, part, place).on).collect();
    let since = ons.iter().flatten().copied().fold(f64::NEG_INFINITY, f64::max);
    let mut points = Vec::new();
    let mut last = None;
    for visit in visits {
        let evaluator = Evaluator { model, machine: now.machine, readings: visit.readings };
        let Ok(value) = evaluator.value(&Formula::Measure(measure), place) else { continue };
        if let Some(hours) = visit.machine.hours.filter(|hours| *hours >= since) {
            points.push(Point { hours, value: -value.value, sigma: value.sigma() });
        }
        last = Some((visit, value));
    }
    let (visit, value) = last?;
    let evaluator = Evaluator { model, machine: now.machine, readings: visit.readings };
    let together = ons.iter().all(|on| on.is_some_and(|on| on >= since));
    let new = evaluator.value(&Formula::New(gap), place).ok()?.value;
    let start = together.then_some(Point { hours: since, value: -new, sigma: 0.0 });
    let line = match (points.as_slice(), start) {
        ([first, second], None) => Line::through(*first, *second),
        ([one], Some(start)) => Line::through(start, *one),
        ([one], None) => by_parts(model, visits, visit, &worn, &value, *one, place),
        (several, start) => {
            let surest = several.iter().map(|point| point.sigma).fold(f64::INFINITY, f64::min);
            let start = start.map(|start| Point { sigma: surest, ..start });
            Line::nearest(&start.into_iter().chain(several.iter().copied()).collect::<Vec<_>>())
        }
    };
    let line = line.filter(|_| !opens(&points) && !doubted(model, visits, &worn, place));
    let left = line.as_ref().zip(now.machine.hours).and_then(|(line, hours)| left(line, &value, hours));
    Some(Contact { measure, place: place.clone(), gap: value.value, sigma: value.sigma(), line, left })
}

/// Whether a gap was clearly larger at a later visit; points hold it with its sign turned
fn opens(points: &[Point]) -> bool {
    let pairs = points
        .iter()
        .enumerate()
        .flat_map(|(number, after)| points.iter().take(number).map(move |before| (before, after)));
    let mut fell = pairs
        .map(|(before, after)| before.value - after.value > CLEARLY * libm::hypot(before.sigma, after.sigma));
    fell.any(|fell| fell)
}

/// Whether something does not go together in the history of a measure that makes a gap
fn doubted(model: &Model, visits: &[Visit<'_>], worn: &[MeasureId], place: &Place) -> bool {
    let Some(now) = visits.last() else { return false };
    let evaluator = Evaluator { model, machine: now.machine, readings: now.readings };
    let histories =
        worn.iter().filter_map(|id| history(model, visits, *id, &evaluator.own_place(*id, place)));
    histories.into_iter().any(|history| !history.doubts.is_empty())
}

/// How a gap closes by what each part that makes it has lost over its own hours
fn by_parts(
    model: &Model,
    visits: &[Visit<'_>],
    visit: &Visit<'_>,
    worn: &[MeasureId],
    value: &Estimate,
    at: Point,
    place: &Place,
) -> Option<Line> {
    let evaluator = Evaluator { model, machine: visits.last()?.machine, readings: visit.readings };
    let mut slope = 0.0;
    let mut sources = Vec::new();
    for &id in worn {
        let read = evaluator.value(&Formula::Measure(id), place).ok()?;
        let new = evaluator.value(&Formula::New(id), place).ok()?.value;
        let on = fitted(model, visits, model[id].common.part?, place).on?;
        let hours = at.hours - on;
        if hours <= 0.0 {
            return None;
        }
        for (source, error) in &read.errors {
            let of_gap = value.errors.get(source).copied().unwrap_or(0.0); // else: the gap does not hang on it
            slope -= of_gap / error * (read.value - new) / hours;
            sources.push((-of_gap, -of_gap / hours));
        }
    }
    let others = value.errors.iter().filter(|(source, _)| !matches!(source, Source::Reading(..)));
    sources.extend(others.map(|(_, error)| (-error, 0.0)));
    Line::drawn(at.hours, at.value, slope, &sources)
}

fn left(line: &Line, value: &Estimate, now: f64) -> Option<Left> {
    let reached = line.reaches(0.0, value.sigma())?;
    Some(Left::until(&reached, now, value.value <= 0.0))
}
