//! The scale, and facts: choices with their shares, and how a fact is reckoned.

use super::context::CheckContext;
use super::formula::{self, Outcomes};
use super::names::Names;
use super::never::dead_line;
use super::share::{in_range, percent, shared};
use super::test;
use super::value::in_unit;
use crate::model::{Common, Extent, Fact, Model};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{Clause, Declaration, Sort};
use crate::units::Unit;
use std::collections::{BTreeMap, BTreeSet};

/// Most choices of a fact: nobody tells more apart
const MOST_CHOICES: usize = 32;

/// The words of frequency with their shares, commonest first
pub(super) fn scale(names: &Names<'_>, problems: &mut Problems) -> Vec<(String, f64)> {
    let mut scale: Vec<(String, f64)> = Vec::new();
    let mut explained: BTreeMap<&str, Span> = BTreeMap::new();
    for (_, declaration) in names.of(Sort::Scale) {
        for clause in &declaration.clauses {
            let Clause::Entry(entry) = &clause.value else {
                continue;
            };
            let percent = match entry.points.as_slice() {
                [(figure, None)] if is_percent(&figure.value.unit) => Some(figure),
                _ => None,
            };
            let known = explained.get(entry.name.value.as_str()).copied();
            match percent {
                Some(figure) if known.is_none() => {
                    explained.insert(&entry.name.value, entry.name.at);
                    let share = in_range(figure.value.value / 100.0, figure.at, problems);
                    scale.push((entry.name.value.clone(), share));
                }
                Some(_) => problems.push(
                    Problem::new(
                        Code::DuplicateName,
                        entry.name.at,
                        format!("the word `{}` is explained twice", entry.name.value),
                    )
                    .also_at(known, "first here")
                    .help("keep one of the two"),
                ),
                None => problems.push(
                    Problem::new(Code::Syntax, entry.name.at, "a word of the scale stands for one per cent")
                        .help("write for instance `often 60%`"),
                ),
            }
        }
    }
    scale.sort_by(|a, b| b.1.total_cmp(&a.1));
    scale
}

fn is_percent(unit: &Option<Spanned<String>>) -> bool {
    unit.as_ref().is_some_and(|unit| unit.value == "%")
}

/// A fact with the names of its choices and nothing else yet
pub(super) fn outline(declaration: &Declaration, common: Common, problems: &mut Problems) -> Fact {
    let mut fact =
        Fact { common, choices: Vec::new(), shares: Vec::new(), derived: None, shared: 0.0, tell: None };
    if matches!(fact.common.extent, Extent::Each(_)) {
        problems.push(
            Problem::new(Code::PlaceUseless, fact.common.at, "a fact is of the machine or of each side")
                .help("write `each side`, or nothing for one of the whole machine"),
        );
        fact.common.extent = Extent::Side;
    }
    let mut minutes = 1.0;
    let mut tell = None;
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::Choices { choices, .. } if fact.choices.is_empty() => {
                if let Some((choice, _)) = choices.get(MOST_CHOICES) {
                    problems.push(
                        Problem::new(
                            Code::TooMany,
                            choice.at,
                            format!("a fact has no more than {MOST_CHOICES} choices"),
                        )
                        .help("put the rare ones together"),
                    );
                }
                for (choice, _) in choices.iter().take(MOST_CHOICES) {
                    if fact.choices.contains(&choice.value) {
                        problems.push(
                            Problem::new(
                                Code::DuplicateName,
                                choice.at,
                                format!("the choice `{}` stands twice", choice.value),
                            )
                            .also_at(first(choices, &choice.value), "first here")
                            .help("give each choice a name of its own"),
                        );
                    } else {
                        fact.choices.push(choice.value.clone());
                    }
                }
            }
            Clause::Tell(text) => tell = Some(text.value.clone()),
            Clause::Takes(quantity) => {
                // else: the problem is told
                minutes = in_unit(quantity, Unit::parse("min"), problems).unwrap_or(minutes);
            }
            _ => {}
        }
    }
    fact.shared = shared(declaration, fact.common.extent, problems);
    fact.tell = tell.map(|text| (text, minutes));
    fact
}

/// Where a choice stands first
fn first(choices: &[(Spanned<String>, Spanned<f64>)], word: &str) -> Option<Span> {
    choices.iter().find(|(choice, _)| choice.value == word).map(|(choice, _)| choice.at)
}

/// Shares and derivations of all facts
pub(super) fn fill(model: &mut Model, names: &Names<'_>, problems: &mut Problems) {
    for (number, declaration) in names.of(Sort::Fact) {
        let mut context = CheckContext { model, names, problems };
        let Some(outline) = model.facts.get(number) else {
            continue;
        };
        let mut filled = outline.clone();
        let mut open = None;
        for clause in &declaration.clauses {
            match &clause.value {
                Clause::Choices { choices, test } => {
                    if open.is_some() {
                        dead_line(clause.at, open, context.problems);
                    }
                    let shares = shares(choices, clause.at, &filled.common, &filled.choices, &mut context);
                    let test = test::resolve_within(test, &filled.common, &mut context);
                    open = open.or(test.always().then_some(clause.at));
                    filled.shares.push((test, shares));
                }
                Clause::From { sum, bounds } => {
                    let extent = filled.common.extent;
                    filled.derived =
                        formula::bounded(sum, bounds, &Outcomes::choices(&filled), extent, &mut context);
                }
                _ => {}
            }
        }
        if !declaration.broken {
            open_end(&filled, declaration, context.problems);
        }
        if let Some(fact) = model.facts.get_mut(number) {
            *fact = filled;
        }
    }
}

fn shares(
    written: &[(Spanned<String>, Spanned<f64>)],
    at: Span,
    fact: &Common,
    choices: &[String],
    context: &mut CheckContext<'_>,
) -> Vec<f64> {
    let mut shares = vec![0.0; choices.len()];
    let mut all_known = written.len() <= MOST_CHOICES;
    let mut seen = BTreeSet::new();
    let first_line = context.names.choices(fact);
    for (word, percent) in written.iter().take(MOST_CHOICES) {
        let share = in_range(percent.value / 100.0, percent.at, context.problems);
        let number = choices.iter().position(|choice| *choice == word.value);
        all_known &= number.is_some() && seen.insert(&word.value);
        match number.and_then(|number| shares.get_mut(number)) {
            Some(slot) => *slot = share,
            None => context.problems.push(
                Problem::new(
                    Code::UnknownChoice,
                    word.at,
                    format!("the first line has no choice `{}`", word.value),
                )
                .also_at(first_line, "the first line")
                .help(did_you_mean(
                    &word.value,
                    choices.iter().map(String::as_str),
                    "the first `choices` line must name them all",
                )),
            ),
        }
    }
    let sum: f64 = shares.iter().sum();
    let ends = written.first().zip(written.last());
    let at = ends.map_or(at, |((first, _), (_, last))| first.at.to(last.at));
    if (sum - 1.0).abs() > 1e-6 && all_known {
        context.problems.push(
            Problem::new(Code::ChoicesSum, at, format!("these choices add up to {} %", percent(sum)))
                .help("every machine has one of them: let them add up to 100 %"),
        );
    }
    shares
}

/// The last `choices` line must hold everywhere, or the fact could be nothing at all
fn open_end(fact: &Fact, declaration: &Declaration, problems: &mut Problems) {
    if !fact.shares.is_empty() && !fact.shares.iter().any(|(test, _)| test.always()) {
        problems.push(
            Problem::new(
                Code::ChoicesSum,
                declaration.name.at,
                format!("`{}` has no `choices` line for the rest of the machines", fact.common.name),
            )
            .help("end with a `choices` line without `where`"),
        );
    }
}
