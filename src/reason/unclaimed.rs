//! Signs of trouble that no likely cause accounts for.
//!
//! A fault that is seen or read is a fault, whether or not its cause is known: what stands here is told by itself, with the work
//! it calls for and the look that would find its cause.

use super::Diagnosis;
use super::fit::is_ordinary;
use super::next::{NextCheck, What};
use crate::ground::mended;
use crate::ground::{Ground, Observation, Origin};
use crate::model::{CheckId, Model, SymptomId};
use crate::network::NodeId;
use crate::place::{Place, within};

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

/// The first of the checks that shows something else which a cause of this observation brings about
pub fn look_for<'c>(
    model: &Model,
    ground: &Ground,
    own: &Observation,
    checks: &'c [NextCheck],
) -> Option<&'c NextCheck> {
    let causes = |of: &[NodeId]| {
        let above = ground.network.ancestors(of);
        above.into_iter().filter(|node| matches!(ground.origin(*node), Some(Origin::Cause(..))))
    };
    let wanted: Vec<NodeId> = causes(&[own.node]).collect();
    checks.iter().find(|check| {
        let What::Check(id) = check.what else { return false };
        let shown: Vec<NodeId> = shown(model, ground, id, &check.place);
        causes(&shown).any(|node| wanted.contains(&node))
    })
}

/// The nodes of what a check shows at a place
fn shown(model: &Model, ground: &Ground, id: CheckId, place: &Place) -> Vec<NodeId> {
    let of = |symptom: &SymptomId| {
        let places = ground.machine.places(model, model[*symptom].effect.common.extent);
        let here = places.into_iter().filter(|own| within(own, place));
        here.filter_map(|own| ground.node(&Origin::Symptom(*symptom, own))).collect::<Vec<_>>()
    };
    model[id].shows.iter().flat_map(of).collect()
}
