//! What may be looked at on a machine that must stand until something is mended: nothing that takes a moving one, and nothing near
//! the danger that it stands for.

use super::record::{Plan, Verdict, When};
use crate::model::subject::Subject;
use crate::model::{Check, CheckId, Hazard, Model};
use crate::place::within;
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
    /// Checks near the danger that it stands for that are not listed, each once
    pub too_near: Vec<String>,
}

/// What to look at next
#[derive(Clone, Debug)]
pub struct Next {
    /// The checks and questions, in the order in which to do them
    pub checks: Vec<NextCheck>,
    /// Why the machine must stand, where it must, and what is not listed for that
    pub stands: Option<Standstill>,
}

/// The checks that may be done, and why not the others where the plan lets the machine not be worked; first those that read what
/// a decision on turning waits for where the part itself was read, since money hangs on it
pub fn allowed(model: &Model, plan: &Plan, checks: &[NextCheck]) -> Next {
    let decides = |check: &NextCheck| {
        let waiting = plan.turns.iter().filter(|turn| turn.verdict == Verdict::Open && turn.face.is_some());
        let wanted = waiting.flat_map(|turn| turn.unread.iter().map(move |it| (it, &turn.named.place)));
        let reads = |id: CheckId| {
            wanted.clone().any(|(it, place)| {
                let is_read = model[id].reads.iter().any(|own| model[*own].common.name == it.term.name);
                is_read && (within(place, &check.place) || within(&check.place, place))
            })
        };
        asked(check).is_some_and(reads)
    };
    let mut ordered = checks.to_vec();
    ordered.sort_by_key(|check| !decides(check));
    may_be_done(model, plan, ordered)
}

fn may_be_done(model: &Model, plan: &Plan, checks: Vec<NextCheck>) -> Next {
    let jobs = plan.jobs().filter(|job| job.when == When::Now);
    let mut because: Vec<Subject> = Vec::new();
    for subject in jobs.flat_map(|job| &job.calls).map(|call| call.named()) {
        if !because.contains(subject) {
            because.push(subject.clone());
        }
    }
    if because.is_empty() {
        return Next { checks, stands: None };
    }
    let (off, kept): (Vec<NextCheck>, Vec<NextCheck>) =
        checks.into_iter().partition(|check| takes_motion(model, check));
    let (near, kept): (Vec<NextCheck>, Vec<NextCheck>) =
        kept.into_iter().partition(|check| is_near(model, &because, check));
    let (taken_off, too_near) = (labels(model, &off), labels(model, &near));
    Next { checks: kept, stands: Some(Standstill { because, taken_off, too_near }) }
}

/// Labels of some checks, each once
fn labels(model: &Model, checks: &[NextCheck]) -> Vec<String> {
    let mut labels: Vec<String> = Vec::new();
    for id in checks.iter().filter_map(asked) {
        let label = &model[id].common.label;
        if !labels.contains(label) {
            labels.push(label.clone());
        }
    }
    labels
}

/// Whether a check has to do with a hazard that what the machine stands for tells of, at its place
fn is_near(model: &Model, because: &[Subject], check: &NextCheck) -> bool {
    let Some(own) = asked(check).map(|id| &model[id]) else { return false };
    let texts = || std::iter::once(&own.common.label).chain(&own.cautions);
    let here = |it: &&Subject| within(&it.place, &check.place) || within(&check.place, &it.place);
    let is_there =
        |hazard: &&Hazard| because.iter().filter(here).any(|it| hazard.named_in(&it.label).is_some());
    model.hazards.iter().filter(is_there).any(|hazard| texts().any(|text| hazard.named_in(text).is_some()))
}

fn asked(check: &NextCheck) -> Option<CheckId> {
    match check.what {
        What::Check(id) => Some(id),
        What::Tell(..) => None,
    }
}

/// Whether a check is done on a moving machine
pub fn is_moved(check: &Check) -> bool {
    check.access.as_deref() == Some(MOVED)
}

/// Whether a check is done on a moving machine, or after one has been moved for it
fn takes_motion(model: &Model, check: &NextCheck) -> bool {
    let moved = |id: CheckId| is_moved(&model[id]);
    asked(check).is_some_and(moved) || check.set_up.is_some_and(|set_up| moved(set_up.maker))
}
