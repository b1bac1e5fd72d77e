//! In which order the jobs of one visit are done.
//!
//! It goes by what the rules let tell: a look by its clause (`finds out`), never by a word of its label; what is mended first
//! by which brings which about. A repair that begins with a look has no such clause: it must not go before what the machine
//! stands for.

use crate::model::{Hidden, Model, Remedy};
use crate::place::within;
use crate::plan::prices::UNITS_AN_HOUR;
use crate::plan::record::{Call, Job, When};
use std::cmp::Ordering;

/// How many times its labour work may cost at most to count as setting: bolts and shims, but no parts (estimate)
const SETTING_UP_TO: f64 = 1.5;
/// Hours under which a setting is done last of all: sag, grease, bolts (common practice)
const LAST_UNDER: f64 = 2.0;

/// What sort of work a job is, in the order in which to do it
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
enum Sort {
    /// Finds out what is wrong at a place, which may change what is mended there
    Look,
    /// Takes parts, and undoes what was set before; or is so urgent that the machine stands for it
    Repair,
    /// Brings what is there into its right place
    Setting,
    /// The same in a short time, which any other work undoes
    Last,
}

/// The jobs in the order in which to do them: looks, then repairs, then what is set, since repairs undo it.
///
/// Among these what brings something about is mended before what it brings about. Otherwise the most urgent comes first;
/// short settings, such as that of the sag, come last, the shortest at the end (common practice).
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

/// Whether a remedy sets what is there right, and takes no parts
pub fn is_setting(remedy: &Remedy) -> bool {
    let labour = remedy.hours * UNITS_AN_HOUR;
    remedy.renews.is_empty() && remedy.costs.is_none_or(|costs| costs <= SETTING_UP_TO * labour)
}

fn sort(model: &Model, job: &Job) -> Sort {
    let remedy = &model[job.remedy];
    if remedy.finds_out {
        Sort::Look
    } else if job.when == When::Now {
        Sort::Repair
    } else if is_setting(remedy) && remedy.hours < LAST_UNDER {
        Sort::Last
    } else if is_setting(remedy) {
        Sort::Setting
    } else {
        Sort::Repair
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
