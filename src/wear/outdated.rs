//! Readings of a part that was changed or turned since and not read again: they say nothing of it now, and something is to be
//! measured in their place.
//!
//! The measure is asked for again, or where the turn shut its gate those of the same part that hang on the same fact, as the
//! wall of a turned bushing.

use super::history::{LeftOut, Visit, parted};
use crate::machine::{Answer, Supposed};
use crate::model::subject::{Subject, Term, as_measure};
use crate::model::{FactId, MeasureId, Model};
use crate::place::Place;
use crate::units::Unit;
use serde::Serialize;
use std::collections::BTreeSet;

/// What was read of a part that was changed or turned since, and not read again
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Outdated {
    /// The measure
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words, and where
    #[serde(flatten, serialize_with = "as_measure")]
    pub named: Subject,
    /// Label of the part it belongs to
    pub part: Option<String>,
    /// What was read last, in `unit`
    pub read: f64,
    /// Unit of it
    pub unit: Unit,
    /// Number of the visit at which, from 0
    pub visit: usize,
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
#[derive(Clone, Debug, Eq, PartialEq, Serialize)]
pub struct Instead {
    /// The measure
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words
    #[serde(flatten, serialize_with = "as_measure")]
    pub term: Term,
    /// It was read at the last visit
    pub read: bool,
    /// The rules say where and how it is read
    pub explained: bool,
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
    let own = &model[measure];
    parted.points.is_empty().then_some(Outdated {
        measure,
        named: model.subject(measure, place),
        part: own.common.part.map(|part| model[part].common.label.clone()),
        read: own.unit().from_base(taken.read),
        unit: own.unit(),
        visit,
        at,
        after,
        turned,
        instead: instead(model, visits.last()?, measure, place),
    })
}

/// The measure itself where it is one of the machine as it is now, else those of the same part that hang on the same facts
fn instead(model: &Model, now: &Visit<'_>, measure: MeasureId, place: &Place) -> Vec<Instead> {
    let is_now = |id: MeasureId| {
        now.machine.holds(model, &model[id].common.gate, place, &Supposed::new()) != Answer::No
    };
    let entry = |id: MeasureId| Instead {
        measure: id,
        term: model.term(id),
        read: now.readings.contains_key(&(id, place.clone())),
        explained: model[id].common.text.is_some(),
    };
    if is_now(measure) {
        return vec![entry(measure)];
    }
    let own = &model[measure].common;
    let facts: BTreeSet<FactId> = own.gate.facts().collect();
    let others = (0..model.measures.len()).map(MeasureId).filter(|id| {
        let common = &model[*id].common;
        let alike = common.part == own.part && common.extent == own.extent;
        alike && common.gate.facts().any(|fact| facts.contains(&fact)) && is_now(*id)
    });
    others.map(entry).collect()
}
