//! In which order the jobs of one visit are done.
//!
//! It goes by what the rules tell: a look and a setting by their clauses (`finds out`, `sets right`), never by a word of a label
//! or by what they cost; what is mended first by which brings which about. A repair that begins with a look has no such clause: it must not go before what the machine
//! stands for.

use crate::model::{Hidden, Model, Setting};
use crate::place::within;
use crate::plan::record::{Call, Job, When};
use std::cmp::Ordering;

/// What sort of work a job is, in the order in which to do it
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
enum Sort {
    /// Finds out what is wrong at a place, which may change what is mended there
    Look,
    /// Takes parts, and undoes what was set before; or is so urgent that the machine stands for it
    Repair,
    /// Brings what is there into its right place
    Setting,
    /// The same, which any other work undoes
    Last,
}

/// The jobs in the order in which to do them: looks, then repairs, then what is set, since repairs undo it.
///
/// Among these what brings something about is mended before what it brings about. Otherwise the most urgent comes first;
/// settings that the rules put last, such as that of the sag, come last, the shortest at the end (common practice).
pub fn in_order(model: &Model, mut jobs: Vec<Job>) -> Vec<Job> {
    jobs.sort_by(|a, b| first(model, a, b));
    let mut ordered = Vec::new();
    while !jobs.is_empty() {
        let waits = |job: &Job| jobs.iter().any(|other| comes_before(model, other, job));
        // else: each waits for another, and the most urgent is done first
        let next = jobs.iter().position(|job| !waits(job)).unwrap_or(0);
        ordered.push(jobs.remove(next));
    }
    ordered
}

fn sort(model: &Model, job: &Job) -> Sort {
    let remedy = &model[job.remedy];
    match remedy.sets_right {
        _ if remedy.finds_out => Sort::Look,
        None => Sort::Repair,
        Some(_) if job.when == When::Now => Sort::Repair,
        Some(Setting::BehindRepairs) => Sort::Setting,
        Some(Setting::Last) => Sort::Last,
    }
}

fn first(model: &Model, a: &Job, b: &Job) -> Ordering {
    let sorts = (sort(model, a), sort(model, b));
    let urgency = || (a.when != When::Now).cmp(&(b.when != When::Now)).then(a.due.total_cmp(&b.due));
    let own = if sorts.0 == Sort::Last { b.hours.total_cmp(&a.hours) } else { urgency() };
    let names = || (&a.named.place, a.remedy).cmp(&(&b.named.place, b.remedy));
    sorts.0.cmp(&sorts.1).then(own).then_with(names)
}

/// Whether a job mends what brings about what another is for, and is of its sort
fn comes_before(model: &Model, a: &Job, b: &Job) -> bool {
    let causes = |a: &Job, b: &Job| hidden(b).any(|it| hidden(a).any(|own| brings_about(model, own, it)));
    sort(model, a) == sort(model, b)
        && (within(&a.named.place, &b.named.place) || within(&b.named.place, &a.named.place))
        && causes(a, b)
        && !causes(b, a)
}

fn hidden(job: &Job) -> impl Iterator<Item = Hidden> {
    job.calls.iter().filter_map(|call| match call {
        Call::Hidden(own) => Some(own.hidden),
        Call::Seen { .. } | Call::Worn { .. } => None,
    })
}

/// Whether one hidden thing can bring about another, by however many steps
pub fn brings_about(model: &Model, one: Hidden, other: Hidden) -> bool {
    let mut seen = vec![other];
    let mut open = vec![other];
    while let Some(next) = open.pop() {
        let Hidden::Condition(id) = next else { continue };
        for parent in model[id].lines.iter().flat_map(|line| &line.parents) {
            if parent.of == one {
                return true;
            }
            if !seen.contains(&parent.of) {
                seen.push(parent.of);
                open.push(parent.of);
            }
        }
    }
    false
}
