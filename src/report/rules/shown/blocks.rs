//! Causes, conditions, symptoms and facts: what is a node of the network.

use super::formula;
use super::lines::{self, Verb, quoted};
use super::off_network::{checks_that_show, hanging_on, on_part, symptoms_of};
use crate::model::{
    Cause, CauseId, ConditionId, Counted, Effect, FactId, Forms, Hidden, Line, Model, Remedy, Symptom,
    SymptomId, Threshold,
};
use crate::report::rules::entry::{Entry, in_brief};
use crate::report::rules::gate::clause;
use crate::report::words::{capital, count, counted, figure, hundreds, listed, minutes, out_of, plain};
use std::collections::BTreeSet;

pub(super) fn of_cause(model: &Model, id: CauseId) -> Entry {
    let cause: &Cause = &model[id];
    let mut entry = Entry::new(model, "cause", &cause.common);
    entry.say("What sort of cause", [kind_of(model, cause)]);
    let gate = clause(model, &cause.common.gate);
    entry.say(
        "Only",
        Some(gate).filter(|gate| !gate.is_empty()).map(|gate| format!("It can be there only{gate}.")),
    );
    entry.say("How often it is there, by the rules", lines::chances(model, &cause.chances));
    let forms = match &cause.forms {
        Forms::Plain => None,
        Forms::Sides => {
            Some("Toward the left or toward the right, as often the one as the other.".to_owned())
        }
        Forms::Named(names) => {
            let names: Vec<String> = names.iter().map(|name| quoted(name)).collect();
            Some(format!("{}, each as often as the others.", listed(&names)))
        }
    };
    entry.say("What it may look like", forms);
    entry.say("How long it has been at work", cause.recent.map(recent));
    below(model, Hidden::Cause(id), &mut entry);
    entry.based(&cause.common)
}

/// `On 70 of 100 machines …`
fn together(shared: f64) -> Option<String> {
    let of = out_of(&[shared]);
    (shared > 0.0).then(|| {
        let machines = count(shared, of);
        format!(
            "On {machines} of {} machines it is the same at all places; else each is for itself.",
            hundreds(of)
        )
    })
}

/// `Of 100 that have it, 35 have had it only lately: …`
fn recent(share: f64) -> String {
    let of = out_of(&[share]);
    format!(
        "Of {} that have it, {} have had it only lately, too short for what shows slowly.",
        hundreds(of),
        count(share, of)
    )
}

/// `Upkeep put off; it counts against the owner.`
pub(super) fn kind_of(model: &Model, cause: &Cause) -> String {
    let kind = &model[cause.kind];
    let the = if kind.against == "nobody" { "" } else { "the " };
    format!(
        "{} ({}); it counts against {the}{}.",
        capital(&kind.common.label),
        kind.common.name,
        kind.against
    )
}

pub(super) fn of_condition(model: &Model, id: ConditionId) -> Entry {
    let condition: &Effect = &model[id];
    let mut entry = Entry::new(model, "condition", &condition.common);
    grades(model, condition, &mut entry);
    comes_from(model, condition, Verb::Come, &mut entry);
    below(model, Hidden::Condition(id), &mut entry);
    entry.based(&condition.common)
}

pub(super) fn of_symptom(model: &Model, id: SymptomId) -> Entry {
    let symptom: &Symptom = &model[id];
    let effect = &symptom.effect;
    let mut entry = Entry::new(model, "symptom", &effect.common);
    grades(model, effect, &mut entry);
    let read = symptom.reading.as_ref().map(|(expression, bounds)| {
        let bounds = formula::bounds(model, expression, bounds, &effect.grades.names);
        format!("{}: {bounds}.", capital(&formula::formula(model, expression)))
    });
    entry.say("Told from readings", read);
    let counts = symptom.counts.iter().map(|one| counting(&effect.grades.names, one)).collect::<Vec<_>>();
    entry.say(
        "Told by how many show it",
        Some(format!("{}, of {}.", counts.join(", "), symptom.counted.join(" or ")))
            .filter(|_| !counts.is_empty()),
    );
    let gives = symptom.gives_way.iter().map(|other| {
        format!("It counts only while nothing is noted on {}.", in_brief(&model[*other].effect.common))
    });
    entry.say("Gives way", gives);
    comes_from(model, effect, Verb::Show, &mut entry);
    let noun = model.noun(effect.common.extent);
    let seen = symptom
        .seen
        .map(|(share, _)| format!("{} {noun} show it, say those who wrote the rules.", counted(share)));
    entry.say("In practice", seen);
    entry.say("Checks that show it", checks_that_show(model, &BTreeSet::from([id])));
    let fixes =
        |remedy: &&Remedy| remedy.fixes.iter().any(|hidden| symptoms_of(model, *hidden).contains(&id));
    let remedies = model.remedies.iter().filter(fixes);
    entry.say("Remedies for what can be behind it", remedies.map(|remedy| in_brief(&remedy.common)));
    entry.based(&effect.common)
}

/// `“several” from 2 on`, `“most” over 40 of 100`
fn counting(names: &[String], counted_as: &Counted) -> String {
    let name = names.get(counted_as.grade).map_or_else(String::new, |name| quoted(name));
    let from = match counted_as.from {
        Threshold::Number(number) => figure(number),
        Threshold::Share(share) => counted(share),
    };
    if counted_as.over { format!("{name} over {from}") } else { format!("{name} from {from} on") }
}

pub(super) fn of_fact(model: &Model, id: FactId) -> Entry {
    let fact = &model[id];
    let mut entry = Entry::new(model, "fact", &fact.common);
    let noun = model.noun(fact.common.extent);
    let lines = fact.shares.iter().enumerate().map(|(number, (test, shares))| {
        let of = out_of(shares);
        let choices = fact.choices.iter().zip(shares);
        let counts: Vec<String> =
            choices.map(|(choice, share)| format!("{} {}", count(*share, of), quoted(choice))).collect();
        let sentence = format!("of {} {noun}{}: {}", hundreds(of), clause(model, test), listed(&counts));
        capital(&if number > 0 { format!("otherwise, {sentence}.") } else { format!("{sentence}.") })
    });
    entry.say("Choices, where nobody tells", lines);
    entry.say("How far both sides go together", together(fact.shared));
    let derived = fact.derived.as_ref().map(|(expression, bounds)| {
        let bounds = formula::bounds(model, expression, bounds, &fact.choices);
        format!("{}: {bounds}.", capital(&formula::formula(model, expression)))
    });
    entry.say("Reckoned, where the figures are there, from", derived);
    entry.say("How to tell", fact.tell.iter().map(|(text, taken)| format!("{text} ({})", minutes(*taken))));
    entry.say("What hangs on it", hanging_on(model, id));
    entry.based(&fact.common)
}

fn grades(model: &Model, effect: &Effect, entry: &mut Entry) {
    let names: Vec<String> = effect.grades.names.iter().map(|name| plain(name)).collect();
    entry.say("Grades, the normal one first", [names.join(", ")]);
    let gate = clause(model, &effect.common.gate);
    entry.say(
        "Only",
        Some(gate).filter(|gate| !gate.is_empty()).map(|gate| format!("It can be there only{gate}.")),
    );
    entry.say("Where", effect.common.part.map(|part| on_part(model, part)));
}

fn comes_from(model: &Model, effect: &Effect, verb: Verb, entry: &mut Entry) {
    entry.say("What it comes from", effect.lines.iter().map(|line| lines::with(model, effect, line, verb)));
    entry.say("Without any of that", lines::without(model, effect, verb));
    entry.say("How far its places go together", together(effect.shared));
}

/// What a cause or condition leads to, with the checks that can show it and the remedies that fix it
fn below(model: &Model, hidden: Hidden, entry: &mut Entry) {
    let mut sentences: Vec<String> = Vec::new();
    let mut leads = |effect: &Effect, verb: Verb| {
        let own = effect.lines.iter().filter(|line| line.parents.iter().any(|parent| parent.of == hidden));
        let label = in_brief(&effect.common);
        sentences.extend(own.map(|line| {
            let line = Line { because: None, ..line.clone() };
            format!("{}: {}", capital(&label), lines::with(model, effect, &line, verb))
        }));
    };
    model.conditions.iter().for_each(|condition| leads(condition, Verb::Come));
    model.symptoms.iter().for_each(|symptom| leads(&symptom.effect, Verb::Show));
    entry.say("What it leads to", sentences);
    entry.say("Checks that can show it", checks_that_show(model, &symptoms_of(model, hidden)));
    let remedies = model.remedies.iter().filter(|remedy| remedy.fixes.contains(&hidden));
    entry.say("Remedies that fix it", remedies.map(|remedy| in_brief(&remedy.common)));
}
