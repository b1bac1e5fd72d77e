//! Every situation that some tests can tell apart: choices of facts, the side, hours, and places along a row.
//!
//! Doubts about tests are decided, not guessed: all situations are gone through; past 16,384 of them nothing is said.

use crate::invariant::Hold;
use crate::model::test::{Bound, Term, Test};
use crate::model::{FactId, Model, PartId};
use crate::place::Side;
use std::collections::{BTreeMap, BTreeSet};

/// Most situations gone through: tests written by hand tell some dozens apart, and past this nothing is said
const MOST_SITUATIONS: usize = 1 << 14;

/// What some tests ask about, each with one answer
#[derive(Clone, Debug)]
pub(super) struct Situation {
    facts: BTreeMap<FactId, usize>,
    side: Side,
    hours: Option<f64>,
    counts: BTreeMap<PartId, u32>,
    numbers: BTreeMap<PartId, u32>,
}

/// The subjects of some tests
#[derive(Default)]
struct Subjects {
    facts: BTreeSet<FactId>,
    sides: bool,
    hours: Vec<f64>,
    asks_hours: bool,
    counts: BTreeSet<PartId>,
    spots: BTreeSet<PartId>,
}

/// Every situation that the tests tell apart; none when there are more than [`MOST_SITUATIONS`]
pub(super) fn situations<'t>(
    model: &Model,
    tests: impl IntoIterator<Item = &'t Test>,
) -> Option<Vec<Situation>> {
    let subjects = subjects(tests);
    let nothing = Situation {
        facts: BTreeMap::new(),
        side: Side::Left,
        hours: None,
        counts: BTreeMap::new(),
        numbers: BTreeMap::new(),
    };
    let mut all = vec![nothing];
    for &fact in &subjects.facts {
        all = spread(all, &(0..model[fact].choices.len()).collect::<Vec<_>>(), |situation, &choice| {
            situation.facts.insert(fact, choice);
        })?;
    }
    if subjects.sides {
        all = spread(all, &Side::BOTH, |situation, &side| situation.side = side)?;
    }
    if subjects.asks_hours {
        all = spread(all, &hours(&subjects.hours), |situation, &hours| situation.hours = hours)?;
    }
    for &part in subjects.counts.union(&subjects.spots) {
        let (least, most) = model[part].numbered.unwrap_or((0, 0)); // else: its bounds are faulty, which is told
        let rows = (least..=most).flat_map(|count| {
            let numbers = if subjects.spots.contains(&part) { 1..=count } else { 0..=0 };
            numbers.map(move |number| (count, number))
        });
        all = spread(all, &rows.collect::<Vec<_>>(), |situation, &(count, number)| {
            situation.counts.insert(part, count);
            situation.numbers.insert(part, number);
        })?;
    }
    Some(all)
}

fn subjects<'t>(tests: impl IntoIterator<Item = &'t Test>) -> Subjects {
    let mut subjects = Subjects::default();
    for term in tests.into_iter().flat_map(|test| &test.terms) {
        match term {
            Term::Fact { fact, .. } => {
                subjects.facts.insert(*fact);
            }
            Term::Count { part, .. } => {
                subjects.counts.insert(*part);
            }
            Term::Hours(bound) => {
                subjects.asks_hours = true;
                match bound {
                    Bound::Over(figure) | Bound::Under(figure) => subjects.hours.push(*figure),
                    Bound::OneOf(figures, _) => subjects.hours.extend(figures),
                }
            }
            Term::Side(_) => subjects.sides = true,
            Term::Spot { part, .. } => {
                subjects.spots.insert(*part);
            }
        }
    }
    subjects
}

/// Hours that are not given, each figure asked about, and one between, under and over them
fn hours(figures: &[f64]) -> Vec<Option<f64>> {
    let mut figures: Vec<f64> = figures.iter().copied().filter(|figure| *figure >= 0.0).collect();
    figures.sort_by(f64::total_cmp);
    let under = figures.first().map(|first| first / 2.0);
    let between = figures.iter().zip(figures.iter().skip(1)).map(|(one, next)| (one + next) / 2.0);
    let over = figures.last().map_or(1.0, |last| last + 1.0);
    let given = figures.iter().copied().chain(between).chain(under).chain([over]);
    [None].into_iter().chain(given.map(Some)).collect()
}

/// Each situation once with each answer; none when that makes too many
fn spread<T>(all: Vec<Situation>, answers: &[T], set: impl Fn(&mut Situation, &T)) -> Option<Vec<Situation>> {
    if all.len().saturating_mul(answers.len()) > MOST_SITUATIONS {
        return None;
    }
    let mut spread = Vec::new();
    for situation in all {
        for answer in answers {
            let mut next = situation.clone();
            set(&mut next, answer);
            spread.push(next);
        }
    }
    Some(spread)
}

/// The tests that the shares of some facts hang on, and of the facts that these test
pub(super) fn tests_of_shares<'m>(model: &'m Model, tests: &[&Test]) -> Vec<&'m Test> {
    let mut open: Vec<FactId> = tests.iter().flat_map(|test| test.facts()).collect();
    let mut seen: BTreeSet<FactId> = BTreeSet::new();
    let mut found = Vec::new();
    while let Some(fact) = open.pop() {
        if seen.insert(fact) {
            for (test, _) in &model[fact].shares {
                open.extend(test.facts());
                found.push(test);
            }
        }
    }
    found
}

/// Why a situation has a number of each part that is asked for
const MADE_FOR: &str = "situations are made for all that the tests ask";

impl Situation {
    /// Whether a test holds here; hours that are not given are neither over nor under anything
    pub(super) fn holds(&self, test: &Test) -> bool {
        test.terms.iter().all(|term| match term {
            Term::Fact { fact, choices } => self.facts.get(fact).is_some_and(|it| choices.contains(it)),
            Term::Count { part, bound } => bound.holds(f64::from(self.count(*part))),
            Term::Hours(bound) => self.hours.is_some_and(|hours| bound.holds(hours)),
            Term::Side(side) => self.side == *side,
            Term::Spot { part, spots, negated } => {
                let number = *self.numbers.get(part).hold(MADE_FOR);
                spots.iter().any(|spot| spot.holds(number, self.count(*part))) != *negated
            }
        })
    }

    fn count(&self, part: PartId) -> u32 {
        *self.counts.get(&part).hold(MADE_FOR)
    }

    /// Whether the facts give a share to every choice made here
    pub(super) fn has_share(&self, model: &Model) -> bool {
        self.facts.iter().all(|(&fact, &choice)| {
            let first = model[fact].shares.iter().find(|(test, _)| self.holds(test));
            first.is_none_or(|(_, shares)| shares.get(choice).is_some_and(|share| *share > 0.0))
        })
    }
}
