//! Tests after `where`: subjects and values resolved, and tests that can never hold.

use super::Desk;
use crate::model::test::{Bound, Spot, Term, Test};
use crate::model::{Extent, FactId, PartId};
use crate::place::Side;
use crate::problem::code::Code;
use crate::problem::{Problem, did_you_mean};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{self, Relation, Sort, Value};
use std::collections::BTreeMap;

/// The test that terms mean in a block with these places; terms at fault are told and left out
pub(super) fn resolve(terms: &[tree::Term], extent: Extent, desk: &mut Desk<'_>) -> Test {
    let mut test = Test::default();
    let mut facts: BTreeMap<FactId, (Vec<usize>, Span)> = BTreeMap::new();
    for term in terms {
        if let Some(resolved) = resolve_term(term, extent, desk) {
            if let Term::Fact { fact, choices } = &resolved {
                never_holds(*fact, choices, term.subject.at, &mut facts, desk);
            }
            test.terms.push(resolved);
        }
    }
    test
}

fn never_holds(
    fact: FactId,
    choices: &[usize],
    at: Span,
    before: &mut BTreeMap<FactId, (Vec<usize>, Span)>,
    desk: &mut Desk<'_>,
) {
    let (left, first) = match before.get(&fact) {
        Some((old, first)) => {
            (old.iter().copied().filter(|choice| choices.contains(choice)).collect(), *first)
        }
        None => (choices.to_vec(), at),
    };
    if left.is_empty() {
        let name = &desk.model[fact].common.name;
        let mut problem =
            Problem::new(Code::GateNeverHolds, at, format!("no choice of `{name}` passes this test"))
                .help("take one of the terms out, or name a choice that both allow");
        if first != at {
            problem = problem.also(first, "the other term on the same fact");
        }
        desk.problems.push(problem);
    }
    before.insert(fact, (left, first));
}

fn resolve_term(term: &tree::Term, extent: Extent, desk: &mut Desk<'_>) -> Option<Term> {
    let name = term.subject.value.as_str();
    if name == "side" {
        return side(term, extent, desk);
    }
    if name == "hours" {
        return bound(term, desk).map(Term::Hours);
    }
    if let Some(part) = desk.model.row_of(name) {
        return bound(term, desk).map(|bound| Term::Count { part, bound });
    }
    match desk.names.sort_of(name) {
        Some(Sort::Part) => {
            let part = desk.names.part(&term.subject, desk.problems)?;
            spot(term, part, extent, desk)
        }
        Some(Sort::Fact) => {
            let fact = desk.names.fact(&term.subject, desk.problems)?;
            choices(term, fact, extent, desk)
        }
        _ => {
            let known = desk.names.testable().chain(["side", "hours"]);
            let help = did_you_mean(name, known, "test a fact, `side`, `hours`, or a numbered part");
            desk.problems.push(
                Problem::new(Code::UnknownName, term.subject.at, format!("no fact is called `{name}`"))
                    .help(help),
            );
            None
        }
    }
}

/// The words after `is`, or a problem when something else stands there
fn words<'t>(term: &'t tree::Term, desk: &mut Desk<'_>) -> Option<(bool, &'t [Spanned<Value>])> {
    match &term.relation {
        Relation::Is { negated, values } => Some((*negated, values)),
        Relation::Over(at) | Relation::Under(at) => {
            desk.problems.push(
                Problem::new(Code::WrongSort, at.at, format!("`{}` is no number", term.subject.value))
                    .help(format!("write `{} is …`", term.subject.value)),
            );
            None
        }
    }
}

fn side(term: &tree::Term, extent: Extent, desk: &mut Desk<'_>) -> Option<Term> {
    let (negated, values) = words(term, desk)?;
    if extent == Extent::Machine {
        misplaced(term.subject.at, "this block is one for the whole machine and has no side", desk);
        return None;
    }
    let mut sides = Vec::new();
    for value in values {
        match &value.value {
            Value::Word(word) if Side::from_word(word).is_some() => sides.extend(Side::from_word(word)),
            _ => unknown_value(value, "a side", &["left", "right"], desk),
        }
    }
    let held: Vec<Side> = Side::BOTH.into_iter().filter(|side| sides.contains(side) != negated).collect();
    match held.as_slice() {
        [only] => Some(Term::Side(*only)),
        _ => None,
    }
}

fn misplaced(at: Span, message: &str, desk: &mut Desk<'_>) {
    desk.problems.push(
        Problem::new(Code::PlaceUseless, at, message)
            .help("take the term out, or give the block places with `each side` or `each …`"),
    );
}

fn spot(term: &tree::Term, part: PartId, extent: Extent, desk: &mut Desk<'_>) -> Option<Term> {
    let (negated, values) = words(term, desk)?;
    if extent != Extent::Each(part) {
        let message = format!("this block is not one for each {}", term.subject.value);
        misplaced(term.subject.at, &message, desk);
        return None;
    }
    let mut spots = Vec::new();
    for value in values {
        match &value.value {
            Value::FrontHalf => spots.push(Spot::FrontHalf),
            Value::RearHalf => spots.push(Spot::RearHalf),
            Value::Word(word) if word == "first" => spots.push(Spot::First),
            Value::Word(word) if word == "last" => spots.push(Spot::Last),
            Value::Word(_) => unknown_value(value, "a spot along the row", &["first", "last"], desk),
        }
    }
    Some(Term::Spot { part, spots, negated })
}

fn choices(term: &tree::Term, fact: FactId, extent: Extent, desk: &mut Desk<'_>) -> Option<Term> {
    let (negated, values) = words(term, desk)?;
    let declared = &desk.model[fact];
    if declared.common.extent == Extent::Side && extent == Extent::Machine {
        let message = format!("`{}` is a fact of each side, and this block has none", declared.common.name);
        misplaced(term.subject.at, &message, desk);
        return None;
    }
    let known: Vec<&str> = declared.choices.iter().map(String::as_str).collect();
    let mut named = Vec::new();
    for value in values {
        let found = match &value.value {
            Value::Word(word) => known.iter().position(|choice| choice == word),
            Value::FrontHalf | Value::RearHalf => None,
        };
        match found {
            Some(choice) => named.push(choice),
            None => unknown_value(value, &format!("a choice of `{}`", term.subject.value), &known, desk),
        }
    }
    if named.len() < values.len() {
        return None;
    }
    let choices = (0..known.len()).filter(|choice| named.contains(choice) != negated).collect();
    Some(Term::Fact { fact, choices })
}

fn unknown_value(value: &Spanned<Value>, what: &str, known: &[&str], desk: &mut Desk<'_>) {
    let word = match &value.value {
        Value::Word(word) => word.as_str(),
        Value::FrontHalf => "in front half",
        Value::RearHalf => "in rear half",
    };
    let otherwise = format!("write one of {}", known.join(", "));
    desk.problems.push(
        Problem::new(Code::UnknownChoice, value.at, format!("`{word}` is not {what}")).help(did_you_mean(
            word,
            known.iter().copied(),
            &otherwise,
        )),
    );
}

/// What is asked of a number
fn bound(term: &tree::Term, desk: &mut Desk<'_>) -> Option<Bound> {
    match &term.relation {
        Relation::Over(figure) => Some(Bound::Over(figure.value.value)),
        Relation::Under(figure) => Some(Bound::Under(figure.value.value)),
        Relation::Is { negated, values } => {
            let mut figures = Vec::new();
            for value in values {
                match &value.value {
                    Value::Word(word) if word.parse::<f64>().is_ok() => figures.extend(word.parse::<f64>()),
                    _ => unknown_value(value, "a number", &["over 6", "under 6", "is 6"], desk),
                }
            }
            (!figures.is_empty()).then_some(Bound::OneOf(figures, *negated))
        }
    }
}
