//! Single findings that would overturn a weight if they were wrong: each is left out, or taken at another grade.
//!
//! Which findings may matter is seen from the ratio alone, without draws. For those few the range is then made by the same draws
//! as that of the weight, and what is still supported goes by the end of it that is nearer to a ratio of 1.

use super::odds::Odds;
use super::scale::{Held, Strength, Support};
use crate::ground::Ground;
use crate::infer::chosen;
use crate::model::Model;

/// Entries of tables that may be passed for supposing other grades, about a second's work
const MOST_WORK: usize = 1 << 28;
/// Most findings that are supposed otherwise in every draw
const MOST_DRAWN: usize = 6;

/// A finding taken otherwise, and the weight that is left
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Supposed {
    /// Number of the observation
    pub observation: usize,
    /// What it is taken to be
    pub change: Change,
    /// The weight then, in decibans
    pub decibans: f64,
}

/// What a finding is taken to be
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Change {
    /// As if it had never been made
    LeftOut,
    /// This grade, by its number
    Grade(usize),
}

/// The findings that would take most from a weight
#[derive(Clone, Debug, PartialEq)]
pub struct Suppositions {
    /// One for each finding, the change that takes most from the weight, what takes most first; no more than six, and none
    /// where the ratio is under 2 either way, so that there is nothing to overturn
    pub list: Vec<Supposed>,
    /// Other grades were supposed too; else that would have taken too long, and findings were only left out
    pub graded: bool,
}

/// Takes each finding out, and at each of its other grades
pub fn suppositions(model: &Model, ground: &Ground, odds: &mut Odds) -> Suppositions {
    let now = odds.ratio();
    let states: usize = ground.observations.iter().map(|own| own.likelihood.len() + 1).sum();
    let graded = odds.size().saturating_mul(states) <= MOST_WORK;
    let signed = |decibans: f64| if now < 0.0 { -decibans } else { decibans };
    let mut list: Vec<Supposed> = Vec::new();
    if Support::of(now).strength == Strength::None {
        return Suppositions { list, graded };
    }
    for (observation, own) in ground.observations.iter().enumerate() {
        let grades = if graded { model[own.symptom].effect.grades.names.len() } else { 0 };
        let others = (0..grades).filter(|grade| *grade != own.grade).map(Change::Grade);
        let changes = [Change::LeftOut].into_iter().chain(others);
        let taken = changes.filter_map(|change| {
            let decibans = taken(model, ground, odds, observation, change)?;
            Some(Supposed { observation, change, decibans })
        });
        let least = taken.min_by(|a, b| signed(a.decibans).total_cmp(&signed(b.decibans)));
        list.extend(least.filter(|own| signed(own.decibans) < signed(now)));
    }
    list.sort_by(|a, b| signed(a.decibans).total_cmp(&signed(b.decibans)));
    list.truncate(MOST_DRAWN);
    Suppositions { list, graded }
}

/// The weight in decibans with one finding taken otherwise; none where that cannot be, given all else
pub fn taken(
    model: &Model,
    ground: &Ground,
    odds: &mut Odds,
    observation: usize,
    change: Change,
) -> Option<f64> {
    let own = ground.observations.get(observation)?;
    let after = match change {
        Change::LeftOut => odds.decibans(&chosen::all_but(odds.findings(), observation)),
        Change::Grade(grade) => {
            let grades = &model[own.symptom].effect.grades;
            let showing: Vec<usize> =
                (0..grades.states()).filter(|state| grades.shows(grade, *state)).collect();
            odds.otherwise(&ground.network, observation, own.node, &showing)?
        }
    };
    Some(after - odds.decibans(&chosen::none(odds.findings())))
}

/// A finding taken otherwise, and what is said then
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overturn {
    /// The finding, and what it is taken to be
    pub supposed: Supposed,
    /// The weight then, its range and what it supports
    pub held: Held,
    /// The other statement is then the more likely to have brought the findings about
    pub crosses: bool,
}

/// What single findings would do if they were wrong
#[derive(Clone, Debug, PartialEq)]
pub struct Overturns {
    /// Those that would lead to a weaker word or to the other statement; without a range, past a ratio of 1
    pub overturning: Vec<Overturn>,
    /// Where something is supported and there is none: the one that comes nearest
    pub nearest: Option<Overturn>,
    /// Other grades were supposed too
    pub graded: bool,
}

/// Which suppositions overturn a weight; `draws` has for each of them its weights in decibans with the strengths drawn anew,
/// and `estimated` is whether an estimate carries the weight
pub fn overturns(now: &Held, supposed: &Suppositions, draws: &[Vec<f64>], estimated: bool) -> Overturns {
    let graded = supposed.graded;
    let support = now.support.unwrap_or_else(|| Support::of(now.decibans)); // else: nothing was drawn
    let strength = support.strength;
    if strength == Strength::None {
        return Overturns { overturning: Vec::new(), nearest: None, graded };
    }
    let suppositions = supposed.list.iter().enumerate().map(|(number, own)| {
        let drawn = draws.get(number).map_or(&[] as &[f64], Vec::as_slice);
        let crosses = now.decibans * own.decibans < 0.0;
        Overturn { supposed: *own, held: Held::new(own.decibans, drawn, estimated), crosses }
    });
    let (overturning, rest): (Vec<Overturn>, Vec<Overturn>) =
        suppositions.partition(|own| match (now.support, own.held.support) {
            (Some(now), Some(then)) => then.strength < now.strength || then.first != now.first,
            _ => own.crosses,
        });
    let nearest = rest.into_iter().next().filter(|_| overturning.is_empty());
    Overturns { overturning, nearest, graded }
}
