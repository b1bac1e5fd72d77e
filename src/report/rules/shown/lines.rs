//! Lines of the rules as sentences: of so many places with a parent, so many show a grade for that reason.

use crate::invariant::Hold;
use crate::model::{Chance, Effect, Extent, Hidden, Leak, Line, Model, Parent, ParentGrade, Reach};
use crate::report::rules::gate::clause;
use crate::report::words::{capital, count, hundreds, listed, out_of, plain};

/// Whether a block is seen or hidden, which decides the verb
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(super) enum Verb {
    /// A symptom shows
    Show,
    /// A condition comes about
    Come,
}

/// A grade in the quotes in which all grades stand
pub(super) fn quoted(name: &str) -> String {
    format!("“{}”", plain(name))
}

/// True for a block whose grades are no more than no and yes
fn is_plain(effect: &Effect) -> bool {
    effect.grades.names == ["no", "yes"]
}

/// A `with` line
pub(super) fn with(model: &Model, effect: &Effect, line: &Line, verb: Verb) -> String {
    let noun = model.noun(effect.common.extent);
    let parents: Vec<String> = line.parents.iter().map(|one| parent(model, effect, one)).collect();
    let given = format!("{noun} with {}{}", parents.join(" together with "), clause(model, &line.test));
    let because = line.because.as_ref().map_or_else(String::new, |because| format!(" {because}"));
    let slowly =
        if line.slowly { ", where it has long been so; a tenth of that while it is recent" } else { "" };
    format!("{} for that reason{slowly}.{because}", capital(&shares(effect, &line.effects, &given, verb)))
}

/// The `without` lines, the first that holds
pub(super) fn without(model: &Model, effect: &Effect, verb: Verb) -> Vec<String> {
    let noun = model.noun(effect.common.extent);
    let none = if effect.lines.is_empty() { "" } else { " with none of these causes" };
    if effect.leaks.is_empty() {
        let verb = if verb == Verb::Show { "shows" } else { "comes to" };
        return vec![format!("Of {noun}{none} not one {verb} it.")];
    }
    let one = |(number, leak): (usize, &Leak)| {
        let given = format!("{noun}{none}{}", clause(model, &leak.test));
        let sentence = shares(effect, &leak.effects, &given, verb);
        let sentence = if number > 0 { format!("otherwise, {sentence}") } else { sentence };
        let because = leak.because.as_ref().map_or_else(String::new, |because| format!(" {because}"));
        format!("{}.{because}", capital(&sentence))
    };
    effect.leaks.iter().enumerate().map(one).collect()
}

/// `of 100 sides with this, 60 show “one” and 30 “several”`
fn shares(effect: &Effect, effects: &[(usize, f64)], given: &str, verb: Verb) -> String {
    let of = out_of(&effects.iter().map(|(_, share)| *share).collect::<Vec<_>>());
    let verb = |number: &str| match (verb, number) {
        (Verb::Show, "1") => "shows",
        (Verb::Show, _) => "show",
        (Verb::Come, "1") => "comes to",
        (Verb::Come, _) => "come to",
    };
    let counts: Vec<String> = effects
        .iter()
        .enumerate()
        .map(|(place, (state, share))| {
            let number = count(*share, of);
            let grades = &effect.grades;
            let grade = (0..grades.names.len())
                .find(|grade| grades.state(*grade) == *state)
                .hold("a line names grades");
            let verb = verb(&number);
            match place {
                _ if is_plain(effect) => {
                    format!("{number} {} it", verb.replace("come to", "get").replace("comes to", "gets"))
                }
                0 => format!("{number} {verb} {}", quoted(grades.name(grade))),
                _ => format!("{number} {}", quoted(grades.name(grade))),
            }
        })
        .collect();
    let counts = if counts.is_empty() { format!("none {} it", verb("0")) } else { listed(&counts) };
    format!("of {} {given}, {counts}", hundreds(of))
}

/// A parent with the grade and the place that a line asks of it
fn parent(model: &Model, effect: &Effect, parent: &Parent) -> String {
    let label = &model.common(parent.of).label;
    let grade = match parent.grade {
        ParentGrade::Any => any_grade(model, effect, parent.of),
        ParentGrade::Grade(grade) => {
            let name = match parent.of {
                Hidden::Cause(id) => {
                    grade.checked_sub(1).and_then(|form| model[id].forms.names().get(form).cloned())
                }
                Hidden::Condition(id) => Some(model[id].grades.name(grade).to_owned()),
            };
            name.filter(|name| name != "yes").map_or_else(String::new, |name| format!(" ({})", quoted(&name)))
        }
        ParentGrade::ThisSide => " toward this side".to_owned(),
        ParentGrade::OtherSide => " toward the other side".to_owned(),
    };
    let place = match (parent.reach, model.common(parent.of).extent) {
        (Reach::Here, _) | (Reach::Each, Extent::Machine) => String::new(),
        (Reach::Each, Extent::Side) => " on a side, each side counting by itself".to_owned(),
        (Reach::Each, Extent::Each(part)) => {
            let name = &model[part].common.name;
            format!(" on a {name}, each {name} counting by itself")
        }
    };
    format!("{label}{grade}{place}")
}

/// What `any grade` means where other lines name some of them
fn any_grade(model: &Model, effect: &Effect, of: Hidden) -> String {
    let named = |line: &Line| {
        line.parents.iter().any(|one| one.of == of && matches!(one.grade, ParentGrade::Grade(_)))
    };
    let graded = match of {
        Hidden::Cause(id) => model[id].forms.names().len() > 1,
        Hidden::Condition(id) => model[id].grades.names.len() > 2,
    };
    match (graded, effect.lines.iter().any(named)) {
        (true, true) => " in any other grade".to_owned(),
        (true, false) => " in any grade".to_owned(),
        (false, _) => String::new(),
    }
}

/// The `chance` lines, the first that holds
pub(super) fn chances(model: &Model, chances: &[Chance]) -> Vec<String> {
    let one = |(number, chance): (usize, &Chance)| {
        let of = out_of(&[chance.share]);
        let noun = model.noun(chance.noun);
        let sentence = format!(
            "of {} {noun}{}, {} have it",
            hundreds(of),
            clause(model, &chance.test),
            count(chance.share, of)
        );
        let sentence = if number > 0 { format!("otherwise, {sentence}") } else { sentence };
        format!("{}.", capital(&sentence))
    };
    let mut sentences: Vec<String> = chances.iter().enumerate().map(one).collect();
    if chances.last().is_some_and(|last| !last.test.always()) {
        sentences.push("Elsewhere it does not happen.".to_owned());
    }
    sentences
}
