//! From causes and wear to work: what to do, by when, in which visits, what may run on, and whether to turn.
//!
//! `reckoned` is the figure that never falls when a machine gets worse, not the bill: a part that comes due together with
//! another saves a visit, so the bill can fall. It holds with a fixed end, since work done early is paid for by the life used
//! up until then. Two things are outside of it, both right: a turn that no longer pays, or comes too late, is not proposed.

pub mod either;
pub mod jobs;
pub mod order;
pub mod pace;
pub mod prices;
pub mod running;
pub mod turn;
pub mod visits;

use crate::ground::Ground;
use crate::model::{Model, RemedyId};
use crate::plan::jobs::{Job, Shared, Watched};
use crate::plan::prices::Terms;
use crate::plan::running::Running;
use crate::plan::turn::Turn;
use crate::plan::visits::{Schedule, Task, Work, schedule};
use crate::reason::Diagnosis;
use crate::wear::Worn;

/// What to do about one machine
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Visits, the first first; none where nothing is to be done
    pub visits: Vec<Visit>,
    /// Whether to turn what can be turned, place by place
    pub turns: Vec<Turn>,
    /// What was read and may run on, that which ends first at the front
    pub running: Vec<Running>,
    /// What is not worth doing yet
    pub watched: Vec<Watched>,
    /// Whether no cheaper way to lay the work into visits exists
    pub exact: bool,
    /// What all of it costs, in the money of the terms
    pub cost: f64,
    /// That, and the life of the new parts used up by [`Terms::end`]: of two machines the one with more worn parts or
    /// likelier causes is never the cheaper by this figure, since what is done early is paid for by what it uses up
    pub reckoned: f64,
}

/// Work done while the machine stands
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// Hours from now; 0 is now
    pub at: f64,
    /// What is done, in the order in which to do it
    pub jobs: Vec<Job>,
    /// Labour, hours, what is shared counted once
    pub hours: f64,
    /// Labour that is saved because work is done together, hours
    pub saved: f64,
    /// What the visit costs in all, its standing included
    pub cost: f64,
}

/// Plans the work on a machine.
///
/// A remedy is proposed where the chance of what it fixes times the loss if left exceeds its cost, where a condition it
/// fixes is over 50 %, or where a part it renews is past its figure or comes to it within [`Terms::horizon`]. What
/// nothing seen speaks for is left alone: a chance that stands where it stood before anything was seen calls for a look,
/// not for work.
pub fn plan(model: &Model, ground: &Ground, diagnosis: &Diagnosis, worn: &[Worn], terms: &Terms) -> Plan {
    let mut turns = turn::turns(model, ground, worn);
    let (jobs, mut watched) = jobs::jobs(model, ground, diagnosis, worn, terms, &turns);
    let jobs = either::settle(model, jobs, &turns, terms);
    let set_ups = set_ups(&jobs);
    let schedule = schedule(&task(model, &jobs, &set_ups, terms));
    let visits = laid(model, &jobs, &set_ups, &schedule, terms);
    either::needless(model, &mut turns, visits.iter().flat_map(|visit| &visit.jobs));
    watched.extend(running::watched(model, ground, worn, terms));
    let used: f64 = jobs.iter().map(|job| job.per_hour() * (terms.end() - job.due)).sum();
    Plan {
        running: running::running(model, ground, worn, &visits),
        turns,
        watched,
        exact: schedule.exact,
        cost: visits.iter().map(|visit| visit.cost).sum(),
        reckoned: schedule.cost + used,
        visits,
    }
}

/// Every set-up that any job needs
fn set_ups(jobs: &[Job]) -> Vec<Shared> {
    let mut all: Vec<Shared> = Vec::new();
    for shared in jobs.iter().filter_map(|job| job.shares.as_ref()) {
        if !all.contains(shared) {
            all.push(shared.clone());
        }
    }
    all
}

fn task(model: &Model, jobs: &[Job], set_ups: &[Shared], terms: &Terms) -> Task {
    let works = jobs.iter().map(|job| Work {
        due: job.due,
        cost: job.cost - job.shares.as_ref().map_or(0.0, |shared| shared.hours * terms.hour()),
        per_hour: job.per_hour(),
        set_up: job.shares.as_ref().and_then(|shared| set_ups.iter().position(|it| it == shared)),
    });
    // Whether to turn is decided by what must last, and not by drawing forward what would spare the turn.
    let stands = |job: &Job, by: &Job| by.due > job.due && !model[job.remedy].lasts.is_empty();
    let spared = |job: &Job, by: &Job| {
        crate::place::within(&job.place, &by.place)
            && spares(model, by.remedy).contains(&job.remedy)
            && !stands(job, by)
    };
    let pairs = jobs.iter().enumerate().flat_map(|(number, job)| {
        let others = jobs.iter().enumerate().filter(move |(other, by)| *other != number && spared(job, by));
        others.map(move |(other, _)| (number, other))
    });
    Task {
        jobs: works.collect(),
        set_ups: set_ups.iter().map(|shared| shared.hours * terms.hour()).collect(),
        visit: terms.visit,
        spared: pairs.collect(),
    }
}

/// What a remedy makes needless, and what that makes needless, and so on; never itself
pub fn spares(model: &Model, remedy: RemedyId) -> Vec<RemedyId> {
    let mut all: Vec<RemedyId> = Vec::new();
    let mut open = vec![remedy];
    while let Some(next) = open.pop() {
        for &spared in &model[next].spares {
            if spared != remedy && !all.contains(&spared) {
                all.push(spared);
                open.push(spared);
            }
        }
    }
    all
}

/// The visits of a schedule
fn laid(model: &Model, jobs: &[Job], set_ups: &[Shared], schedule: &Schedule, terms: &Terms) -> Vec<Visit> {
    let mut times: Vec<f64> = schedule.at.iter().copied().flatten().collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    let visits = times.into_iter().map(|at| {
        let numbers = schedule.at.iter().enumerate().filter(|(_, own)| **own == Some(at));
        let done = numbers.filter_map(|(number, _)| whole(jobs, schedule, number)).collect();
        let done = order::in_order(model, done);
        let saved = saved(&done, set_ups);
        let hours = done.iter().map(|job| job.hours).sum::<f64>() - saved;
        let cost = done.iter().map(|job| job.cost).sum::<f64>() - saved * terms.hour() + terms.visit;
        Visit { at, jobs: done, hours, saved, cost }
    });
    visits.collect()
}

/// A job with all that it makes needless
fn whole(jobs: &[Job], schedule: &Schedule, number: usize) -> Option<Job> {
    let mut job = jobs.get(number)?.clone();
    let spared = jobs.iter().zip(&schedule.by).filter(|(_, by)| **by == Some(number));
    spared.for_each(|(other, _)| job.takes_over(other));
    Some(job)
}

/// Hours saved because each set-up is made once
fn saved(done: &[Job], set_ups: &[Shared]) -> f64 {
    let of = |shared: &Shared| {
        let needing = done.iter().filter(|job| job.shares.as_ref() == Some(shared)).skip(1);
        needing.map(|_| shared.hours).sum::<f64>()
    };
    set_ups.iter().map(of).sum()
}
