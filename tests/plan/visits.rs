//! Visits against every way there is to lay jobs into visits.

use pinboss::plan::visits::{Schedule, Task, Work, schedule};
use proptest::prelude::*;

/// Cost of doing some jobs in these visits (a number for each job), each job by its own latest hour
fn cost(task: &Task, jobs: &[usize], visits: &[usize], latest: &[f64]) -> f64 {
    let mut total: f64 = jobs.iter().map(|job| task.jobs[*job].cost).sum();
    for visit in 0..jobs.len() {
        let here: Vec<usize> =
            jobs.iter().zip(visits).filter(|(_, own)| **own == visit).map(|(job, _)| *job).collect();
        if here.is_empty() {
            continue;
        }
        let at = here.iter().map(|job| latest[*job]).fold(f64::INFINITY, f64::min);
        let set_ups =
            (0..task.set_ups.len()).filter(|it| here.iter().any(|job| task.jobs[*job].set_up == Some(*it)));
        total += task.visit + set_ups.map(|it| task.set_ups[it]).sum::<f64>();
        total += here.iter().map(|job| task.jobs[*job].per_hour * (task.jobs[*job].due - at)).sum::<f64>();
    }
    total
}

/// The least cost over every set partition of the jobs that are done, and every way of sparing the others
fn by_force(task: &Task) -> f64 {
    let count = task.jobs.len();
    let mut best = f64::INFINITY;
    let mut by: Vec<Option<usize>> = vec![None; count];
    loop {
        let allowed = by.iter().enumerate().all(|(job, other)| {
            other.is_none_or(|other| task.spared.contains(&(job, other)) && by[other].is_none())
        });
        if allowed {
            let latest: Vec<f64> = (0..count)
                .map(|job| {
                    let spared = (0..count).filter(|other| by[*other] == Some(job));
                    spared.map(|other| task.jobs[other].due).fold(task.jobs[job].due, f64::min)
                })
                .collect();
            let jobs: Vec<usize> = (0..count).filter(|job| by[*job].is_none()).collect();
            partitions(jobs.len(), &mut |visits| best = best.min(cost(task, &jobs, visits, &latest)));
        }
        // The next choice of what spares what, as a counter with `count + 1` digits' values.
        let next = (0..count).find(|job| by[*job] != Some(count - 1));
        let Some(next) = next else { break };
        by[next] = Some(by[next].map_or(0, |other| other + 1));
        by[..next].iter_mut().for_each(|slot| *slot = None);
    }
    best
}

/// Every set partition, each job told by the number of its visit
fn partitions(count: usize, each: &mut impl FnMut(&[usize])) {
    fn grow(visits: &mut Vec<usize>, count: usize, each: &mut impl FnMut(&[usize])) {
        if visits.len() == count {
            each(visits);
            return;
        }
        let new = visits.iter().max().map_or(0, |most| most + 1);
        for visit in 0..=new {
            visits.push(visit);
            grow(visits, count, each);
            visits.pop();
        }
    }
    grow(&mut Vec::new(), count, each);
}

fn work() -> impl Strategy<Value = Work> {
    let due = prop_oneof![Just(0.0), (1..12_u32).prop_map(|it| f64::from(it) * 50.0)];
    let per_hour = prop_oneof![Just(0.0), 0.01..3.0];
    (due, 0.0..2000.0, per_hour, prop::option::of(0..3_usize))
        .prop_map(|(due, cost, per_hour, set_up)| Work { due, cost, per_hour, set_up })
}

/// Jobs in which an earlier number may spare a later one, with whatever that spares
fn task(most: usize) -> impl Strategy<Value = Task> {
    let jobs = prop::collection::vec(work(), 0..=most);
    let spares = prop::collection::vec(any::<[bool; 3]>(), most * most);
    (jobs, prop::collection::vec(0.0..400.0, 3), 0.0..600.0, spares).prop_map(
        move |(jobs, set_ups, visit, spares)| {
            let count = jobs.len();
            let mut spared = Vec::new();
            for job in 0..count {
                for other in 0..job {
                    // One pair in eight.
                    if spares[job * most + other] == [true; 3] {
                        spared.push((job, other));
                    }
                }
            }
            for middle in 0..count {
                for job in 0..count {
                    for other in 0..count {
                        let through = spared.contains(&(job, middle)) && spared.contains(&(middle, other));
                        if through && !spared.contains(&(job, other)) {
                            spared.push((job, other));
                        }
                    }
                }
            }
            Task { jobs, set_ups, visit, spared }
        },
    )
}

/// The cost of a schedule reckoned anew from when its jobs are done
fn again(task: &Task, found: &Schedule) -> f64 {
    let jobs: Vec<usize> = (0..task.jobs.len()).filter(|job| found.at[*job].is_some()).collect();
    let mut times: Vec<f64> = found.at.iter().copied().flatten().collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    let visits: Vec<usize> =
        jobs.iter().map(|job| times.iter().position(|time| found.at[*job] == Some(*time)).unwrap()).collect();
    let at: Vec<f64> = found.at.iter().map(|at| at.unwrap_or(0.0)).collect();
    cost(task, &jobs, &visits, &at)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn nothing_is_cheaper(task in task(5)) {
        let found = schedule(&task);
        prop_assert!(found.exact);
        let least = by_force(&task);
        prop_assert!((found.cost - least).abs() < 1e-6, "{} against {least}", found.cost);
    }

    #[test]
    fn no_job_comes_too_late_and_the_cost_is_that_of_the_schedule(task in task(9)) {
        let found = schedule(&task);
        for (job, at) in found.at.iter().enumerate() {
            match (at, found.by[job]) {
                (Some(at), None) => prop_assert!(*at <= task.jobs[job].due),
                (None, Some(by)) => {
                    prop_assert!(task.spared.contains(&(job, by)));
                    prop_assert!(found.at[by].unwrap() <= task.jobs[job].due);
                }
                other => prop_assert!(false, "{other:?}"),
            }
        }
        prop_assert!((found.cost - again(&task, &found)).abs() < 1e-6);
    }

    /// Life used up by the end being paid for, work due sooner never costs less
    #[test]
    fn work_due_sooner_is_never_cheaper(task in task(7), which in any::<prop::sample::Index>(), sooner in 0.0..400.0) {
        prop_assume!(!task.jobs.is_empty());
        let reckoned = |task: &Task| {
            schedule(task).cost + task.jobs.iter().map(|it| it.per_hour * (1000.0 - it.due)).sum::<f64>()
        };
        let which: usize = which.index(task.jobs.len());
        let mut later: Task = task.clone();
        later.spared.clear();
        let mut worse: Task = later.clone();
        let sooner: f64 = worse.jobs[which].due - sooner;
        worse.jobs[which].due = sooner.max(0.0);
        prop_assert!(reckoned(&worse) >= reckoned(&later) - 1e-6);
    }
}

#[test]
fn so_much_work_that_not_all_is_tried_is_laid_all_the_same() {
    let jobs = (0..40).map(|number| Work {
        due: 25.0 * f64::from(number),
        cost: 100.0,
        per_hour: 1.0,
        set_up: Some(number as usize % 3),
    });
    let task = Task { jobs: jobs.collect(), set_ups: vec![50.0; 3], visit: 100.0, spared: Vec::new() };
    let found = schedule(&task);
    assert!(!found.exact);
    assert!(found.at.iter().zip(&task.jobs).all(|(at, work)| at.unwrap() <= work.due));
}

#[test]
fn a_set_up_shared_draws_a_job_forward_just_as_far_as_it_saves() {
    let at = |due: f64| {
        let jobs = vec![
            Work { due: 100.0, cost: 0.0, per_hour: 0.0, set_up: Some(0) },
            Work { due, cost: 0.0, per_hour: 1.0, set_up: Some(0) },
        ];
        let task = Task { jobs, set_ups: vec![80.0], visit: 120.0, spared: Vec::new() };
        schedule(&task).at[1]
    };
    assert_eq!(at(299.0), Some(100.0));
    assert_eq!(at(301.0), Some(301.0));
}
