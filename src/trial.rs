//! Cases tried against a set of rules: what strip-down showed and an instructor expects, held against what comes out.

pub mod claim;
pub mod exercised;
pub mod judge;
pub mod since;
pub mod true_cause;

use crate::case::Inspection;
use crate::ground::Ground;
use crate::infer::Limits;
use crate::infer::information::Effort;
use crate::model::Model;
use crate::reason::Stop;
use crate::trial::claim::Claimed;
use crate::trial::exercised::Exercised;
use crate::trial::judge::{Answers, Verdict};

/// What came of one case
#[derive(Clone, Debug)]
pub struct Trial {
    /// Everything that the case claims
    pub claims: Vec<Claimed>,
    /// For each claim whether it holds, in the same order
    pub verdicts: Vec<Verdict>,
    /// What came out
    pub answers: Answers,
    /// Place of each true cause among all causes, from 1; none for one that the facts told rule out
    pub places: Vec<Option<usize>>,
    /// What of the rules the case exercises
    pub exercised: Exercised,
}

impl Trial {
    /// True when everything claimed holds
    pub fn holds(&self) -> bool {
        self.verdicts.iter().all(|verdict| verdict.holds)
    }
}

/// How hard to try
#[derive(Clone, Debug, Default)]
pub struct Settings {
    /// Width up to which inference is exact
    pub limits: Limits,
    /// Outcomes and draws of the worth of checks
    pub effort: Effort,
    /// Reckon the next checks although the case claims nothing of them
    pub next: bool,
}

/// Tries one case; nothing may be wrong with the case or the rules
///
/// # Errors
/// [`Stop`] when the findings cannot occur together, or couple too much for an exact answer.
pub fn run(
    model: &Model,
    inspection: &Inspection,
    ground: &Ground,
    settings: &Settings,
) -> Result<Trial, Stop> {
    let claims = claim::claims(model, inspection);
    let answers = judge::answers(model, ground, &claims, settings)?;
    let verdicts = judge::judge(model, ground, &claims, &answers, settings)?;
    let places = true_cause::places(&claims, &answers);
    let exercised = exercised::by(model, ground, &claims, &answers);
    Ok(Trial { claims, verdicts, answers, places, exercised })
}
