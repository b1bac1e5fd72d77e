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
pub mod record;
pub mod running;
pub mod standstill;
pub mod swing;
pub mod turn;
pub mod visits;
pub mod ways;

pub use record::{Plan, Visit};

use crate::ground::Ground;
use crate::invariant::Hold;
use crate::model::{Model, Setting};
use crate::place::{Place, within};
use crate::plan::jobs::Planner;
use crate::plan::prices::Terms;
use crate::plan::record::{Call, Job, Priced, Shared, Suspected, Unpriced, Watched};
use crate::plan::visits::{Schedule, Task, Work, schedule};
use crate::reason::Ranks;
use crate::wear::Worn;

/// Plans the work on a machine.
///
/// A remedy is proposed where the chance of what it fixes times the loss if left exceeds its cost, where a condition it
/// fixes is over 50 %, or where a part it renews is past its figure or comes to it within [`Terms::horizon`]. What
/// nothing seen speaks for is left alone: a chance that stands where it stood before anything was seen calls for a look,
/// not for work.
pub fn plan(model: &Model, ground: &Ground, ranks: Ranks<'_>, worn: &[Worn], terms: &Terms) -> Plan {
    let mut turns = turn::turns(model, ground, worn, terms);
    let planner = Planner { model, ground, ranks, worn, terms, turns: &turns };
    let (jobs, mut watched) = planner.jobs();
    let jobs = either::settle(model, jobs, &turns, terms);
    let (on_site, jobs) = apart(model, planner.with_what_goes_along(jobs));
    let set_ups = set_ups(&jobs);
    let schedule = schedule(&task(model, &jobs, &set_ups, terms));
    let mut visits = laid(model, &jobs, &set_ups, &schedule, terms);
    let on_site = left_on_site(model, on_site, &mut visits);
    for visit in &mut visits {
        visit.at_meter = ground.machine.hours.map(|hours| hours + visit.at);
    }
    either::needless(model, &mut turns, visits.iter().flat_map(|visit| &visit.jobs));
    let planned = visits.iter_mut().flat_map(|visit| &mut visit.jobs);
    either::mark_undecided(model, planned, &turns);
    watched.extend(running::watched(model, ground, worn, terms, &visits));
    let used: f64 = jobs.iter().map(|job| job.per_hour() * (terms.end() - job.due)).sum();
    let site: f64 = on_site.iter().map(|job| job.cost).sum();
    let mut plan = Plan {
        currency: terms.currency.clone(),
        horizon: terms.horizon,
        visit_costs: terms.visit,
        hour_stands: terms.standing,
        cost: visits.iter().map(|visit| visit.cost).sum::<f64>() + site,
        exact: schedule.exact,
        running: running::running(model, ground, worn, &visits, &turns),
        turns,
        unpriced: Unpriced::default(),
        misfit: ground.misfit.clone(),
        bounded: false,
        watched,
        reckoned: schedule.cost + site + used,
        on_site,
        visits,
    };
    plan.unpriced =
        Unpriced { by_rules: labels(&plan, Priced::Rules), by_hours: labels(&plan, Priced::Hours) };
    plan.bounded = is_bounded(&plan);
    plan
}

/// What is done on site, and the work of visits without what that makes needless before it is due
fn apart(model: &Model, jobs: Vec<Job>) -> (Vec<Job>, Vec<Job>) {
    let (mut on_site, jobs): (Vec<Job>, Vec<Job>) =
        jobs.clone().into_iter().partition(|job| model[job.remedy].on_site && !is_undone(model, job, &jobs));
    let mut left = Vec::new();
    for job in jobs {
        match on_site.iter_mut().find(|by| by.due <= job.due && makes_needless(model, by, &job)) {
            Some(by) => by.instead_of.push(job.named),
            None => left.push(job),
        }
    }
    (on_site, left)
}

/// What is left to do on site, what is due first at the front: not what the work of visits, or other work there, makes needless
/// before it is due, which is named with that
fn left_on_site(model: &Model, mut on_site: Vec<Job>, visits: &mut [Visit]) -> Vec<Job> {
    for job in on_site.clone() {
        let before = visits.iter_mut().filter(|visit| visit.at <= job.due).flat_map(|visit| &mut visit.jobs);
        let mut others = before.chain(on_site.iter_mut().filter(|by| by.due <= job.due));
        if let Some(by) = others.find(|by| makes_needless(model, by, &job)) {
            by.instead_of.push(job.named.clone());
            on_site.retain(|it| it.named != job.named);
        }
    }
    on_site.sort_by(|a, b| a.due.total_cmp(&b.due));
    on_site
}

/// Whether a setting of one side is undone by repairs there that are due by then, so that it is done last among them
fn is_undone(model: &Model, job: &Job, all: &[Job]) -> bool {
    let repairs = |other: &Job| {
        let remedy = &model[other.remedy];
        !remedy.on_site && remedy.sets_right.is_none() && !remedy.finds_out
    };
    matches!(job.named.place, Place::Side(_))
        && model[job.remedy].sets_right == Some(Setting::Last)
        && all.iter().any(|it| it.due <= job.due && it.named.place == job.named.place && repairs(it))
}

/// Whether one job makes another needless
fn makes_needless(model: &Model, by: &Job, job: &Job) -> bool {
    within(&job.named.place, &by.named.place) && either::spares(model, by.remedy).contains(&job.remedy)
}

/// Labels of the work whose cost is from one source, each once
fn labels(plan: &Plan, from: Priced) -> Vec<String> {
    let mut labels: Vec<String> = Vec::new();
    for job in plan.jobs().filter(|job| job.priced == from) {
        if !labels.contains(&job.named.label) {
            labels.push(job.named.label.clone());
        }
    }
    labels
}

/// Whether a chance that calls for work, or is watched, is known within bounds only
fn is_bounded(plan: &Plan) -> bool {
    let mut calls = plan.jobs().flat_map(|job| &job.calls);
    calls.any(|call| matches!(call, Call::Hidden(Suspected { within, .. }) if within.lower < within.upper))
        || plan
            .watched
            .iter()
            .any(|it| matches!(it, Watched::Hidden { suspected: Suspected { within, .. }, .. } if within.lower < within.upper))
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
    let spared = |job: &Job, by: &Job| makes_needless(model, by, job) && !stands(job, by);
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

/// The visits of a schedule
fn laid(model: &Model, jobs: &[Job], set_ups: &[Shared], schedule: &Schedule, terms: &Terms) -> Vec<Visit> {
    let mut times: Vec<f64> = schedule.at.iter().copied().flatten().collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    let visits = times.into_iter().map(|at| {
        let numbers = schedule.at.iter().enumerate().filter(|(_, own)| **own == Some(at));
        let done = numbers.map(|(number, _)| whole(jobs, schedule, number)).collect();
        let done = together(model, order::in_order(model, done));
        let saved = saved(&done, set_ups);
        let hours = done.iter().map(|job| job.hours).sum::<f64>() - saved;
        let cost = done.iter().map(|job| job.cost).sum::<f64>() - saved * terms.hour() + terms.visit;
        Visit { at, at_meter: None, hours, saved, cost, jobs: done }
    });
    visits.collect()
}

/// The jobs of a visit, each with the label of the state that it shares with others of them
fn together(model: &Model, mut done: Vec<Job>) -> Vec<Job> {
    let shared: Vec<Option<Shared>> = done.iter().map(|job| job.shares.clone()).collect();
    for job in &mut done {
        let own = job.shares.as_ref().filter(|_| shared.iter().filter(|it| **it == job.shares).count() > 1);
        job.together = own.map(|own| model[own.state].common.label.clone());
    }
    done
}

/// A job with all that it makes needless
fn whole(jobs: &[Job], schedule: &Schedule, number: usize) -> Job {
    let mut job = jobs.get(number).hold("a schedule is of the jobs at hand").clone();
    let spared = jobs.iter().zip(&schedule.by).filter(|(_, by)| **by == Some(number));
    spared.for_each(|(other, _)| job.takes_over(other));
    job
}

/// Hours saved because each set-up is made once
fn saved(done: &[Job], set_ups: &[Shared]) -> f64 {
    let of = |shared: &Shared| {
        let needing = done.iter().filter(|job| job.shares.as_ref() == Some(shared)).skip(1);
        needing.map(|_| shared.hours).sum::<f64>()
    };
    set_ups.iter().map(of).sum()
}
