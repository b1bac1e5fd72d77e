//! Blocks that hang on more at once than a table can hold.

use crate::model::test::Test;
use crate::model::{Cause, Common, Effect, FactId, Hidden, Model};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::Span;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// Most entries of one table: what is written by hand has some hundreds
const MOST_ENTRIES: usize = 1 << 14;

/// Says which facts, causes and lines would need a table past all reason
pub(super) fn check(model: &Model, problems: &mut Problems) {
    for fact in &model.facts {
        let tests = fact.shares.iter().map(|(test, _)| test).chain([&fact.common.gate]);
        let entries = fact.choices.len().saturating_mul(combinations(model, tests));
        tell(entries, fact.common.at, problems);
    }
    for cause in &model.causes {
        tell(of_cause(model, cause), cause.common.at, problems);
    }
    for effect in model.conditions.iter().chain(model.symptoms.iter().map(|symptom| &symptom.effect)) {
        of_effect(model, effect, problems);
    }
}

fn of_cause(model: &Model, cause: &Cause) -> usize {
    let tests = cause.chances.iter().map(|chance| &chance.test).chain([&cause.common.gate]);
    cause.states().saturating_mul(combinations(model, tests))
}

fn of_effect(model: &Model, effect: &Effect, problems: &mut Problems) {
    let Effect { common: Common { gate, at, .. }, grades, lines, leaks, shared } = effect;
    let tests = leaks.iter().map(|leak| &leak.test).chain([gate]);
    let draws = if *shared > 0.0 { grades.states() + 1 } else { 1 };
    let rows = combinations(model, tests).saturating_mul(draws);
    tell(grades.states().saturating_mul(rows), *at, problems);
    let mut groups: BTreeMap<Vec<Hidden>, (Span, Vec<&Test>)> = BTreeMap::new();
    for line in lines {
        let parents = line.parents.iter().map(|parent| parent.of).collect();
        groups.entry(parents).or_insert((line.at, vec![gate])).1.push(&line.test);
    }
    for (parents, (at, tests)) in groups {
        let states = parents.iter().map(|&parent| states(model, parent)).fold(1, usize::saturating_mul);
        let entries = states.saturating_mul(combinations(model, tests)).saturating_mul(grades.states());
        tell(entries, at, problems);
    }
}

fn states(model: &Model, hidden: Hidden) -> usize {
    match hidden {
        Hidden::Cause(id) => model[id].states(),
        Hidden::Condition(id) => model[id].grades.states(),
    }
}

/// Combinations of choices of the facts that tests ask about
fn combinations<'t>(model: &Model, tests: impl IntoIterator<Item = &'t Test>) -> usize {
    let facts: BTreeSet<FactId> = tests.into_iter().flat_map(Test::facts).collect();
    facts.into_iter().map(|fact| model[fact].choices.len()).fold(1, usize::saturating_mul)
}

fn tell(entries: usize, at: Span, problems: &mut Problems) {
    if entries > MOST_ENTRIES {
        problems.push(
            Problem::new(
                Code::TooMany,
                at,
                "this hangs on more facts and parents at once than can be tabled",
            )
            .help("test fewer facts together, or put a condition between"),
        );
    }
}
