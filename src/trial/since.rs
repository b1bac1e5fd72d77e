//! One case by two sets of rules: what moved, and which changed block moved it.
//!
//! What differs is found in the trees, so layout and comments count for nothing. Each block that differs is tried alone, both
//! ways: the old rules with this change only, and the new rules without it. A change accounts for a move that it makes at least
//! half of when it is the only one. Where no change does, those are said to work together without which at least a fifth of
//! the move is lost. Over 60 changed blocks are not tried.

use super::Trial;
use super::judge::Answers;
use crate::ground::Ground;
use crate::model::Model;
use crate::place::Place;
use crate::reason::Ranked;
use crate::reason::next::{NextCheck, What};
use std::collections::BTreeMap;

/// Change of a cause's probability worth telling
pub const MOVED_FROM: f64 = 0.02;
/// Probability from which a cause has a rank worth telling
const RANKED_FROM: f64 = 0.05;
/// Causes whose order is shown, and next checks
const FIRST: usize = 3;
/// Share of a move from which one change by itself accounts for it
const MOST_OF_IT: f64 = 0.5;
/// Share of a move from which a change has a part in it
const PART_OF_IT: f64 = 0.2;

/// A cause or check by its name and place, whatever rules it stands in
pub type Named = (String, Place);

/// Probabilities of causes by name and place
pub type Chances = BTreeMap<Named, f64>;

/// What moved in one case
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Moved {
    /// Causes whose probability moved by [`MOVED_FROM`] or more, the one that moved most first
    pub moves: Vec<Move>,
    /// The first causes before and after; none when they stand as they stood
    pub order: Option<(Vec<Named>, Vec<Named>)>,
    /// Claims, by number, that held and no longer do
    pub broken: Vec<usize>,
    /// Claims, by number, that did not hold and now do
    pub mended: Vec<usize>,
    /// The first next checks before and after; none when they stand as they stood
    pub next: Option<(Vec<Named>, Vec<Named>)>,
}

impl Moved {
    /// True when nothing worth telling moved
    pub fn is_nothing(&self) -> bool {
        *self == Moved::default()
    }
}

/// A cause that moved
#[derive(Clone, Debug, PartialEq)]
pub struct Move {
    /// The cause
    pub cause: Named,
    /// Its probability by the old rules; 0 where they do not have it
    pub before: f64,
    /// Its probability by the new rules; 0 where they do not have it
    pub after: f64,
    /// What moved it
    pub because: Because,
}

/// What moved a cause
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Because {
    /// These changes by themselves, by number, each with the probability that it alone makes of the old one
    Each(Vec<(usize, f64)>),
    /// These changes, by number, only together
    Together(Vec<usize>),
    /// No one change accounts for it
    #[default]
    Unknown,
}

/// One change tried by itself on a case
#[derive(Clone, Debug)]
pub struct Mix {
    /// Number of the change
    pub change: usize,
    /// Chances by the old rules with this change; none when such rules do not hold together
    pub with: Option<Chances>,
    /// Chances by the new rules without this change; none when such rules do not hold together
    pub without: Option<Chances>,
}

/// A case by one set of rules
#[derive(Clone, Copy)]
pub struct By<'a> {
    /// The rules
    pub model: &'a Model,
    /// The case in their terms
    pub ground: &'a Ground,
    /// What came of it
    pub trial: &'a Trial,
}

/// What moved from the old rules to the new; reasons are not looked for yet
pub fn moved(old: By<'_>, new: By<'_>) -> Moved {
    let (before, after) =
        (chances(old.model, &old.trial.answers.causes), chances(new.model, &new.trial.answers.causes));
    let mut moves = Vec::new();
    for cause in before.keys().chain(after.keys().filter(|cause| !before.contains_key(*cause))) {
        // else: by these rules there is no such cause here
        let chance = |chances: &Chances| chances.get(cause).copied().unwrap_or(0.0);
        let (before, after) = (chance(&before), chance(&after));
        if (after - before).abs() >= MOVED_FROM {
            moves.push(Move { cause: cause.clone(), before, after, because: Because::default() });
        }
    }
    moves.sort_by(|a, b| (b.after - b.before).abs().total_cmp(&(a.after - a.before).abs()));
    let turned = |held: bool| {
        let verdicts = old.trial.verdicts.iter().zip(&new.trial.verdicts).enumerate();
        let turned = verdicts.filter(move |(_, (before, after))| before.holds == held && after.holds != held);
        turned.map(|(number, _)| number).collect()
    };
    // The same claims stand in both lists only where both sets of rules know the same names.
    let comparable = old.trial.claims.len() == new.trial.claims.len();
    Moved {
        moves,
        order: differing(order(old), order(new)),
        broken: if comparable { turned(true) } else { Vec::new() },
        mended: if comparable { turned(false) } else { Vec::new() },
        next: differing(next(old), next(new)),
    }
}

/// Probabilities of causes by name and place
pub fn chances(model: &Model, causes: &[Ranked]) -> Chances {
    causes.iter().map(|own| (named(model, own), own.probability)).collect()
}

/// Says of each move which of the changes made it
pub fn attribute(moved: &mut Moved, mixes: &[Mix]) {
    for own in &mut moved.moves {
        own.because = because(own, mixes);
    }
}

fn because(own: &Move, mixes: &[Mix]) -> Because {
    let whole = own.after - own.before;
    // else: by these rules there is no such cause here
    let chance = |chances: &Chances| chances.get(&own.cause).copied().unwrap_or(0.0);
    let mut alone: Vec<(usize, f64)> = mixes
        .iter()
        .filter_map(|mix| Some((mix.change, chance(mix.with.as_ref()?))))
        .filter(|(_, to)| (to - own.before) / whole >= PART_OF_IT)
        .collect();
    alone.sort_by(|a, b| (b.1 - own.before).abs().total_cmp(&(a.1 - own.before).abs()));
    if alone.first().is_some_and(|(_, to)| (to - own.before) / whole >= MOST_OF_IT) {
        return Because::Each(alone);
    }
    let needed = mixes.iter().filter(|mix| {
        let lost = |without: &Chances| (own.after - chance(without)) / whole >= PART_OF_IT;
        // Rules that do not hold together without it cannot make the move either.
        mix.without.as_ref().is_none_or(lost)
    });
    match needed.map(|mix| mix.change).collect::<Vec<_>>() {
        needed if needed.is_empty() => Because::Unknown,
        needed => Because::Together(needed),
    }
}

fn named(model: &Model, own: &Ranked) -> Named {
    (model.common(own.hidden).name.clone(), own.place.clone())
}

fn differing(before: Vec<Named>, after: Vec<Named>) -> Option<(Vec<Named>, Vec<Named>)> {
    (before != after).then_some((before, after))
}

fn order(by: By<'_>) -> Vec<Named> {
    let Answers { causes, .. } = &by.trial.answers;
    let first = causes.iter().take(FIRST).filter(|own| own.probability >= RANKED_FROM);
    first.map(|own| named(by.model, own)).collect()
}

fn next(by: By<'_>) -> Vec<Named> {
    let name = |own: &NextCheck| match own.what {
        What::Check(id) => by.model[id].common.name.clone(),
        What::Tell(id, _) => by.model[id].common.name.clone(),
    };
    by.trial.answers.next.iter().take(FIRST).map(|own| (name(own), own.place.clone())).collect()
}
