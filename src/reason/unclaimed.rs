//! Signs of trouble that no likely cause accounts for.
//!
//! A fault that is seen or read is a fault, whether or not its cause is known: what stands here is told by itself, with the work
//! it calls for and the look that would find its cause.

use super::Diagnosis;
use super::fit::is_ordinary;
use super::next::{NextCheck, Shift, What};
use crate::ground::mended;
use crate::ground::{Ground, Observation};
use crate::model::Model;
use crate::network::NodeId;

/// Probability from which a cause accounts for what it can bring about: it is rather there than not
const LIKELY: f64 = 0.5;

impl Diagnosis {
    /// Abnormal observations, by number, that no likely cause can have brought about; not those that many sound machines of
    /// such age and ground show, unless a remedy mends them by themselves
    pub fn unclaimed(&self, model: &Model, ground: &Ground) -> Vec<usize> {
        let likely: Vec<NodeId> =
            self.causes.iter().filter(|cause| cause.within.lower >= LIKELY).map(|cause| cause.node).collect();
        let is_one = |own: &Observation| {
            let fault = !is_ordinary(ground, own) || mended::is_fault(model, own);
            let above = || ground.network.ancestors(&[own.node]);
            own.grade != 0 && fault && !above().iter().any(|node| likely.contains(node))
        };
        let all = ground.observations.iter().enumerate();
        all.filter(|(_, own)| is_one(own)).map(|(number, _)| number).collect()
    }
}

/// The check that for its minutes moves most the causes which can have brought an observation about: how far each outcome moves
/// them, by its chance
pub fn look_for<'c>(ground: &Ground, own: &Observation, checks: &'c [NextCheck]) -> Option<&'c NextCheck> {
    let above = ground.network.ancestors(&[own.node]);
    let moved = |shift: &&Shift| above.contains(&shift.node);
    let worth = |check: &NextCheck| {
        let outcomes = check.outcomes.iter().map(|outcome| {
            let far = outcome.shifts.iter().filter(moved).map(|shift| (shift.to - shift.from).abs());
            outcome.chance * far.sum::<f64>()
        });
        outcomes.sum::<f64>() / check.all_minutes()
    };
    let looks = checks.iter().filter(|check| matches!(check.what, What::Check(_)));
    let best = looks.max_by(|a, b| worth(a).total_cmp(&worth(b)));
    best.filter(|check| worth(check) > 0.0)
}
