//! Readings of a part that was changed or turned since and not read again: they say nothing of it now, and something is to be
//! measured in their place.
//!
//! The measure is asked for again, or where the turn shut its gate those of the same part that hang on the same fact, as the
//! wall of a turned bushing.

use super::history::{LeftOut, Visit, parted};
use crate::machine::{Answer, Supposed};
use crate::model::{FactId, MeasureId, Model};
use crate::place::Place;
use std::collections::BTreeSet;

/// What was read of a part that was changed or turned since, and not read again
#[derive(Clone, Debug, PartialEq)]
pub struct Outdated {
    /// The measure
    pub measure: MeasureId,
    /// Where
    pub place: Place,
    /// Number of the visit at which it was read last, from 0
    pub visit: usize,
    /// What was read then, in the base unit
    pub read: f64,
    /// Hours of the machine when the part was changed or turned
    pub at: f64,
    /// Hours of the machine from the last reading to then
    pub after: f64,
    /// It was turned, else it was changed
    pub turned: bool,
    /// What tells how worn the part is now: the measure itself, or where the turn has put an end to it those that came in its
    /// place; none where the rules know of none
    pub instead: Vec<Instead>,
}

/// A measure that tells what an outdated one no longer does
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub struct Instead {
    /// The measure
    pub measure: MeasureId,
    /// It was read at the last visit
    pub read: bool,
}

/// All outdated readings over visits in the order of hours, in the order of measures and places
pub fn outdated(model: &Model, visits: &[Visit<'_>]) -> Vec<Outdated> {
    let read: BTreeSet<_> = visits.iter().flat_map(|visit| visit.readings.keys()).collect();
    read.into_iter().filter_map(|(measure, place)| one(model, visits, *measure, place)).collect()
}

fn one(model: &Model, visits: &[Visit<'_>], measure: MeasureId, place: &Place) -> Option<Outdated> {
    let parted = parted(model, visits, measure, place)?;
    let (taken, LeftOut { visit, at, turned }) = *parted.before.last()?;
    let after = at - taken.hours?;
    let instead = instead(model, visits.last()?, measure, place);
    let (read, place) = (taken.read, place.clone());
    parted.points.is_empty().then_some(Outdated { measure, place, visit, read, at, after, turned, instead })
}

/// The measure itself where it is one of the machine as it is now, else those of the same part that hang on the same facts
fn instead(model: &Model, now: &Visit<'_>, measure: MeasureId, place: &Place) -> Vec<Instead> {
    let is_now = |id: MeasureId| {
        now.machine.holds(model, &model[id].common.gate, place, &Supposed::new()) != Answer::No
    };
    let told = |id: MeasureId| Instead { measure: id, read: now.readings.contains_key(&(id, place.clone())) };
    if is_now(measure) {
        return vec![told(measure)];
    }
    let own = &model[measure].common;
    let facts: BTreeSet<FactId> = own.gate.facts().collect();
    let others = (0..model.measures.len()).map(MeasureId).filter(|id| {
        let common = &model[*id].common;
        let alike = common.part == own.part && common.extent == own.extent;
        alike && common.gate.facts().any(|fact| facts.contains(&fact)) && is_now(*id)
    });
    others.map(told).collect()
}
