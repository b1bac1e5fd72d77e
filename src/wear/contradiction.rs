//! Readings that cannot all be right: each measure held against what others make of it.
//!
//! A contradiction is told and never weighs: what the trade draws from two readings apart is a symptom of its own. The pairs
//! stand in the rules (`against`); the error is that of the difference, so that what both figures share cancels; three standard
//! errors are the bound because a machine has some twenty pairs. A reading that its gate rules out is kept in
//! `ground.set_aside` for this alone: a caliper over a turned bushing means nothing, and just that is worth saying.

use super::Readings;
use super::estimate::{Estimate, Evaluator, Source, difference};
use super::line::nine_of_ten;
use crate::machine::Machine;
use crate::model::subject::{Subject, as_measure};
use crate::model::{How, MeasureId, Model};
use crate::place::Place;
use crate::units::Unit;
use serde::Serialize;

/// Standard errors from which two figures are told to contradict one another.
///
/// A machine has some twenty pairs of figures, most of them along the rollers. With every reading sound one of them
/// lies three standard errors apart on one machine in twenty; at two it would be so on two machines in three.
pub const CONTRADICTS_FROM: f64 = 3.0;

/// A reading that others do not explain; it is told and does not weigh
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Contradiction {
    /// The measure
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words, and where
    #[serde(flatten, serialize_with = "as_measure")]
    pub named: Subject,
    /// What it reads, in `unit`
    pub read: f64,
    /// What it should read by the others, in `unit`
    pub expected: f64,
    /// Standard error of the difference, in `unit`: errors that both share cancel, and the tolerance of the rule is
    /// counted in
    pub sigma: f64,
    /// Half of what nine of ten such differences lie within, in `unit`
    pub give_or_take: f64,
    /// Standard errors by which the reading is more than what the others explain; negative where it is less
    pub excess: f64,
    /// Unit of the figures
    pub unit: Unit,
    /// What it mostly comes from
    pub because: String,
    /// Readings any one of which, read otherwise, would do away with it, the likeliest first: the one whose error weighs
    /// most. None that would have to be off its range or better than new, and none where reading again does not help
    pub again: Vec<Again>,
}

/// A reading that would do away with a contradiction if it were another
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Again {
    /// The measure
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words, and where
    #[serde(flatten, serialize_with = "as_measure")]
    pub named: Subject,
    /// What was read, in `unit`
    pub read: f64,
    /// What it would have to be for the two to agree, all others left as they are, in `unit`
    pub fits: f64,
    /// Unit of the figures
    pub unit: Unit,
}

/// All readings that others do not explain, in the order of measures and places.
///
/// `set_aside` holds readings that mean nothing on this machine for the wear of a part, such as a caliper over bushings
/// that were turned: each is held against what it should read all the same, since that shows what is wrong with it.
pub fn contradictions(
    model: &Model,
    machine: &Machine,
    readings: &Readings,
    set_aside: &Readings,
) -> Vec<Contradiction> {
    let mut found = Vec::new();
    for number in 0..model.measures.len() {
        let id = MeasureId(number);
        for place in machine.places(model, model[id].common.extent) {
            let key = (id, place.clone());
            let own = set_aside.get(&key).map(|reading| {
                let mut with = readings.clone();
                with.insert(key, *reading);
                with
            });
            let readings = own.as_ref().unwrap_or(readings); // else: it was not set aside and is among them
            let evaluator = Evaluator { model, machine, readings };
            let again = own.is_none();
            found.extend(contradiction(&evaluator, id, place).map(|found| {
                // What means nothing here is not mended by reading it again.
                if again { found } else { Contradiction { again: Vec::new(), ..found } }
            }));
        }
    }
    found
}

fn contradiction(evaluator: &Evaluator<'_>, measure: MeasureId, place: Place) -> Option<Contradiction> {
    let against = evaluator.model[measure].against.as_ref()?;
    let read = evaluator.measure(measure, &place).ok()?;
    let expected = evaluator.value(&against.formula, &place).ok()?;
    let apart = difference(&read, &expected);
    let because = if apart.value > 0.0 { &against.more } else { &against.less };
    let sigma = libm::hypot(apart.sigma(), against.tolerance);
    let excess = (read.value - expected.value) / sigma;
    if excess.abs() < CONTRADICTS_FROM || excess.is_nan() {
        return None;
    }
    let unit = evaluator.model[measure].unit();
    Some(Contradiction {
        measure,
        named: evaluator.model.subject(measure, &place),
        read: unit.from_base(read.value),
        expected: unit.from_base(expected.value),
        sigma: sigma / unit.step_to_base(1.0),
        give_or_take: nine_of_ten(sigma) / unit.step_to_base(1.0),
        excess,
        unit,
        because: because.clone()?,
        again: again(evaluator, &apart),
    })
}

/// The readings that a difference is made from and could be other than they are, the one with the largest share in its
/// error first
fn again(evaluator: &Evaluator<'_>, apart: &Estimate) -> Vec<Again> {
    let mut by_share: Vec<(f64, Again)> = Vec::new();
    for (source, error) in &apart.errors {
        let Source::Reading(measure, place) = source else { continue };
        let (Some(reading), How::Read { range, .. }) =
            (evaluator.readings.get(&(*measure, place.clone())), &evaluator.model[*measure].how)
        else {
            continue;
        };
        let fits = reading.value - apart.value * reading.error / error;
        let in_range = range.0 <= fits && fits <= range.1;
        if in_range && !evaluator.is_better_than_new(*measure, place, fits) {
            let unit = evaluator.model[*measure].unit();
            let again = Again {
                measure: *measure,
                named: evaluator.model.subject(*measure, place),
                read: unit.from_base(reading.value),
                fits: unit.from_base(fits),
                unit,
            };
            by_share.push((error.abs(), again));
        }
    }
    by_share.sort_by(|a, b| b.0.total_cmp(&a.0));
    by_share.into_iter().map(|(_, again)| again).collect()
}
