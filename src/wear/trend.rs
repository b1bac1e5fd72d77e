//! All that the visits to one machine say of its wear: part by part, and the parts against one another.

use super::compare::{self, AgainstUsual, Odd, Sides, Step};
use super::contact::{Contact, contacts};
use super::estimate::Evaluator;
use super::history::{History, Visit, history};
use super::outdated::{Outdated, outdated};
use super::rate::{By, Left, Rates, rates};
use super::{HoursLeft, Worn};
use crate::machine::{Answer, Supposed};
use crate::model::{MeasureId, Model};
use crate::place::{Place, Side};
use std::collections::BTreeSet;

/// Per cent at which a part is at its limit
pub const LIMIT: f64 = 100.0;

/// How the wear of a machine goes on
#[derive(Clone, Debug, PartialEq)]
pub struct Trend {
    /// Every part that was read at a place, in the order of measures and places
    pub parts: Vec<PartTrend>,
    /// Parts that were changed or turned after all that was read of them, in the same order
    pub outdated: Vec<Outdated>,
    /// Gaps that close
    pub contacts: Vec<Contact>,
    /// Left against right
    pub sides: Vec<Sides>,
    /// Those of a row that are not like the others
    pub odd: Vec<Odd>,
    /// Differences read as such
    pub steps: Vec<Step>,
    /// Longest life that the rules give any part of the size class, in hours; none where they give none
    pub longest_life: Option<f64>,
}

/// How the wear of one part at one place goes on
#[derive(Clone, Debug, PartialEq)]
pub struct PartTrend {
    /// What was read of it
    pub history: History,
    /// How fast it wears
    pub rates: Rates,
    /// So little of it is worn that its own pace says nothing
    pub young: bool,
    /// Which of them hours left are reckoned from; none where nothing tells
    pub by: Option<By>,
    /// Hours to the limit
    pub left: Option<Left>,
    /// Work that falls due before or at the limit
    pub due: Vec<Due>,
    /// Its pace against what the ground explains
    pub against: Option<AgainstUsual>,
}

/// Work that renews a part from a per cent on
#[derive(Clone, Debug, PartialEq)]
pub struct Due {
    /// Number of the remedy
    pub remedy: usize,
    /// Per cent worn from which it is due
    pub percent: f64,
    /// Hours until then; none where nothing tells
    pub left: Option<Left>,
}

/// What visits in the order of hours say of the machine's wear
///
/// Tables, facts and hours on parts are those of the last visit, and of earlier ones where it does not tell.
pub fn trend(model: &Model, visits: &[Visit<'_>]) -> Trend {
    let Some(now) = visits.last() else {
        return Trend {
            parts: Vec::new(),
            outdated: Vec::new(),
            contacts: Vec::new(),
            sides: Vec::new(),
            odd: Vec::new(),
            steps: Vec::new(),
            longest_life: None,
        };
    };
    let evaluator = Evaluator { model, machine: now.machine, readings: now.readings };
    let parts = parts(&evaluator, visits);
    let histories: Vec<&History> = parts.iter().map(|part| &part.history).collect();
    Trend {
        contacts: contacts(model, visits),
        sides: compare::sides(model, &histories),
        odd: compare::odd(model, &histories),
        steps: compare::steps(model, now.readings),
        longest_life: evaluator.longest_life(),
        outdated: outdated(model, visits),
        parts,
    }
}

/// Every part that was read at one of the visits, in the order of measures and places
fn parts(now: &Evaluator<'_>, visits: &[Visit<'_>]) -> Vec<PartTrend> {
    let model = now.model;
    let read: BTreeSet<_> = visits.iter().flat_map(|visit| visit.readings.keys()).collect();
    let on_machine = |place: &Place, measure: MeasureId| {
        now.machine.holds(model, &model[measure].common.gate, place, &Supposed::new()) != Answer::No
    };
    let here = read.into_iter().filter(|(measure, place)| on_machine(place, *measure));
    let histories: Vec<History> =
        here.filter_map(|(measure, place)| history(model, visits, *measure, place)).collect();
    let young: Vec<bool> = histories.iter().map(|own| compare::is_young(own, &histories)).collect();
    histories.into_iter().zip(young).map(|(history, young)| part(now, history, young)).collect()
}

/// How worn what was read at the last of several visits is, with hours left by the best pace that all of them tell
///
/// X % = (new − read) / (new − limit) × 100 for shrinking and growing sizes alike, by the table of the size class
/// where there is one (common practice).
pub fn worn_over(model: &Model, visits: &[Visit<'_>]) -> Vec<Worn> {
    let Some(now) = visits.last() else { return Vec::new() };
    let evaluator = Evaluator { model, machine: now.machine, readings: now.readings };
    let parts = parts(&evaluator, visits);
    let worn = now.readings.iter().filter_map(|((measure, place), reading)| {
        let estimate = evaluator.worn(*measure, place).ok()?;
        let own = parts.iter().find(|part| part.history.measure == *measure && part.history.place == *place);
        Some(Worn {
            measure: *measure,
            place: place.clone(),
            read: reading.value,
            percent: estimate.value,
            sigma: estimate.sigma(),
            left: own.and_then(|part| Some(HoursLeft::new(part.left?, part.by?))),
        })
    });
    worn.collect()
}

fn part(evaluator: &Evaluator<'_>, history: History, young: bool) -> PartTrend {
    let rates = rates(evaluator, &history);
    let by = rates.best(young);
    let left = |percent: f64| by.and_then(|by| rates.left(by, &history, percent));
    let pace = rates.from_new.as_ref().filter(|_| !young);
    PartTrend {
        left: left(LIMIT),
        due: due(evaluator, &history, &left),
        against: compare::own_against(evaluator, &history, pace),
        by,
        rates,
        young,
        history,
    }
}

/// Work that renews what a history is of, where the machine's facts allow it
fn due(evaluator: &Evaluator<'_>, history: &History, left: &dyn Fn(f64) -> Option<Left>) -> Vec<Due> {
    let mut due = Vec::new();
    for (number, remedy) in evaluator.model.remedies.iter().enumerate() {
        let gate = &remedy.common.gate;
        let holds =
            evaluator.machine.holds(evaluator.model, gate, &history.place, &Supposed::new()) != Answer::No;
        let renewed = remedy.renews.iter().filter(|own| own.measure == history.measure && holds);
        due.extend(renewed.map(|own| Due { remedy: number, percent: own.from, left: left(own.from) }));
    }
    due
}

impl Trend {
    /// The parts of a side whose hours left are known, soonest to end first
    pub fn ends(&self, side: Side) -> Vec<&PartTrend> {
        let here = |part: &&PartTrend| part.history.place.side() == Some(side) && part.left.is_some();
        let mut parts: Vec<&PartTrend> = self.parts.iter().filter(here).collect();
        let hours = |part: &PartTrend| part.left.map_or(f64::INFINITY, |left| left.hours);
        parts.sort_by(|a, b| hours(a).total_cmp(&hours(b)));
        parts
    }
}
