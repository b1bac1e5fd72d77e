//! What may be looked at on a machine that must stand until something is mended: nothing that takes a moving one.

use super::record::{Plan, When};
use crate::model::subject::Subject;
use crate::model::{CheckId, Model};
use crate::reason::next::{NextCheck, What};
use serde::Serialize;

/// How a machine must stand for a check that moves it
const MOVED: &str = "moved";

/// Why a machine must stand, and what that takes off the list of checks
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Standstill {
    /// What calls for work without which the machine may not be worked
    pub because: Vec<Subject>,
    /// Checks with a moving machine that are not listed, each once
    pub taken_off: Vec<String>,
}

/// What to look at next
#[derive(Clone, Debug)]
pub struct Next {
    /// The checks and questions, in the order in which to do them
    pub checks: Vec<NextCheck>,
    /// Why the machine must stand, where it must, and what is not listed for that
    pub stands: Option<Standstill>,
}

/// The checks that may be done, and why not the others where the plan lets the machine not be worked
pub fn allowed(model: &Model, plan: &Plan, checks: &[NextCheck]) -> Next {
    let jobs = plan.visits.iter().flat_map(|visit| &visit.jobs).filter(|job| job.when == When::Now);
    let mut because: Vec<Subject> = Vec::new();
    for subject in jobs.flat_map(|job| &job.calls).map(|call| call.named()) {
        if !because.contains(subject) {
            because.push(subject.clone());
        }
    }
    if because.is_empty() {
        return Next { checks: checks.to_vec(), stands: None };
    }
    let (off, kept): (Vec<NextCheck>, Vec<NextCheck>) =
        checks.iter().cloned().partition(|check| takes_motion(model, check));
    let mut taken_off: Vec<String> = Vec::new();
    for id in off.iter().filter_map(asked) {
        let label = &model[id].common.label;
        if !taken_off.contains(label) {
            taken_off.push(label.clone());
        }
    }
    Next { checks: kept, stands: Some(Standstill { because, taken_off }) }
}

fn asked(check: &NextCheck) -> Option<CheckId> {
    match check.what {
        What::Check(id) => Some(id),
        What::Tell(..) => None,
    }
}

/// Whether a check is done on a moving machine, or after one has been moved for it
fn takes_motion(model: &Model, check: &NextCheck) -> bool {
    let moved = |id: CheckId| model[id].access.as_deref() == Some(MOVED);
    asked(check).is_some_and(moved) || check.set_up.is_some_and(|set_up| moved(set_up.maker))
}
