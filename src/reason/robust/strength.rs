//! One strength of the rules: where it stands, what it is, and how to put another in its place.

use crate::model::{CauseId, ConditionId, Model, SymptomId};

/// A share behind `chance`, `with` or `without`
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub struct Strength {
    /// The block
    pub block: Block,
    /// Its line
    pub line: Line,
    /// Which of the line's shares, from 0; a `chance` has one
    pub share: usize,
}

/// A block that has strengths
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Block {
    /// A cause, with its chances
    Cause(CauseId),
    /// A condition
    Condition(ConditionId),
    /// A symptom
    Symptom(SymptomId),
}

/// A line by its number, from 0
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Line {
    /// A `chance` line of a cause
    Chance(usize),
    /// A `with` line
    With(usize),
    /// A `without` line
    Without(usize),
}

impl Block {
    /// All strengths of the block
    pub fn strengths(self, model: &Model) -> Vec<Strength> {
        let shares =
            |line: Line, count: usize| (0..count).map(move |share| Strength { block: self, line, share });
        let effect = match self {
            Block::Cause(id) => {
                return (0..model[id].chances.len()).flat_map(|line| shares(Line::Chance(line), 1)).collect();
            }
            Block::Condition(id) => &model[id],
            Block::Symptom(id) => &model[id].effect,
        };
        let with = effect.lines.iter().enumerate();
        let with = with.flat_map(|(number, line)| shares(Line::With(number), line.effects.len()));
        let without = effect.leaks.iter().enumerate();
        let without = without.flat_map(|(number, line)| shares(Line::Without(number), line.effects.len()));
        with.chain(without).collect()
    }
}

impl Strength {
    /// What it is in some rules, from 0 to 1
    pub fn of(&self, model: &Model) -> Option<f64> {
        match (self.block, self.line) {
            (Block::Cause(id), Line::Chance(number)) => {
                model[id].chances.get(number).map(|chance| chance.share)
            }
            _ => self.row(model)?.get(self.share).map(|(_, share)| *share),
        }
    }

    /// Most it can be beside the other shares of its line
    pub fn most(&self, model: &Model) -> f64 {
        let others = |row: &Vec<(usize, f64)>| {
            let others = row.iter().enumerate().filter(|(number, _)| *number != self.share);
            1.0 - others.map(|(_, (_, share))| share).sum::<f64>()
        };
        self.row(model).map_or(1.0, others).max(0.0)
    }

    /// Puts another in its place; what is left over goes to the normal grade, or to the cause being absent
    pub fn put(&self, model: &mut Model, share: f64) {
        let slot = match (self.block, self.line) {
            (Block::Cause(id), Line::Chance(number)) => {
                let cause = model.causes.get_mut(id.0);
                cause.and_then(|cause| cause.chances.get_mut(number)).map(|chance| &mut chance.share)
            }
            (Block::Cause(_), _) | (_, Line::Chance(_)) => None,
            (block, line) => {
                let effect = match block {
                    Block::Condition(id) => model.conditions.get_mut(id.0),
                    Block::Symptom(id) => model.symptoms.get_mut(id.0).map(|symptom| &mut symptom.effect),
                    Block::Cause(_) => None,
                };
                let row = effect.and_then(|effect| match line {
                    Line::With(number) => effect.lines.get_mut(number).map(|line| &mut line.effects),
                    Line::Without(number) => effect.leaks.get_mut(number).map(|line| &mut line.effects),
                    Line::Chance(_) => None,
                });
                row.and_then(|row| row.get_mut(self.share)).map(|(_, share)| share)
            }
        };
        if let Some(slot) = slot {
            *slot = share;
        }
    }

    fn row<'m>(&self, model: &'m Model) -> Option<&'m Vec<(usize, f64)>> {
        let effect = match self.block {
            Block::Cause(_) => return None,
            Block::Condition(id) => &model[id],
            Block::Symptom(id) => &model[id].effect,
        };
        match self.line {
            Line::Chance(_) => None,
            Line::With(number) => effect.lines.get(number).map(|line| &line.effects),
            Line::Without(number) => effect.leaks.get(number).map(|leak| &leak.effects),
        }
    }
}
