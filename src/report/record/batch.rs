//! What is told of one case among many: one line of JSON.
//!
//! A result names its rules, its line and what was asked for (digests and `asked`), so that `batch --resume` can tell whether a
//! file belongs to this run.

use crate::report::record::chance::Chance;
use crate::report::record::{diagnosis, evidence};
use crate::report::rules::problems;
use serde::{Deserialize, Serialize};

/// What is told of a case; one without an answer has a problem that says why
#[derive(Debug, Serialize)]
pub struct Line {
    /// Number of the line the case stood on, or of its file in the folder, from 1
    pub line: u64,
    /// Its file, where each case has one of its own
    #[serde(skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// What the case is called; none when it could not be read
    #[serde(skip_serializing_if = "Option::is_none")]
    pub case: Option<String>,
    /// What its people call the machine; none when it could not be read
    #[serde(skip_serializing_if = "Option::is_none")]
    pub machine: Option<String>,
    /// Digest of the rules used
    pub rules_digest: String,
    /// Digest of the line, or of the case file
    pub case_digest: String,
    /// What was asked for, so that results of another call are told apart
    pub asked: Asked,
    /// What came out
    #[serde(flatten)]
    pub answer: Option<Answer>,
    /// What is wrong with the case, or why it could not be weighed
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub problems: Vec<problems::Line>,
    /// A fault of the program itself, for which the case has no answer
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fault: Option<String>,
}

/// What is asked of every case
#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Serialize)]
pub struct Asked {
    /// Causes are told whose probability is at least this, from 0 to 1
    pub over: f64,
    /// Causes are told whole, with their reasons
    pub reasons: bool,
    /// What to look at next is told
    pub next: bool,
    /// Seconds of work allowed where the findings are too entangled for exact figures
    pub budget: f64,
}

/// What came out of weighing a case
#[derive(Debug, Serialize)]
pub struct Answer {
    /// Causes, likeliest first
    pub causes: Vec<Cause>,
    /// Natural logarithm of the probability of all findings; none where it is not exact
    pub log_evidence: Option<f64>,
    /// What it lies between where it is not exact
    #[serde(skip_serializing_if = "Option::is_none")]
    pub log_evidence_between: Option<[f64; 2]>,
    /// Checks in the order in which to do them, where they are asked for
    #[serde(skip_serializing_if = "Option::is_none")]
    pub next_checks: Option<Vec<evidence::NextCheck>>,
}

/// A cause, briefly or whole
#[derive(Debug, Serialize)]
#[serde(untagged)]
pub enum Cause {
    /// Its chances
    Brief(Brief),
    /// All that a diagnosis tells of it
    Whole(Box<diagnosis::Cause>),
}

/// The chances of a cause
#[derive(Debug, Serialize)]
pub struct Brief {
    /// Its name in the rules
    pub id: String,
    /// Where
    pub place: String,
    /// Probability before anything was seen
    pub prior: f64,
    /// Probability given all findings
    #[serde(flatten)]
    pub chance: Chance,
    /// Its likeliest form, where it has several
    #[serde(skip_serializing_if = "Option::is_none")]
    pub form: Option<diagnosis::Form>,
}

impl From<diagnosis::Cause> for Brief {
    fn from(cause: diagnosis::Cause) -> Self {
        let diagnosis::Cause { id, place, prior, chance, form, .. } = cause;
        Brief { id, place, prior, chance, form }
    }
}
