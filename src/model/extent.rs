//! Which places a block has on a machine.

use super::ids::PartId;
use crate::place::Place;

/// The places a block has
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Extent {
    /// One for the machine
    Machine,
    /// One for each side
    Side,
    /// One for each of a numbered part, on each side
    Each(PartId),
}

impl Extent {
    /// Seen from a place, the own place of a block with this extent: that place, or the wider one that holds it
    pub fn seen_from(self, place: &Place) -> Place {
        match self {
            Extent::Machine => Place::Machine,
            Extent::Side => Place::of(place.side()),
            Extent::Each(_) => place.clone(),
        }
    }
}
