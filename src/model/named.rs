//! What a name of the rules stands for.

use super::{
    CauseId, CheckId, Common, ConditionId, FactId, KindId, MeasureId, Model, PartId, RemedyId, StateId,
    SymptomId,
};

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

/// What a name stands for: a block, a size class, `scale` or a word of it; none when the rules do not know it
pub fn named(model: &Model, name: &str) -> Option<Named> {
    let is = |common: &Common| common.name == name;
    let place = |found: Option<usize>, make: fn(usize) -> Named| found.map(make);
    place(model.causes.iter().position(|it| is(&it.common)), |at| Named::Cause(CauseId(at)))
        .or_else(|| {
            let found = model.conditions.iter().position(|it| is(&it.common));
            place(found, |at| Named::Condition(ConditionId(at)))
        })
        .or_else(|| {
            let found = model.symptoms.iter().position(|it| is(&it.effect.common));
            place(found, |at| Named::Symptom(SymptomId(at)))
        })
        .or_else(|| {
            place(model.measures.iter().position(|it| is(&it.common)), |at| Named::Measure(MeasureId(at)))
        })
        .or_else(|| place(model.checks.iter().position(|it| is(&it.common)), |at| Named::Check(CheckId(at))))
        .or_else(|| {
            place(model.remedies.iter().position(|it| is(&it.common)), |at| Named::Remedy(RemedyId(at)))
        })
        .or_else(|| place(model.facts.iter().position(|it| is(&it.common)), |at| Named::Fact(FactId(at))))
        .or_else(|| place(model.parts.iter().position(|it| is(&it.common)), |at| Named::Part(PartId(at))))
        .or_else(|| place(model.kinds.iter().position(|it| is(&it.common)), |at| Named::Kind(KindId(at))))
        .or_else(|| place(model.states.iter().position(|it| is(&it.common)), |at| Named::State(StateId(at))))
        .or_else(|| model.sizes.contains_key(name).then(|| Named::Size(name.to_owned())))
        .or_else(|| {
            (name == "scale" || model.scale.iter().any(|(word, _)| word == name)).then_some(Named::Scale)
        })
}

/// Every name that [`named`] knows
pub fn names(model: &Model) -> impl Iterator<Item = &str> {
    let words = model.scale.iter().map(|(word, _)| word.as_str());
    let sizes = model.sizes.keys().map(String::as_str);
    model.blocks().map(|block| block.name.as_str()).chain(sizes).chain(words).chain(["scale"])
}
