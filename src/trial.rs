//! Cases tried against a set of rules: what strip-down showed and an instructor expects, held against what comes out.

pub mod claim;
pub mod exercised;
pub mod judge;
pub mod since;
pub mod true_cause;

use crate::case::Inspection;
use crate::reason::{self, Stop, Weighing};
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
    /// Place of each true cause among all causes, from 1; none for one that the given facts rule out
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

/// What is worked out of a case
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq)]
pub enum Extent {
    /// What its claims ask for
    #[default]
    Claims,
    /// The next checks besides
    Next,
}

/// How far the answers of a trial may go: as far for the next checks as for all else, since they are claimed
pub fn settings() -> reason::Settings {
    let settings = reason::Settings::default();
    reason::Settings { often: settings.limits.clone(), ..settings }
}

/// Tries one case, weighed as far as [`settings`] let it; nothing may be wrong with the case or the rules
///
/// # Errors
/// [`Stop`] when the findings cannot occur together, or couple too much for an exact answer.
pub fn run(weighing: &Weighing, inspection: &Inspection, extent: Extent) -> Result<Trial, Stop> {
    let (model, ground) = (weighing.model(), weighing.ground());
    let claims = claim::claims(model, inspection);
    let answers = judge::answers(weighing, &claims, extent)?;
    let verdicts = judge::judge(weighing, &claims, &answers)?;
    let places = true_cause::places(&claims, &answers);
    let exercised = exercised::by(model, ground, &claims, &answers);
    Ok(Trial { claims, verdicts, answers, places, exercised })
}
