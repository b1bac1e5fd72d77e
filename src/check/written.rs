//! Tests as they stand in the files: lists of lines of which the first that holds counts, and gates.

use super::names::Names;
use super::test;
use crate::model::test::Test;
use crate::model::{Effect, MeasureId, Model, Parent, Size};
use crate::source::Span;
use crate::syntax::tree::{Clause, Declaration, Sort, Term};
use std::collections::BTreeMap;

/// A test with the place it is written at, in rules without errors
pub(super) struct Written<'m> {
    /// The clause it stands in
    pub(super) clause: Span,
    /// Its terms; the clause where it has none
    pub(super) at: Span,
    /// What it asks
    pub(super) test: &'m Test,
    /// When its block exists
    pub(super) gate: &'m Test,
}

/// Lines of which the first that holds counts, in order
pub(super) type Lines<'m> = Vec<Written<'m>>;

/// The lists of lines of all blocks and size classes
pub(super) fn lists<'m>(model: &'m Model, names: &Names<'_>) -> Vec<Lines<'m>> {
    let mut lists = Vec::new();
    for (number, declaration) in names.of(Sort::Fact) {
        if let Some(fact) = model.facts.get(number) {
            let tests = fact.shares.iter().map(|(test, _)| test);
            lists.push(zip(choices(declaration), tests, &fact.common.gate));
        }
    }
    for (number, declaration) in names.of(Sort::Cause) {
        if let Some(cause) = model.causes.get(number) {
            let tests = cause.chances.iter().map(|chance| &chance.test);
            lists.push(zip(chances(declaration), tests, &cause.common.gate));
        }
    }
    for (effect, declaration) in effects(model, names) {
        let tests = effect.leaks.iter().map(|leak| &leak.test);
        lists.push(zip(withouts(declaration), tests, &effect.common.gate));
        lists.extend(by_parents(effect, declaration));
    }
    for sort in [Sort::Dimensions, Sort::Life] {
        for (_, declaration) in names.of(sort) {
            if let Some(size) = model.sizes.get(&declaration.name.value) {
                lists.extend(rows(size, sort, declaration, model, names));
            }
        }
    }
    lists
}

/// Conditions and symptoms with their declarations
pub(super) fn effects<'m, 'n>(
    model: &'m Model,
    names: &'n Names<'_>,
) -> impl Iterator<Item = (&'m Effect, &'n Declaration)> {
    let conditions =
        names.of(Sort::Condition).filter_map(|(number, it)| Some((model.conditions.get(number)?, it)));
    let symptoms =
        names.of(Sort::Symptom).filter_map(|(number, it)| Some((&model.symptoms.get(number)?.effect, it)));
    conditions.chain(symptoms)
}

/// Each block's own gate, as it is written, with the whole gate of the block
pub(super) fn gates<'m>(model: &'m Model, names: &Names<'_>) -> Vec<Written<'m>> {
    let mut gates = Vec::new();
    for block in model.blocks() {
        if let Some(at) = names.gate(block) {
            gates.push(Written { clause: at, at, test: &block.gate, gate: &block.gate });
        }
    }
    gates
}

fn zip<'m>(
    written: impl Iterator<Item = (Span, Span)>,
    tests: impl Iterator<Item = &'m Test>,
    gate: &'m Test,
) -> Lines<'m> {
    written.zip(tests).map(|((clause, at), test)| Written { clause, at, test, gate }).collect()
}

fn spans(clause: Span, terms: &[Term]) -> (Span, Span) {
    (clause, test::span(terms).unwrap_or(clause)) // else: it has no test
}

fn choices(declaration: &Declaration) -> impl Iterator<Item = (Span, Span)> + '_ {
    declaration.clauses.iter().filter_map(|clause| match &clause.value {
        Clause::Choices { test, .. } => Some(spans(clause.at, test)),
        _ => None,
    })
}

fn chances(declaration: &Declaration) -> impl Iterator<Item = (Span, Span)> + '_ {
    declaration.clauses.iter().filter_map(|clause| match &clause.value {
        Clause::Chance(chance) => Some(spans(clause.at, &chance.test)),
        _ => None,
    })
}

fn withouts(declaration: &Declaration) -> impl Iterator<Item = (Span, Span)> + '_ {
    declaration.clauses.iter().filter_map(|clause| match &clause.value {
        Clause::Without(line) => Some(spans(clause.at, &line.test)),
        _ => None,
    })
}

/// The `with` lines of each combination of parents
fn by_parents<'m>(effect: &'m Effect, declaration: &Declaration) -> Vec<Lines<'m>> {
    let withs = declaration.clauses.iter().filter_map(|clause| match &clause.value {
        Clause::With(line) => Some(spans(clause.at, &line.test)),
        _ => None,
    });
    let mut groups: Vec<(&[Parent], Lines<'m>)> = Vec::new();
    for ((clause, at), line) in withs.zip(&effect.lines) {
        let written = Written { clause, at, test: &line.test, gate: &effect.common.gate };
        match groups.iter_mut().find(|(parents, _)| *parents == line.parents.as_slice()) {
            Some((_, lines)) => lines.push(written),
            None => groups.push((&line.parents, vec![written])),
        }
    }
    groups.into_iter().map(|(_, lines)| lines).collect()
}

/// The rows of each measure of a size class
fn rows<'m>(
    size: &'m Size,
    sort: Sort,
    declaration: &Declaration,
    model: &'m Model,
    names: &Names<'_>,
) -> Vec<Lines<'m>> {
    let mut written: BTreeMap<MeasureId, Vec<(Span, Span)>> = BTreeMap::new();
    for clause in &declaration.clauses {
        if let Clause::Entry(entry) = &clause.value
            && let Some(id) = names.measure_of(&entry.name.value)
        {
            written.entry(id).or_default().push(spans(clause.at, &entry.test));
        }
    }
    let mut lists = Vec::new();
    for (id, spans) in written {
        let gate = &model[id].common.gate;
        let dimensions = size.dimensions.get(&id).into_iter().flatten().map(|row| &row.test);
        let life = size.life.get(&id).into_iter().flatten().map(|(_, test)| test);
        lists.push(match sort {
            Sort::Dimensions => zip(spans.into_iter(), dimensions, gate),
            _ => zip(spans.into_iter(), life, gate),
        });
    }
    lists
}
