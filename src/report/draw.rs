//! Pictures: tracks from the side, wear over hours, opinions, and graphs of what hangs on what.

pub mod curve;
pub mod field;
#[cfg(feature = "graph")]
pub mod graph;
pub mod markup;
pub mod opinion;
pub mod picture;
#[cfg(feature = "page")]
pub mod track;
