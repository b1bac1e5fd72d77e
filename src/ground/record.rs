//! What an inspection comes to in the terms of the rules, piece by piece.

use crate::model::subject::{Block, Subject, Term, as_reading};
use crate::model::{
    CauseId, CheckId, Common, ConditionId, Effect, FactId, Hidden, MeasureId, Model, SymptomId,
};
use crate::network::NodeId;
use crate::place::{Place, Side};
use crate::source::Span;
use serde::Serialize;

/// What a node stands for
#[derive(Clone, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Origin {
    /// A fact that is not given, of the machine or of a side
    Fact(FactId, Option<Side>),
    /// A cause at a place: state 0 absent, then its forms, then where that is told apart its forms at work only lately
    Cause(CauseId, Place),
    /// A condition at a place: the states of its grades
    Condition(ConditionId, Place),
    /// A symptom at a place: the states of its grades
    Symptom(SymptomId, Place),
    /// What the places of a block have in common, left and right or along a row: state 0 that each draws for itself, then
    /// every state that all of them come to
    Shared(EffectId, Place),
}

/// A block that is brought about: a condition or a symptom
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum EffectId {
    /// A condition
    Condition(ConditionId),
    /// A symptom
    Symptom(SymptomId),
}

impl EffectId {
    /// What brings it about, and what shows without
    pub fn effect(self, model: &Model) -> &Effect {
        match self {
            EffectId::Condition(id) => &model[id],
            EffectId::Symptom(id) => &model[id].effect,
        }
    }

    /// Its own origin at a place
    pub fn at(self, place: Place) -> Origin {
        match self {
            EffectId::Condition(id) => Origin::Condition(id, place),
            EffectId::Symptom(id) => Origin::Symptom(id, place),
        }
    }
}

/// One thing seen or read
#[derive(Clone, Debug, PartialEq)]
pub struct Observation {
    /// The symptom
    pub symptom: SymptomId,
    /// Where
    pub place: Place,
    /// Its node
    pub node: NodeId,
    /// The grade it speaks for most
    pub grade: usize,
    /// Likelihood of what was observed in each state of the node
    pub likelihood: Vec<f64>,
    /// How it is known
    pub how: How,
    /// Where the case says so
    pub at: Span,
}

/// How an observation is known
#[derive(Clone, Debug, PartialEq)]
pub enum How {
    /// Seen and noted, with how sure the person was
    Seen {
        /// From over 0 to 1
        sure: f64,
    },
    /// Looked at and not noted, so normal
    Normal(CheckId),
    /// Reckoned from readings
    Read {
        /// Value of the expression, in its base unit
        value: f64,
        /// Its standard error
        sigma: f64,
    },
}

/// A reading or a look that does not count
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Held {
    /// What is held back
    #[serde(skip)]
    pub what: HeldWhat,
    /// The same with its words, and where
    #[serde(flatten, serialize_with = "as_reading")]
    pub named: Subject,
    /// Why, and what would let it count
    pub why: String,
}

/// What is held back
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum HeldWhat {
    /// A measure
    Measure(MeasureId),
    /// A symptom
    Symptom(SymptomId),
    /// What a check showed to be normal
    Check(CheckId),
}

impl Held {
    /// Something held back at a place
    pub(super) fn new(model: &Model, what: HeldWhat, place: &Place, why: String) -> Held {
        Held { what, named: model.subject(what, place), why }
    }
}

impl Block for HeldWhat {
    fn common(self, model: &Model) -> &Common {
        match self {
            HeldWhat::Measure(id) => id.common(model),
            HeldWhat::Symptom(id) => id.common(model),
            HeldWhat::Check(id) => id.common(model),
        }
    }
}

/// A class whose sizes are not those of the machine
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Misfit {
    /// Name of the class
    pub size: String,
    /// Measures better than new by it
    pub better: Vec<Term>,
    /// Measures far past their limit by it
    pub far_past: Vec<Term>,
    /// How many measures were held against it
    pub of: usize,
}

/// A reading that says otherwise than the eye
#[derive(Clone, Debug, PartialEq)]
pub struct Clash {
    /// The symptom
    pub symptom: SymptomId,
    /// Where
    pub place: Place,
    /// The grade seen
    pub seen: usize,
    /// The grade read, which counts
    pub read: usize,
}

impl Origin {
    /// The origin of something hidden at a place
    pub fn hidden(hidden: Hidden, place: Place) -> Origin {
        match hidden {
            Hidden::Cause(id) => Origin::Cause(id, place),
            Hidden::Condition(id) => Origin::Condition(id, place),
        }
    }

    /// The cause or condition that it is; none for anything else
    pub fn as_hidden(&self) -> Option<Hidden> {
        match self {
            Origin::Cause(id, _) => Some(Hidden::Cause(*id)),
            Origin::Condition(id, _) => Some(Hidden::Condition(*id)),
            Origin::Fact(..) | Origin::Symptom(..) | Origin::Shared(..) => None,
        }
    }

    /// The condition or symptom that it is; none for anything else
    pub fn as_effect(&self) -> Option<EffectId> {
        match self {
            Origin::Condition(id, _) => Some(EffectId::Condition(*id)),
            Origin::Symptom(id, _) => Some(EffectId::Symptom(*id)),
            Origin::Fact(..) | Origin::Cause(..) | Origin::Shared(..) => None,
        }
    }

    /// The place it stands at
    pub fn place(&self) -> Place {
        match self {
            Origin::Fact(_, side) => Place::of(*side),
            Origin::Cause(_, place)
            | Origin::Condition(_, place)
            | Origin::Symptom(_, place)
            | Origin::Shared(_, place) => place.clone(),
        }
    }
}
