//! Tests after `where`: subjects and values resolved, and tests that can never hold.

use super::context::CheckContext;
use super::names::Names;
use super::never::never;
use crate::invariant::Hold;
use crate::model::test::{Bound, Spot, Term, Test};
use crate::model::{Common, Extent, FactId, Model, PartId, Sign};
use crate::place::Side;
use crate::problem::code::Code;
use crate::problem::{Problem, did_you_mean};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{self, Quantity, Relation, Sort, Value};
use crate::units::{Dimension, Unit};
use std::collections::BTreeMap;

/// The test that terms mean in a block with these places; terms at fault are told
pub(super) fn resolve(terms: &[tree::Term], extent: Extent, context: &mut CheckContext<'_>) -> Test {
    let mut test = Test::default();
    let mut facts: BTreeMap<FactId, Span> = BTreeMap::new();
    for term in terms {
        let Some(resolved) = resolve_term(term, extent, context) else {
            test.terms.push(at_fault());
            continue;
        };
        let held = !never(&test, context.model);
        let fact = if let Term::Fact { fact, .. } = &resolved { Some(*fact) } else { None };
        test.terms.push(resolved);
        if held && never(&test, context.model) {
            let earlier = fact.and_then(|fact| facts.get(&fact)).copied();
            context.problems.push(holds_never(term, fact, earlier, test.terms.len(), context.model));
        }
        if let Some(fact) = fact {
            facts.entry(fact).or_insert(term.subject.at);
        }
    }
    test
}

/// Stands in for a term at fault: it rules nothing out, and the test is not taken for one that always holds
fn at_fault() -> Term {
    Term::Hours(Bound::OneOf(Vec::new(), true))
}

/// True for a term that asks what was seen or read: its subject is a symptom
pub(super) fn asks_a_sign(term: &tree::Term, names: &Names<'_>) -> bool {
    names.sort_of(&term.subject.value) == Some(Sort::Symptom)
}

/// What a term in the `only where` of a remedy with these places asks of a symptom
pub(super) fn sign(term: &tree::Term, extent: Extent, context: &mut CheckContext<'_>) -> Option<Sign> {
    let symptom = context.names.symptom(&term.subject, context.problems)?;
    let (negated, values) = words(term, context)?;
    let declared = &context.model[symptom].effect;
    let at_hand = match declared.common.extent {
        Extent::Machine => true,
        Extent::Side => extent != Extent::Machine,
        each @ Extent::Each(_) => extent == each,
    };
    if !at_hand {
        let message = format!("`{}` has other places than this remedy", term.subject.value);
        context.problems.push(
            Problem::new(Code::PlaceNeeded, term.subject.at, message)
                .also(declared.common.at, "declared here")
                .help("a remedy can ask what was seen at its own place, on its side, or of the machine"),
        );
        return None;
    }
    let known: Vec<&str> = declared.grades.names.iter().map(String::as_str).collect();
    let what = format!("a grade of `{}`", term.subject.value);
    let grades = named(values, negated, &known, &what, None, context)?;
    if grades.is_empty() {
        let message = format!("no grade of `{}` passes this test", term.subject.value);
        context.problems.push(
            Problem::new(Code::GateNeverHolds, term.subject.at, message)
                .help("take the term out, or widen it"),
        );
    }
    Some(Sign { symptom, grades })
}

/// Tells what is at fault with the facts of a test whose block is not known
pub(super) fn look_over(terms: &[tree::Term], context: &mut CheckContext<'_>) {
    for term in terms {
        let name = term.subject.value.as_str();
        let of_place = name == "side" || context.names.sort_of(name) == Some(Sort::Part);
        if !of_place {
            resolve_term(term, Extent::Side, context);
        }
    }
}

/// The same, in a block that exists only where its gate holds
pub(super) fn resolve_within(terms: &[tree::Term], common: &Common, context: &mut CheckContext<'_>) -> Test {
    let test = resolve(terms, common.extent, context);
    let alone = never(&test, context.model) || never(&common.gate, context.model);
    if !terms.is_empty() && !alone && never(&test.and(&common.gate), context.model) {
        let message = format!("this never holds where `{}` exists", common.name);
        let at = span(terms).hold("there is a first term");
        context.problems.push(
            Problem::new(Code::GateNeverHolds, at, message)
                .also_at(context.names.gate(common), "its own gate")
                .also_at(context.names.gate_of_part(common, context.model), "the gate of its part")
                .help("its own `only where`, or that of the part it is seen on, rules it out: change one of them"),
        );
    }
    test
}

/// The piece of text that terms stand in; none when there are none
pub(super) fn span(terms: &[tree::Term]) -> Option<Span> {
    let first = terms.first()?.subject.at;
    let last = terms.last()?;
    let end = match &last.relation {
        Relation::Is { values, .. } => values.last().map(|value| value.at),
        Relation::Over(figure) | Relation::Under(figure) => Some(figure.at),
    };
    Some(first.to(last.subject.at).to(end.unwrap_or(first))) // else: no value of it could be read
}

/// Says at which term a test stops to hold anywhere
fn holds_never(
    term: &tree::Term,
    fact: Option<FactId>,
    earlier: Option<Span>,
    terms: usize,
    model: &Model,
) -> Problem {
    let at = term.subject.at;
    let message = match fact {
        Some(fact) => format!("no choice of `{}` passes this test", model[fact].common.name),
        None if terms == 1 => "this test can never hold".to_owned(),
        None => "this test can never hold together with the terms before it".to_owned(),
    };
    let problem = Problem::new(Code::GateNeverHolds, at, message)
        .help("take one of the terms out, or widen one of them");
    match earlier {
        Some(earlier) => problem.also(earlier, "the other term on the same fact"),
        None => problem,
    }
}

fn resolve_term(term: &tree::Term, extent: Extent, context: &mut CheckContext<'_>) -> Option<Term> {
    let name = term.subject.value.as_str();
    if name == "side" {
        return side(term, extent, context);
    }
    if name == "hours" {
        return bound(term, true, context).map(Term::Hours);
    }
    if let Some(part) = context.model.row_of(name) {
        return bound(term, false, context).map(|bound| Term::Count { part, bound });
    }
    match context.names.sort_of(name) {
        Some(Sort::Part) => {
            let part = context.names.part(&term.subject, context.problems)?;
            spot(term, part, extent, context)
        }
        None if context.names.is_unread(name) => None,
        Some(_) => {
            let fact = context.names.fact(&term.subject, context.problems)?;
            choices(term, fact, extent, context)
        }
        None => {
            let known = context.names.testable().chain(["side", "hours"]);
            let help = did_you_mean(name, known, "test a fact, `side`, `hours`, or a numbered part");
            context.problems.push(
                Problem::new(Code::UnknownName, term.subject.at, format!("no fact is called `{name}`"))
                    .help(help),
            );
            None
        }
    }
}

/// The words after `is`, or a problem when something else stands there
fn words<'t>(term: &'t tree::Term, context: &mut CheckContext<'_>) -> Option<(bool, &'t [Spanned<Value>])> {
    match &term.relation {
        Relation::Is { negated, values } => Some((*negated, values)),
        Relation::Over(at) | Relation::Under(at) => {
            context.problems.push(
                Problem::new(Code::WrongSort, at.at, format!("`{}` is no number", term.subject.value))
                    .help(format!("write `{} is …`", term.subject.value)),
            );
            None
        }
    }
}

fn side(term: &tree::Term, extent: Extent, context: &mut CheckContext<'_>) -> Option<Term> {
    let (negated, values) = words(term, context)?;
    if extent == Extent::Machine {
        misplaced(term.subject.at, "this block is one for the whole machine and has no side", context);
        return None;
    }
    let mut sides = Vec::new();
    for value in values {
        match &value.value {
            Value::Word(word) if Side::from_word(word).is_some() => sides.extend(Side::from_word(word)),
            _ => unknown_value(value, "a side", &["left", "right"], context),
        }
    }
    let held: Vec<Side> = Side::BOTH.into_iter().filter(|side| sides.contains(side) != negated).collect();
    match held.as_slice() {
        [only] => Some(Term::Side(*only)),
        _ if sides.len() < values.len() => None,
        held => {
            let (code, message) = match held {
                [] => (Code::GateNeverHolds, "neither side passes this test"),
                _ => (Code::PlaceUseless, "both sides pass this test"),
            };
            let help = "name one side, or take the term out";
            context.problems.push(Problem::new(code, term.subject.at, message).help(help));
            None
        }
    }
}

fn misplaced(at: Span, message: &str, context: &mut CheckContext<'_>) {
    context.problems.push(
        Problem::new(Code::PlaceUseless, at, message)
            .help("take the term out, or give the block places with `each side` or `each …`"),
    );
}

fn spot(term: &tree::Term, part: PartId, extent: Extent, context: &mut CheckContext<'_>) -> Option<Term> {
    let (negated, values) = words(term, context)?;
    if extent != Extent::Each(part) {
        let message = format!("this block is not one for each {}", term.subject.value);
        misplaced(term.subject.at, &message, context);
        return None;
    }
    let mut spots = Vec::new();
    for value in values {
        match &value.value {
            Value::FrontHalf => spots.push(Spot::FrontHalf),
            Value::RearHalf => spots.push(Spot::RearHalf),
            Value::Word(word) if word == "first" => spots.push(Spot::First),
            Value::Word(word) if word == "last" => spots.push(Spot::Last),
            Value::Word(_) => unknown_value(
                value,
                "a spot along the row",
                &["first", "last", "in front half", "in rear half"],
                context,
            ),
        }
    }
    (spots.len() == values.len()).then_some(Term::Spot { part, spots, negated })
}

fn choices(term: &tree::Term, fact: FactId, extent: Extent, context: &mut CheckContext<'_>) -> Option<Term> {
    let (negated, values) = words(term, context)?;
    let declared = &context.model[fact];
    if declared.common.extent == Extent::Side && extent == Extent::Machine {
        let message = format!("`{}` is a fact of each side, and this block has none", declared.common.name);
        misplaced(term.subject.at, &message, context);
        return None;
    }
    let known: Vec<&str> = declared.choices.iter().map(String::as_str).collect();
    if known.is_empty() {
        return None;
    }
    let what = format!("a choice of `{}`", term.subject.value);
    let listed = context.names.choices(&declared.common);
    let choices = named(values, negated, &known, &what, listed, context)?;
    Some(Term::Fact { fact, choices })
}

/// Numbers of the words that pass a term, sorted; none, and every word that is not known told, when some is not
fn named(
    values: &[Spanned<Value>],
    negated: bool,
    known: &[&str],
    what: &str,
    listed: Option<Span>,
    context: &mut CheckContext<'_>,
) -> Option<Vec<usize>> {
    let mut named = Vec::new();
    for value in values {
        let found = match &value.value {
            Value::Word(word) => known.iter().position(|choice| choice == word),
            Value::FrontHalf | Value::RearHalf => None,
        };
        match found {
            Some(choice) => named.push(choice),
            None => context.problems.push(not_among(value, what, known).also_at(listed, "its choices")),
        }
    }
    let passing = (0..known.len()).filter(|choice| named.contains(choice) != negated).collect();
    (named.len() == values.len()).then_some(passing)
}

fn unknown_value(value: &Spanned<Value>, what: &str, known: &[&str], context: &mut CheckContext<'_>) {
    context.problems.push(not_among(value, what, known));
}

/// Says that a word is none of those known
fn not_among(value: &Spanned<Value>, what: &str, known: &[&str]) -> Problem {
    let word = match &value.value {
        Value::Word(word) => word.as_str(),
        Value::FrontHalf => "in front half",
        Value::RearHalf => "in rear half",
    };
    let otherwise = format!("write one of {}", known.join(", "));
    Problem::new(Code::UnknownChoice, value.at, format!("`{word}` is not {what}")).help(did_you_mean(
        word,
        known.iter().copied(),
        &otherwise,
    ))
}

/// What is asked of a number: of hours, or of how many there are
fn bound(term: &tree::Term, hours: bool, context: &mut CheckContext<'_>) -> Option<Bound> {
    match &term.relation {
        Relation::Over(figure) => number(term, figure, hours, context).map(Bound::Over),
        Relation::Under(figure) => number(term, figure, hours, context).map(Bound::Under),
        Relation::Is { negated, values } => {
            let mut figures = Vec::new();
            for value in values {
                match &value.value {
                    Value::Word(word) if word.bytes().all(|byte| byte.is_ascii_digit()) => {
                        figures.extend(word.parse::<f64>());
                    }
                    _ => unknown_value(value, "a whole number", &["6", "6 or 7"], context),
                }
            }
            (!figures.is_empty()).then_some(Bound::OneOf(figures, *negated))
        }
    }
}

fn number(
    term: &tree::Term,
    figure: &Spanned<Quantity>,
    hours: bool,
    context: &mut CheckContext<'_>,
) -> Option<f64> {
    let Some(unit) = &figure.value.unit else {
        return Some(figure.value.value);
    };
    let known = Unit::parse(&unit.value).filter(|unit| hours && unit.dimension() == Dimension::Time);
    if known.is_none() {
        let help = if hours { "write a plain number, or one with `h`" } else { "write a plain number" };
        let message = format!("`{}` are not counted in `{}`", term.subject.value, unit.value);
        context.problems.push(Problem::new(Code::BadUnit, figure.at, message).help(help));
    }
    known.map(|unit| unit.to_base(figure.value.value))
}
