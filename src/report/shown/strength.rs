//! One strength of the rules as a sentence with a count.

use super::lines::{self, Verb};
use crate::model::{Common, Effect, Leak, Line, Model};
use crate::reason::robust::{self, Block, Strength};

/// The block that has a strength
pub fn block_of(model: &Model, strength: Strength) -> &Common {
    match strength.block {
        Block::Cause(id) => &model[id].common,
        Block::Condition(id) => &model[id].common,
        Block::Symptom(id) => &model[id].effect.common,
    }
}

/// What a strength says: `Of 100 sides with this, 60 show “one” for that reason.`; empty where the rules have no such line
pub fn strength(model: &Model, strength: Strength) -> String {
    let (effect, verb) = match strength.block {
        Block::Cause(id) => {
            let robust::Line::Chance(number) = strength.line else { return String::new() };
            let line: Vec<_> = model[id].chances.get(number).cloned().into_iter().collect();
            return lines::chances(model, &line).into_iter().next().unwrap_or_default();
        }
        Block::Condition(id) => (&model[id], Verb::Come),
        Block::Symptom(id) => (&model[id].effect, Verb::Show),
    };
    let told = match strength.line {
        robust::Line::With(number) => {
            effect.lines.get(number).map(|line| with(model, effect, line, strength, verb))
        }
        robust::Line::Without(number) => {
            effect.leaks.get(number).and_then(|leak| without(model, effect, leak, strength, verb))
        }
        robust::Line::Chance(_) => None,
    };
    told.unwrap_or_default()
}

/// The one share at hand of a `with` line, without the line's reason
fn with(model: &Model, effect: &Effect, line: &Line, strength: Strength, verb: Verb) -> String {
    let effects = line.effects.get(strength.share).copied().into_iter().collect();
    lines::with(model, effect, &Line { effects, because: None, ..line.clone() }, verb)
}

fn without(model: &Model, effect: &Effect, leak: &Leak, strength: Strength, verb: Verb) -> Option<String> {
    let effects = leak.effects.get(strength.share).copied().into_iter().collect();
    let alone = Effect { leaks: vec![Leak { effects, because: None, ..leak.clone() }], ..effect.clone() };
    lines::without(model, &alone, verb).into_iter().next()
}
