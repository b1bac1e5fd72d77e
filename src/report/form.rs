//! Forms that a report can be had in: they lay out what is told, and decide nothing. JSON is no form of the sentences: `report.rs`
//! writes it from the record.

#[cfg(feature = "page")]
pub mod html;
pub mod markdown;
mod nest;
pub mod sarif;
pub mod text;
#[cfg(feature = "page")]
pub mod verified;
