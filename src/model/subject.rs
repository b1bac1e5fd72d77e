//! What a figure is of: a block of the rules, mostly at a place, with the words that tell it.
//!
//! Stages hold these in what they hand on, so that it can be written as it stands.

use super::{
    CauseId, CheckId, Common, ConditionId, FactId, Hidden, KindId, MeasureId, Model, PartId, RemedyId,
    StateId, SymptomId,
};
use crate::place::Place;
use serde::ser::{Serialize, SerializeStruct, Serializer};

/// A block of the rules at a place
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Subject {
    /// Its name in the rules
    pub name: String,
    /// Where
    pub place: Place,
    /// Its label
    pub label: String,
}

/// A block of the rules by itself
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Term {
    /// Its name in the rules
    pub name: String,
    /// Its label
    pub label: String,
}

/// What stands for a block of one model
pub trait Block: Copy {
    /// What it shares with every block
    fn common(self, model: &Model) -> &Common;
}

macro_rules! blocks {
    ($($id:ident)*) => {
        $(impl Block for $id {
            fn common(self, model: &Model) -> &Common {
                &model[self].common
            }
        })*
    };
}

blocks! { KindId StateId PartId FactId CauseId ConditionId MeasureId CheckId RemedyId }

impl Block for SymptomId {
    fn common(self, model: &Model) -> &Common {
        &model[self].effect.common
    }
}

impl Block for Hidden {
    fn common(self, model: &Model) -> &Common {
        model.common(self)
    }
}

impl Model {
    /// A block at a place, with its words
    pub fn subject(&self, block: impl Block, place: &Place) -> Subject {
        let Term { name, label } = self.term(block);
        Subject { name, place: place.clone(), label }
    }

    /// A block with its words
    pub fn term(&self, block: impl Block) -> Term {
        let common = block.common(self);
        Term { name: common.name.clone(), label: common.label.clone() }
    }
}

/// Something that is written with its name under a key of its own
pub trait Keyed {
    /// Its name under `key`, and the rest of its words
    fn keyed<S: Serializer>(&self, key: &'static str, out: S) -> Result<S::Ok, S::Error>;
}

impl Keyed for Subject {
    fn keyed<S: Serializer>(&self, key: &'static str, out: S) -> Result<S::Ok, S::Error> {
        let mut fields = out.serialize_struct("Subject", 3)?;
        fields.serialize_field(key, &self.name)?;
        fields.serialize_field("place", &self.place)?;
        fields.serialize_field("label", &self.label)?;
        fields.end()
    }
}

impl Keyed for Term {
    fn keyed<S: Serializer>(&self, key: &'static str, out: S) -> Result<S::Ok, S::Error> {
        let mut fields = out.serialize_struct("Term", 2)?;
        fields.serialize_field(key, &self.name)?;
        fields.serialize_field("label", &self.label)?;
        fields.end()
    }
}

impl Serialize for Subject {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        self.keyed("id", out)
    }
}

impl Serialize for Term {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        self.keyed("id", out)
    }
}

/// For `serialize_with`: the name stands under `measure`
pub fn as_measure<S: Serializer>(own: &impl Keyed, out: S) -> Result<S::Ok, S::Error> {
    own.keyed("measure", out)
}

/// For `serialize_with`: the name stands under `finding`
pub fn as_finding<S: Serializer>(own: &impl Keyed, out: S) -> Result<S::Ok, S::Error> {
    own.keyed("finding", out)
}

/// For `serialize_with`: the name stands under `cause`
pub fn as_cause<S: Serializer>(own: &impl Keyed, out: S) -> Result<S::Ok, S::Error> {
    own.keyed("cause", out)
}

/// For `serialize_with`: the name stands under `remedy`
pub fn as_remedy<S: Serializer>(own: &impl Keyed, out: S) -> Result<S::Ok, S::Error> {
    own.keyed("remedy", out)
}

/// For `serialize_with`: the name stands under `reading`
pub fn as_reading<S: Serializer>(own: &impl Keyed, out: S) -> Result<S::Ok, S::Error> {
    own.keyed("reading", out)
}
