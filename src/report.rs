//! Everything a reader may be told, in the forms he can have it in; no form computes a number.

pub mod assess;
pub mod balance;
pub mod batch;
pub mod curve;
pub mod diagnosis;
pub mod document;
pub mod drawn;
pub mod entry;
pub mod explain;
pub mod export;
pub mod field;
pub mod page;
pub mod picture;
pub mod plan;
pub mod problems;
pub mod robust;
pub mod sarif;
pub mod schema;
pub mod since;
pub mod gate;
pub mod graph;
pub mod html;
pub mod left;
pub mod opinion;
pub mod shown;
pub mod text;
pub mod told;
pub mod trend;
pub mod trial;
pub mod verified;
pub mod why;
pub mod words;

use serde::Serialize;

/// Any report as JSON, with a line end behind it
///
/// # Errors
/// When the library that writes JSON fails, which it does not for the reports of this program.
pub fn json(report: &impl Serialize) -> Result<String, serde_json::Error> {
    Ok(serde_json::to_string_pretty(report)? + "\n")
}

/// Any report as JSON on one line, with a line end behind it
///
/// # Errors
/// As for [`json`].
pub fn json_line(report: &impl Serialize) -> Result<String, serde_json::Error> {
    Ok(serde_json::to_string(report)? + "\n")
}
