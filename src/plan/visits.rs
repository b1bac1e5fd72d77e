//! Which work goes into which visit: the cheapest way, exactly.
//!
//! A job may be done earlier than it is due, never later. A visit costs its standing; work of one visit that needs the
//! same set-up has it once; an hour by which a job is done before its time throws some of a part's life away.
//!
//! Visits are exact although jobs share set-ups. Jobs shared over states of the rules (`while`) and jobs made needless
//! (`spares`) are the two things the rules had to say; pairs with savings would have counted a track parted for three jobs
//! twice.

use crate::invariant::Hold;
use std::collections::BTreeMap;

/// Most times of visits looked at; past it dues that lie closest are taken as one
const MOST_TIMES: usize = 12;
/// Most ways of sparing jobs gone through; past it the remaining ones are not considered
const MOST_CHOICES: usize = 64;

/// A job to be put into a visit
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Work {
    /// Hours from now by which it is due, at least 0
    pub due: f64,
    /// What it costs by itself, set-up left out; at least 0
    pub cost: f64,
    /// What an hour of life thrown away costs, at least 0
    pub per_hour: f64,
    /// The set-up it needs, by number
    pub set_up: Option<usize>,
}

/// Everything the visits are planned from
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Task {
    /// The jobs
    pub jobs: Vec<Work>,
    /// What each set-up costs, at least 0
    pub set_ups: Vec<f64>,
    /// What a visit costs, at least 0
    pub visit: f64,
    /// `(spared, by)`: the first job is needless once the second is done by the time the first is due; whatever makes
    /// the second needless must make the first needless too
    pub spared: Vec<(usize, usize)>,
}

/// When each job is done
#[derive(Clone, Debug, PartialEq)]
pub struct Schedule {
    /// Hours from now of each job's visit; none for a job that another makes needless
    pub at: Vec<Option<f64>>,
    /// The job that makes each needless one so
    pub by: Vec<Option<usize>>,
    /// Cost of all jobs, visits and set-ups, and of the life thrown away
    pub cost: f64,
    /// Whether no cheaper way exists; false only past the bounds on size, where some ways were not looked at
    pub exact: bool,
}

/// The cheapest schedule; of several the one that spares fewest jobs, and then the one with its visits soonest.
///
/// Exact, because only these ways can be cheapest, and all of them are looked at:
///
/// - The time of a visit can be moved on, at no cost, to the first due of its jobs; so all visits lie at dues, and one
///   at the very first. Every set of dues that holds the first is tried.
/// - Once it is known when there are visits, set-ups have nothing to do with one another. Once it is known in which
///   visits a set-up is made, each job that needs it goes into the last of them that is not too late for it. Which
///   visits those are is found by dynamic programming over the dues: what is best behind a visit hangs on no earlier one.
/// - A job that another spares without being done any earlier is left out, which can only save. Every other choice of
///   sparing is tried, the sparing job then being done by the time the spared one is due.
///
/// The work doubles with each further due and grows with the square of the number of jobs; past 12 different dues those
/// closest together are taken as one, the earlier, and past 64 choices of sparing the rest is left undone: what comes
/// out can then be done, and [`Schedule::exact`] says that it may not be the cheapest.
pub fn schedule(task: &Task) -> Schedule {
    let (choices, mut exact) = choices(task);
    let mut best: Option<Schedule> = None;
    for by in choices {
        let found = placed(task, &by);
        exact &= found.exact;
        if best.as_ref().is_none_or(|best| found.cost < best.cost - 1e-9) {
            best = Some(found);
        }
    }
    let mut best = best.hold("one of the choices is to spare no job but at its own due");
    best.exact = exact;
    best
}

/// Every way of sparing jobs that can be cheapest, each as the job by which each is spared, and whether these are all
fn choices(task: &Task) -> (Vec<Vec<Option<usize>>>, bool) {
    let due = |job: usize| task.jobs.get(job).map_or(0.0, |work| work.due);
    let mut first: Vec<Option<usize>> = vec![None; task.jobs.len()];
    for &(spared, other) in task.spared.iter().filter(|(spared, other)| due(*other) <= due(*spared)) {
        spare(&mut first, spared, other);
    }
    let mut all = vec![first];
    for &(spared, other) in &task.spared {
        let with = all.iter().filter_map(|by| {
            let mut by = by.clone();
            spare(&mut by, spared, other).then_some(by)
        });
        let with: Vec<_> = with.collect();
        if all.len() + with.len() > MOST_CHOICES {
            return (all, false);
        }
        all.extend(with);
    }
    (all, true)
}

/// Spares a job by another where both are still to be done; whether it did
fn spare(by: &mut [Option<usize>], spared: usize, other: usize) -> bool {
    let stands = spared != other && by.get(other) == Some(&None) && by.get(spared) == Some(&None);
    if stands && let Some(slot) = by.get_mut(spared) {
        *slot = Some(other);
    }
    stands
}

/// A job to be done, with the latest hour at which that does all it is to do
#[derive(Clone, Copy)]
struct Placed {
    job: usize,
    work: Work,
    latest: f64,
}

/// The cheapest schedule for one way of sparing jobs
fn placed(task: &Task, by: &[Option<usize>]) -> Schedule {
    let kept = kept(task, by);
    let mut times: Vec<f64> = kept.iter().map(|it| it.latest).collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    let exact = thin(&mut times);
    let mut groups: BTreeMap<Option<usize>, Vec<Placed>> = BTreeMap::new();
    for it in &kept {
        groups.entry(it.work.set_up).or_default().push(*it);
    }
    let groups: Vec<Group> = groups
        .into_iter()
        .map(|(set_up, jobs)| Group::new(&jobs, set_up.and_then(|it| task.set_ups.get(it)), &times))
        .collect();
    let (visits, cost) = cheapest(&groups, times.len(), task.visit);
    let mut at: Vec<Option<f64>> = vec![None; task.jobs.len()];
    for (job, visit) in groups.iter().flat_map(|group| group.visits(&visits)) {
        at.get_mut(job).into_iter().for_each(|slot| *slot = times.get(visit).copied());
    }
    let own: f64 = kept.iter().map(|it| it.work.cost).sum();
    Schedule { at, by: (0..by.len()).map(|job| root(by, job)).collect(), cost: own + cost, exact }
}

/// The jobs that are done, each no later than whatever it spares
fn kept(task: &Task, by: &[Option<usize>]) -> Vec<Placed> {
    let jobs = task.jobs.iter().enumerate().filter(|(job, _)| by.get(*job) == Some(&None));
    jobs.map(|(job, work)| {
        let spared = task.jobs.iter().enumerate().filter(|(other, _)| root(by, *other) == Some(job));
        let latest = spared.map(|(_, other)| other.due).fold(work.due, f64::min);
        Placed { job, work: *work, latest }
    })
    .collect()
}

/// The job to be done that spares another in the end; none for one that is done itself
fn root(by: &[Option<usize>], job: usize) -> Option<usize> {
    let mut found = *by.get(job)?;
    while let Some(next) = found.and_then(|other| by.get(other).copied().flatten()) {
        found = Some(next);
    }
    found
}

/// Takes out times until there are few enough, each that which lies closest behind the one before; whether none was
fn thin(times: &mut Vec<f64>) -> bool {
    let exact = times.len() <= MOST_TIMES;
    while times.len() > MOST_TIMES {
        let gaps = times.iter().zip(times.iter().skip(1)).map(|(before, after)| after - before).enumerate();
        let Some((closest, _)) = gaps.min_by(|a, b| a.1.total_cmp(&b.1)) else { break };
        times.remove(closest + 1);
    }
    exact
}

/// Jobs that need the same set-up, or none
struct Group {
    /// What the set-up costs
    set_up: f64,
    /// The jobs, each with the last time that is not too late for it, by number
    jobs: Vec<(usize, usize)>,
    /// First of these
    first: usize,
    /// `[from][to]`: life thrown away by the jobs whose last time lies from one time up to before another, when all are
    /// done at the first of the two
    thrown: Vec<Vec<f64>>,
}

/// Why each job has a time that is not too late for it
const EARLIEST: &str = "the times are the latest hours of the jobs, of several the earliest";

impl Group {
    fn new(jobs: &[Placed], set_up: Option<&f64>, times: &[f64]) -> Self {
        let last = |it: &Placed| times.iter().rposition(|time| *time <= it.latest).hold(EARLIEST);
        let thrown = times.iter().enumerate().map(|(from, at)| {
            let upto = (0..=times.len()).map(|to| {
                let between = jobs.iter().filter(|it| (from..to).contains(&last(it)));
                between.map(|it| it.work.per_hour * (it.work.due - at).max(0.0)).sum()
            });
            upto.collect()
        });
        let thrown = thrown.collect();
        let jobs: Vec<(usize, usize)> = jobs.iter().map(|it| (it.job, last(it))).collect();
        let first = jobs.iter().map(|(_, last)| *last).min().hold("a group is made for the jobs in it");
        Group { set_up: set_up.copied().unwrap_or(0.0), jobs, first, thrown } // else: they need no set-up
    }

    fn thrown(&self, from: usize, to: usize) -> f64 {
        self.thrown.get(from).and_then(|row| row.get(to)).copied().hold("visits are numbers of times")
    }

    /// For each of the visits, the least cost up to there with the set-up made in it, and the visit before with it
    fn walk(&self, visits: &[usize]) -> Vec<(f64, Option<usize>)> {
        let mut best: Vec<(f64, Option<usize>)> = Vec::new();
        for &visit in visits {
            let alone = if visit <= self.first { 0.0 } else { f64::INFINITY };
            let mut found = (alone, None);
            for (number, ((cost, _), &before)) in best.iter().zip(visits).enumerate() {
                let cost = cost + self.thrown(before, visit);
                if cost < found.0 {
                    found = (cost, Some(number));
                }
            }
            best.push((found.0 + self.set_up, found.1));
        }
        best
    }

    /// The cheapest end of a walk: its number and its cost, the last of several
    fn end(&self, visits: &[usize], walk: &[(f64, Option<usize>)]) -> (usize, f64) {
        let ends =
            walk.iter().zip(visits).map(|((cost, _), &visit)| cost + self.thrown(visit, self.thrown.len()));
        ends.enumerate().fold(
            (0, f64::INFINITY),
            |best, (number, cost)| {
                if cost <= best.1 { (number, cost) } else { best }
            },
        )
    }

    /// The visit of each job
    fn visits(&self, visits: &[usize]) -> Vec<(usize, usize)> {
        let walk = self.walk(visits);
        let mut made: Vec<usize> = Vec::new();
        let mut next = Some(self.end(visits, &walk).0);
        while let Some(number) = next {
            made.extend(visits.get(number));
            next = walk.get(number).and_then(|(_, before)| *before);
        }
        let of = |last: usize| made.iter().copied().filter(|visit| *visit <= last).max();
        // else: all ways cost too much to be told apart, and the job is done as late as can be
        self.jobs.iter().map(|(job, last)| (*job, of(*last).unwrap_or(*last))).collect()
    }
}

/// The cheapest set of visits among so many times, the first always one of them, with its cost
fn cheapest(groups: &[Group], times: usize, visit: f64) -> (Vec<usize>, f64) {
    let mut best = (Vec::new(), if times == 0 { 0.0 } else { f64::INFINITY });
    let sets = if times == 0 { 0 } else { 1_usize << (times - 1) };
    for set in 0..sets {
        let visits: Vec<usize> =
            (0..times).filter(|time| *time == 0 || set & (1 << (time - 1)) != 0).collect();
        let mut cost = (0..visits.len()).map(|_| visit).sum::<f64>();
        for group in groups {
            if cost >= best.1 {
                break;
            }
            cost += group.end(&visits, &group.walk(&visits)).1;
        }
        if cost < best.1 {
            best = (visits, cost);
        }
    }
    best
}
