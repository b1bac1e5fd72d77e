//! One strength of the rules as a sentence with a count.

use super::lines::{self, Verb};
use crate::model::{Basis, Common, Effect, Leak, Line, Model};
use crate::reason::robust::{self, Block, Strength};
use serde::Serialize;

/// A strength as it is told: a figure of the rules
#[derive(Debug, Serialize)]
pub struct Figure {
    /// Name of the block it stands in
    pub id: String,
    /// Label of the block
    pub label: String,
    /// What it says, with a count
    pub says: String,
    /// What it rests on
    pub basis: String,
    /// The figure, from 0 to 1
    pub share: f64,
}

impl Figure {
    /// A strength with the words that go with it
    pub fn of(model: &Model, at: Strength) -> Figure {
        let common = block_of(model, at);
        Figure {
            id: common.name.clone(),
            label: common.label.clone(),
            says: strength(model, at),
            basis: match &common.basis {
                Some(Basis::CommonPractice) => "common practice".to_owned(),
                Some(Basis::Source(source)) => source.clone(),
                Some(Basis::Estimate) | None => "estimate".to_owned(),
            },
            share: at.of(model).unwrap_or(0.0), // else: the rules have no such line
        }
    }
}

/// The block that has a strength
fn block_of(model: &Model, strength: Strength) -> &Common {
    match strength.block {
        Block::Cause(id) => &model[id].common,
        Block::Condition(id) => &model[id].common,
        Block::Symptom(id) => &model[id].effect.common,
    }
}

/// What a strength says: `Of 100 sides with this, 60 show “one” for that reason.`; empty where the rules have no such line
fn strength(model: &Model, strength: Strength) -> String {
    let (effect, verb) = match strength.block {
        Block::Cause(id) => {
            let robust::Line::Chance(number) = strength.line else { return String::new() };
            let line: Vec<_> = model[id].chances.get(number).cloned().into_iter().collect();
            let sentence = lines::chances(model, &line).into_iter().next();
            return sentence.unwrap_or_default(); // else: as said above
        }
        Block::Condition(id) => (&model[id], Verb::Come),
        Block::Symptom(id) => (&model[id].effect, Verb::Show),
    };
    let sentence = match strength.line {
        robust::Line::With(number) => {
            effect.lines.get(number).map(|line| with(model, effect, line, strength, verb))
        }
        robust::Line::Without(number) => {
            effect.leaks.get(number).and_then(|leak| without(model, effect, leak, strength, verb))
        }
        robust::Line::Chance(_) => None,
    };
    sentence.unwrap_or_default() // else: as said above
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
