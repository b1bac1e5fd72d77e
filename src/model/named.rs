//! What a name of the rules stands for.

use super::{
    CauseId, CheckId, Common, ConditionId, FactId, KindId, MeasureId, Model, PartId, RemedyId, StateId,
    SymptomId,
};
use std::collections::BTreeMap;

/// Anything the rules give a name to, the scale and the size classes included
#[derive(Clone, Debug, Eq, PartialEq)]
pub enum Named {
    /// A cause
    Cause(CauseId),
    /// A condition
    Condition(ConditionId),
    /// A symptom
    Symptom(SymptomId),
    /// A measure
    Measure(MeasureId),
    /// A check
    Check(CheckId),
    /// A remedy
    Remedy(RemedyId),
    /// A fact
    Fact(FactId),
    /// A part
    Part(PartId),
    /// A kind of cause
    Kind(KindId),
    /// A state of the machine
    State(StateId),
    /// The dimensions and lives of a size class, by its name
    Size(String),
    /// The words of frequency
    Scale,
}

impl Model {
    /// Notes every block by its name; to be done once all of them are there
    pub(crate) fn index_names(&mut self) {
        let mut by_name = BTreeMap::new();
        let mut note = |common: &Common, named: Named| {
            by_name.entry(common.name.clone()).or_insert(named);
        };
        for (at, it) in self.parts.iter().enumerate() {
            note(&it.common, Named::Part(PartId(at)));
        }
        for (at, it) in self.causes.iter().enumerate() {
            note(&it.common, Named::Cause(CauseId(at)));
        }
        for (at, it) in self.conditions.iter().enumerate() {
            note(&it.common, Named::Condition(ConditionId(at)));
        }
        for (at, it) in self.symptoms.iter().enumerate() {
            note(&it.effect.common, Named::Symptom(SymptomId(at)));
        }
        for (at, it) in self.measures.iter().enumerate() {
            note(&it.common, Named::Measure(MeasureId(at)));
        }
        for (at, it) in self.checks.iter().enumerate() {
            note(&it.common, Named::Check(CheckId(at)));
        }
        for (at, it) in self.remedies.iter().enumerate() {
            note(&it.common, Named::Remedy(RemedyId(at)));
        }
        for (at, it) in self.facts.iter().enumerate() {
            note(&it.common, Named::Fact(FactId(at)));
        }
        for (at, it) in self.kinds.iter().enumerate() {
            note(&it.common, Named::Kind(KindId(at)));
        }
        for (at, it) in self.states.iter().enumerate() {
            note(&it.common, Named::State(StateId(at)));
        }
        self.by_name = by_name;
    }

    /// The numbered part whose plural is `word`
    pub fn row_of(&self, word: &str) -> Option<PartId> {
        match self.by_name.get(word.strip_suffix('s')?) {
            Some(&Named::Part(part)) if self[part].numbered.is_some() => Some(part),
            _ => None,
        }
    }
}

/// What a name stands for: a block, a size class, `scale` or a word of it; none when the rules do not know it
pub fn named(model: &Model, name: &str) -> Option<Named> {
    let block = || model.by_name.get(name).cloned();
    let size = || model.sizes.contains_key(name).then(|| Named::Size(name.to_owned()));
    let scale =
        || (name == "scale" || model.scale.iter().any(|(word, _)| word == name)).then_some(Named::Scale);
    block().or_else(size).or_else(scale)
}

/// Every name that [`named`] knows
pub fn names(model: &Model) -> impl Iterator<Item = &str> {
    let words = model.scale.iter().map(|(word, _)| word.as_str());
    let sizes = model.sizes.keys().map(String::as_str);
    model.blocks().map(|block| block.name.as_str()).chain(sizes).chain(words).chain(["scale"])
}
