//! Forms that a report can be had in: they lay out what is told, and decide nothing.

#[cfg(feature = "page")]
pub mod html;
pub mod markdown;
mod nest;
pub mod sarif;
pub mod text;
#[cfg(feature = "page")]
pub mod verified;
