//! Everything a reader may be told, in the forms he can have it in; no form computes a number.

pub mod draw;
pub mod extent;
pub mod form;
pub mod prose;
pub mod record;
pub mod rules;
pub mod tell;
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
