//! Places on a machine: the machine itself, one of its sides, or one numbered part of a side.

use serde::{Serialize, Serializer};
use std::fmt;

/// Side of the machine as its operator sees it, facing forward (ISO 6746-1, ISO 6747)
#[derive(Clone, Copy, Debug, Eq, Hash, Ord, PartialEq, PartialOrd, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// The operator's left hand
    Left,
    /// The operator's right hand
    Right,
}

impl Side {
    /// Both sides, left first
    pub const BOTH: [Side; 2] = [Side::Left, Side::Right];

    /// `left` or `right`
    pub fn word(self) -> &'static str {
        match self {
            Side::Left => "left",
            Side::Right => "right",
        }
    }

    /// The side that a word names
    pub fn from_word(word: &str) -> Option<Side> {
        Side::BOTH.into_iter().find(|side| side.word() == word)
    }

    /// The other side
    pub fn other(self) -> Side {
        match self {
            Side::Left => Side::Right,
            Side::Right => Side::Left,
        }
    }
}

/// One place on a machine, in the order machine, left, right, and along a side by part and number
#[derive(Clone, Debug, Eq, Hash, Ord, PartialEq, PartialOrd)]
pub enum Place {
    /// The machine as a whole
    Machine,
    /// One side
    Side(Side),
    /// One of a row of numbered parts, counted from 1 at the front
    Numbered {
        /// The side it stands on
        side: Side,
        /// Name of the part, such as `roller`
        part: String,
        /// Number along the side, from 1 at the front
        number: u32,
    },
}

impl Place {
    /// The place of what stands on a side, or of the machine as a whole where no side is named
    pub fn of(side: Option<Side>) -> Place {
        side.map_or(Place::Machine, Place::Side)
    }

    /// The side a place lies on; none for the machine as a whole
    pub fn side(&self) -> Option<Side> {
        match self {
            Place::Machine => None,
            Place::Side(side) | Place::Numbered { side, .. } => Some(*side),
        }
    }
}

/// True when a place lies in another, or is it
pub fn within(place: &Place, wide: &Place) -> bool {
    match wide {
        Place::Machine => true,
        Place::Side(side) => place.side() == Some(*side),
        Place::Numbered { .. } => place == wide,
    }
}

impl fmt::Display for Place {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Machine => out.write_str("machine"),
            Place::Side(side) => out.write_str(side.word()),
            Place::Numbered { side, part, number } => {
                write!(out, "{} {part} {number}", side.word())
            }
        }
    }
}

/// As its words
impl Serialize for Place {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        out.collect_str(self)
    }
}
