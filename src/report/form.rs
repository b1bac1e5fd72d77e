//! Forms that a report can be had in: they lay out what is told, and decide nothing.

pub mod html;
pub mod sarif;
pub mod verified;
