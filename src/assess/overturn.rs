//! Single findings that would overturn a weight if they were wrong: left out, or at another grade.

use super::odds::Odds;
use super::scale::Support;
use crate::ground::{Ground, Observation};
use crate::model::Model;

/// Entries of tables that may be passed for supposing other grades, about a second's work
const MOST_WORK: usize = 1 << 28;

/// A finding taken otherwise, and the weight that is left
#[derive(Clone, Debug, PartialEq)]
pub struct Overturn {
    /// Number of the observation
    pub observation: usize,
    /// What it is taken to be
    pub change: Change,
    /// The weight then, in decibans
    pub decibans: f64,
    /// What is supported then, by the figure itself
    pub support: Support,
    /// The other statement is then the more likely to have brought the findings about
    pub crosses: bool,
}

/// What a finding is taken to be
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Change {
    /// As if it had never been made
    LeftOut,
    /// This grade, by its number
    Grade(usize),
}

/// What single findings would do if they were wrong
#[derive(Clone, Debug, PartialEq)]
pub struct Overturns {
    /// What is supported by the figure itself with all findings as they are
    pub now: Support,
    /// Those that would turn the weight to the other statement or change its word, one for each finding: the change that
    /// moves it most, in the order of how far
    pub overturning: Vec<Overturn>,
    /// Where there is none: the one that comes nearest
    pub nearest: Option<Overturn>,
    /// Other grades were supposed too; else that would have taken too long, and findings were only left out
    pub graded: bool,
}

/// Takes each finding out, and at each of its other grades
pub fn overturns(model: &Model, ground: &Ground, odds: &mut Odds) -> Overturns {
    let all = vec![true; odds.findings()];
    let start = odds.decibans(&vec![false; odds.findings()]);
    let now = odds.decibans(&all) - start;
    let states: usize = ground.observations.iter().map(|own| own.likelihood.len() + 1).sum();
    let graded = odds.size().saturating_mul(states) <= MOST_WORK;
    let mut furthest: Vec<Overturn> = Vec::new();
    for (number, own) in ground.observations.iter().enumerate() {
        let mut on = all.clone();
        if let Some(slot) = on.get_mut(number) {
            *slot = false;
        }
        let left_out = odds.decibans(&on) - start;
        let mut changes = vec![(Change::LeftOut, left_out)];
        if graded {
            changes.extend(
                others(model, ground, odds, number, own).map(|(change, odds)| (change, odds - start)),
            );
        }
        let moved = |decibans: f64| (decibans - now).abs();
        let most = changes.into_iter().max_by(|a, b| {
            // What turns it goes before what moves it further the same way.
            let turns = |decibans: f64| crosses(now, decibans);
            turns(a.1).cmp(&turns(b.1)).then(moved(a.1).total_cmp(&moved(b.1)))
        });
        furthest.extend(most.map(|(change, decibans)| Overturn {
            observation: number,
            change,
            decibans,
            support: Support::of(decibans),
            crosses: crosses(now, decibans),
        }));
    }
    furthest.sort_by(|a, b| {
        let moved = |own: &Overturn| (own.decibans - now).abs();
        b.crosses.cmp(&a.crosses).then(moved(b).total_cmp(&moved(a)))
    });
    let support = Support::of(now);
    let (overturning, rest): (Vec<Overturn>, Vec<Overturn>) =
        furthest.into_iter().partition(|own| own.crosses || own.support.strength != support.strength);
    let nearest = rest.into_iter().next().filter(|_| overturning.is_empty());
    Overturns { now: support, overturning, nearest, graded }
}

/// Whether a weight went over to the other statement
fn crosses(now: f64, then: f64) -> bool {
    now * then < 0.0
}

/// The odds at each other grade that can be
fn others<'a>(
    model: &'a Model,
    ground: &'a Ground,
    odds: &'a mut Odds,
    number: usize,
    own: &'a Observation,
) -> impl Iterator<Item = (Change, f64)> + 'a {
    let grades = &model[own.symptom].effect.grades;
    (0..grades.names.len()).filter(move |grade| *grade != own.grade).filter_map(move |grade| {
        let showing: Vec<usize> = (0..grades.states()).filter(|&state| grades.shows(grade, state)).collect();
        let odds = odds.otherwise(&ground.network, number, own.node, &showing)?;
        Some((Change::Grade(grade), odds))
    })
}
