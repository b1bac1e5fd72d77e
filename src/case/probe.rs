//! Asking a YAML value where it stands, and whether it is a text, without taking it.

use serde::de::{self, DeserializeSeed, Deserializer, EnumAccess, Visitor};
use std::convert::Infallible;
use std::fmt;

/// What asking for a value as something it cannot be has told
#[derive(Default)]
pub(super) struct Asked {
    /// Whether the value is a text, and no list or map
    pub(super) is_text: bool,
    failure: String,
}

impl Asked {
    /// Notes what the reader answered
    pub(super) fn hear(&mut self, failure: &impl fmt::Display) {
        self.failure = failure.to_string();
    }

    /// Line and column of the value; none at the very front of a text, and for a value with a tag
    pub(super) fn place(&self) -> Option<(usize, usize)> {
        place_in_words(&self.failure)
    }
}

/// Asks a value to be one of a set of names: a text begins to answer and is refused, a list or map fails of itself
pub(super) struct Probe<'a>(pub(super) &'a mut Asked);

impl<'de> DeserializeSeed<'de> for Probe<'_> {
    type Value = Infallible;

    fn deserialize<D: Deserializer<'de>>(self, value: D) -> Result<Infallible, D::Error> {
        self.0.is_text = false;
        value.deserialize_enum("", &[], self)
    }
}

impl<'de> Visitor<'de> for Probe<'_> {
    type Value = Infallible;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("nothing")
    }

    fn visit_enum<A: EnumAccess<'de>>(self, _: A) -> Result<Infallible, A::Error> {
        self.0.is_text = true;
        Err(de::Error::custom("a text"))
    }
}

/// Line and column, both from 1, at the end of what the reader says; none when it says no place, as of the very front
pub(super) fn place_in_words(words: &str) -> Option<(usize, usize)> {
    let (_, place) = words.rsplit_once(" at line ")?;
    let (line, column) = place.split_once(" column ")?;
    Some((line.parse().ok()?, column.parse().ok()?))
}
