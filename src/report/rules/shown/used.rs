//! A block as far as a document uses it: only what bears on the causes and conditions the document speaks of.

use super::blocks::kind_of;
use super::lines::{self, Verb};
use crate::model::{CauseId, ConditionId, Effect, Hidden, Model, SymptomId};
use crate::report::rules::entry::Entry;
use std::collections::BTreeSet;

/// A cause: its kind, how often it is there, its basis
pub fn cause(model: &Model, id: CauseId) -> Entry {
    let cause = &model[id];
    let mut entry = Entry::new(model, "cause", &cause.common);
    entry.say("What sort of cause", [kind_of(model, cause)]);
    entry.say("How often it is there, by the rules", lines::chances(model, &cause.chances));
    entry.based(&cause.common)
}

/// A condition: what it comes from among some causes and conditions, and without any; its basis
pub fn condition(model: &Model, id: ConditionId, of: &BTreeSet<Hidden>) -> Entry {
    effect(model, "condition", &model[id], Verb::Come, of)
}

/// A symptom: what it comes from among some causes and conditions, and without any; its basis
pub fn symptom(model: &Model, id: SymptomId, of: &BTreeSet<Hidden>) -> Entry {
    effect(model, "symptom", &model[id].effect, Verb::Show, of)
}

fn effect(model: &Model, sort: &'static str, effect: &Effect, verb: Verb, of: &BTreeSet<Hidden>) -> Entry {
    let mut entry = Entry::new(model, sort, &effect.common);
    let bearing =
        effect.lines.iter().filter(|line| line.parents.iter().any(|parent| of.contains(&parent.of)));
    entry.say("What it comes from", bearing.map(|line| lines::with(model, effect, line, verb)));
    entry.say("Without any of its causes", lines::without(model, effect, verb));
    entry.based(&effect.common)
}
