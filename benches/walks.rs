//! Walks round simulated machines: by what the program says to look at next, and by one fixed round of all checks.
//!
//! `cargo bench --bench walks -- [MACHINES] [THREADS]`. Machines are drawn as `rules simulate` draws them, those with at least
//! one cause and one sign. Both walks start from the same complaint, one sign that shows, with every fact told that a person
//! standing there could tell, on a machine in the states that no check brings about.
//!
//! - **by what it says**: the first of the next checks each time, after what it must wait for. A state that a check puts an
//!   end to must be made again.
//! - **the fixed round**: every check in the order of the rules and places, each state made once for all, which is in its
//!   favour.
//!
//! Either ends when nothing useful is left: a check is useful when one of the outcomes told of it takes a cause past 10 %, 50 %
//! or 90 %, either way, and as long as no cause is over 90 %, when one moves a cause by two in a hundred or more. Where that is so on the fixed round is had by halving, taking it that what has become useless
//! stays so. Before that it ends as soon as every cause is settled, under 10 % or over 90 %: this is the first table. All
//! may be under 10 % while nobody knows what the complaint came from, so in the second table a walk goes on, besides, until
//! one cause is over 90 %.
//!
//! A cause is found when a cause that is there has over 50 % and stands above every cause that is not there. It is an error
//! when a median walk by what it says takes more than half of the minutes of the fixed round, and when it finds a cause less
//! often by the second table. By the first it may: what settles soon stops before it has seen much. Nothing is timed, so
//! that the same count gives the same bytes whatever the threads.

#![expect(clippy::print_stdout, clippy::print_stderr, reason = "what it says goes to the person who asked")]

#[path = "support/inspected.rs"]
mod inspected;

use std::collections::BTreeSet;
use std::process::ExitCode;
use std::sync::Arc;

use inspected::{quantile, sorted};
use pinboss::ground::Ground;
use pinboss::infer::Limits;
use pinboss::infer::bounds::Budget;
use pinboss::infer::draw::Dice;
use pinboss::infer::engine::Engine;
use pinboss::infer::information::Effort;
use pinboss::model::{CauseId, CheckId, Hidden, Model, StateId};
use pinboss::place::Place;
use pinboss::reason::next::probes::{Open, open};
use pinboss::reason::next::{NextCheck, What, next_checks};
use pinboss::reason::simulate::{Drawn, simulate};
use pinboss::reason::{Ranked, Stop, causes_by};
use rayon::ThreadPoolBuilder;
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};

/// Told when the arguments cannot be understood
const USAGE: &str = "cargo bench --bench walks -- [MACHINES] [THREADS]";
/// Machines walked when nobody says how many
const MACHINES: usize = 1000;
/// Seed of the machines
const SEED: u64 = 11;
/// Seed of the complaints, and of which of two arms a person notes
const WALK_SEED: u64 = 12;
/// A cause is settled under the one and over the other
const SETTLED: (f64, f64) = (0.1, 0.9);
/// A cause is found over this
const FOUND_OVER: f64 = 0.5;
/// How far an outcome must move a cause for its check to be useful while no cause is over the upper mark
const MOVES_FROM: f64 = 0.02;
/// Most of the minutes of the fixed round that a median walk may take
const MOST_OF_ROUND: f64 = 0.5;
/// Seconds of work where the findings are too entangled for exact figures
const BUDGET: f64 = 0.1;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|argument| argument != "--bench").collect();
    match run(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            eprintln!("walks: {fault}");
            ExitCode::FAILURE
        }
    }
}

fn run(arguments: &[String]) -> Result<(), String> {
    let number = |place: usize, otherwise: usize| match arguments.get(place) {
        Some(word) => word.parse().map_err(|_| USAGE.to_owned()),
        None => Ok(otherwise),
    };
    let (machines, threads) = (number(0, MACHINES)?, number(1, 0)?);
    let model = inspected::shipped()?;
    let pool = ThreadPoolBuilder::new().num_threads(threads).build().map_err(|fault| fault.to_string())?;
    let drawn: Vec<(u64, Drawn)> = (0..)
        .map(|number| (number, simulate(&model, SEED, number)))
        .filter(|(_, drawn)| !drawn.present.is_empty() && !drawn.shows.is_empty())
        .take(machines)
        .collect();
    let walk = |(number, drawn): &(u64, Drawn)| both(&model, *number, drawn);
    let walked: Vec<(Walked, Walked)> =
        pool.install(|| drawn.par_iter().map(walk).collect::<Result<_, String>>())?;
    if walked.is_empty() {
        return Err(format!("no machine was walked: {USAGE}"));
    }
    tell(&walked)
}

/// How far a walk had come when it ended
#[derive(Clone, Copy)]
struct Ended {
    minutes: f64,
    steps: usize,
    found: bool,
    end: End,
}

/// Where a walk ends by each of the two rules
struct Walked {
    settled: Ended,
    certain: Ended,
}

/// Why a walk ended
#[derive(Clone, Copy, Eq, PartialEq)]
enum End {
    /// As its rule says
    Settled,
    /// Nothing useful is left
    NothingLeft,
    /// The findings are too entangled for the worth of checks
    TooWide,
}

/// What to do next
enum Next {
    Check(CheckId, Place),
    Nothing,
    TooWide,
}

/// A walk under way
#[derive(Clone)]
struct Walk<'m> {
    model: &'m Model,
    engine: Arc<Engine>,
    visit: Drawn,
    /// States that the machine is in
    now: BTreeSet<StateId>,
    minutes: f64,
    steps: usize,
    dice: Dice,
}

/// Both walks round one machine
fn both(model: &Model, number: u64, drawn: &Drawn) -> Result<(Walked, Walked), String> {
    let mut dice = Dice::numbered(WALK_SEED, number);
    let mut visit = inspected::told(model, drawn);
    complain(model, &mut visit, &mut dice);
    let start = inspected::read(model, &visit)?;
    let walk = || Walk {
        model,
        engine: Arc::new(Engine::new(Arc::clone(&start.network))),
        visit: visit.clone(),
        now: visit.states.iter().copied().collect(),
        minutes: 0.0,
        steps: 0,
        dice: dice.clone(),
    };
    let told = walk().by_what_it_says().map_err(|fault| format!("machine {number}: {fault}"))?;
    let fixed = walk().fixed(&open(model, &start)).map_err(|fault| format!("machine {number}: {fault}"))?;
    Ok((told, fixed))
}

/// Notes one of the signs that show
fn complain(model: &Model, visit: &mut Drawn, dice: &mut Dice) {
    let chosen = dice.below(visit.shows.len());
    if let Some(((symptom, place), &state)) = visit.shows.iter().nth(chosen) {
        let grades = &model[*symptom].effect.grades;
        let grade = (1..grades.names.len()).find(|grade| grades.shows(*grade, state)).unwrap_or(0);
        visit.found.push((*symptom, place.clone(), grade));
    }
}

impl Walk<'_> {
    /// The first of the next checks each time
    fn by_what_it_says(mut self) -> Result<Walked, String> {
        let mut settled = None;
        loop {
            let (ground, causes) = self.weighed()?;
            if is_all_settled(&causes) {
                let here = self.ended(&causes, End::Settled);
                let settled = *settled.get_or_insert(here);
                if is_one_certain(&causes) {
                    return Ok(Walked { settled, certain: here });
                }
            }
            let ended = |end| {
                let certain = self.ended(&causes, end);
                Ok(Walked { settled: settled.unwrap_or(certain), certain })
            };
            let (check, place) = match self.next(&ground, &causes) {
                Next::Check(check, place) => (check, place),
                Next::Nothing => return ended(End::NothingLeft),
                Next::TooWide => return ended(End::TooWide),
            };
            self.bring_about(check, &ground);
            self.look(check, &place, &open(self.model, &ground));
            for state in &self.model[check].ends {
                self.now.remove(state);
            }
        }
    }

    /// Every check in the order of the rules
    fn fixed(mut self, checks: &[Open]) -> Result<Walked, String> {
        let (mut ground, mut causes) = self.weighed()?;
        let mut stages = vec![(self.clone(), self.ended(&causes, End::NothingLeft))];
        let mut settled = None;
        for own in checks {
            let What::Check(check) = own.what else { continue };
            if is_all_settled(&causes) {
                settled = settled.or(Some(stages.len() - 1));
                if is_one_certain(&causes) {
                    break;
                }
            }
            if self.visit.looked.contains(&(check, own.place.clone())) {
                continue;
            }
            let made = self.now.clone();
            self.bring_about(check, &ground);
            self.now.extend(made);
            self.look(check, &own.place, checks);
            (ground, causes) = self.weighed()?;
            stages.push((self.clone(), self.ended(&causes, End::NothingLeft)));
        }
        let last = stages.len() - 1;
        let certain = (is_all_settled(&causes) && is_one_certain(&causes)).then_some(last);
        let nothing_left = nothing_left(&stages)?;
        let ended = |by_rule: Option<usize>| {
            let by_rule = by_rule.filter(|stage| *stage <= nothing_left);
            let (_, ended) = stages.get(by_rule.unwrap_or(nothing_left))?;
            Some(Ended { end: if by_rule.is_some() { End::Settled } else { ended.end }, ..*ended })
        };
        match (ended(settled), ended(certain)) {
            (Some(settled), Some(certain)) => Ok(Walked { settled, certain }),
            _ => Err("a round without a stage".to_owned()),
        }
    }

    /// The first of the next checks while any of them is useful
    fn next(&self, ground: &Ground, causes: &[Ranked]) -> Next {
        let Ok(next) = next_checks(self.model, ground, &Limits::often(), &Effort::default()) else {
            return Next::TooWide;
        };
        let certain = is_one_certain(causes);
        if !next.iter().any(|check| is_useful(check, certain)) {
            return Next::Nothing;
        }
        let first = next.iter().find_map(|check| match check.what {
            What::Check(id) => Some(Next::Check(id, check.place.clone())),
            What::Tell(..) => None,
        });
        first.unwrap_or(Next::Nothing)
    }

    /// The causes by what has been noted
    fn weighed(&self) -> Result<(Ground, Vec<Ranked>), String> {
        let ground = inspected::read(self.model, &self.visit)?;
        let (limits, budget) = (Limits::default(), Budget::seconds(BUDGET));
        match causes_by(Arc::clone(&self.engine), self.model, &ground, &limits, &budget) {
            Ok(told) => Ok((ground, told.causes)),
            Err(Stop::TooWide(width)) => Err(width.to_string()),
            Err(Stop::Impossible(_)) => Err("what shows on a machine drawn cannot be".to_owned()),
        }
    }

    /// Brings about the state that a check asks for, if the machine is not in it
    fn bring_about(&mut self, check: CheckId, ground: &Ground) {
        let wanted = self.model[check].needs_state.filter(|state| !self.now.contains(state));
        let Some(maker) = wanted.and_then(|state| self.model.maker(state)) else { return };
        let open = open(self.model, ground);
        for place in ground.machine.places(self.model, self.model[maker].common.extent) {
            self.look(maker, &place, &open);
        }
        for state in &self.model[maker].ends {
            self.now.remove(state);
        }
        self.now.extend(self.model[maker].makes);
    }

    /// Does a check: its minutes, and what it shows
    fn look(&mut self, check: CheckId, place: &Place, open: &[Open]) {
        self.minutes += self.model[check].minutes;
        self.steps += 1;
        let own = open.iter().find(|own| own.what == What::Check(check) && own.place == *place);
        let probes = own.map_or(&[][..], |own| &own.probes);
        inspected::note(self.model, &mut self.visit, check, probes, &mut self.dice);
        let done = (check, place.clone());
        if !self.visit.looked.contains(&done) {
            self.visit.looked.push(done);
        }
        self.now.extend(self.model[check].makes);
    }

    fn ended(&self, causes: &[Ranked], end: End) -> Ended {
        let there = |own: &Ranked| is_there(&self.visit.present, own);
        let most = |present: bool| {
            let own = causes.iter().filter(|own| there(own) == present);
            own.map(|own| if present { own.within.lower } else { own.within.upper }).fold(0.0, f64::max)
        };
        let found = most(true) > FOUND_OVER && most(true) > most(false);
        Ended { minutes: self.minutes, steps: self.steps, found, end }
    }
}

fn is_there(present: &[(CauseId, Place, usize)], own: &Ranked) -> bool {
    present.iter().any(|(id, place, _)| own.hidden == Hidden::Cause(*id) && own.place == *place)
}

/// The first stage of a fixed round at which nothing useful is left, the last if there is none before
fn nothing_left(stages: &[(Walk<'_>, Ended)]) -> Result<usize, String> {
    let (mut least, mut most) = (0, stages.len() - 1);
    while least < most {
        let middle = least.midpoint(most);
        let Some((walk, _)) = stages.get(middle) else { break };
        let (ground, causes) = walk.weighed()?;
        match walk.next(&ground, &causes) {
            Next::Nothing => most = middle,
            Next::Check(..) | Next::TooWide => least = middle + 1,
        }
    }
    Ok(most)
}

fn is_all_settled(causes: &[Ranked]) -> bool {
    causes.iter().all(|own| own.within.upper < SETTLED.0 || own.within.lower > SETTLED.1)
}

fn is_one_certain(causes: &[Ranked]) -> bool {
    causes.iter().any(|own| own.within.lower > SETTLED.1)
}

/// Whether an outcome would take a cause past one of the marks, either way, or move one while none is certain
fn is_useful(check: &NextCheck, certain: bool) -> bool {
    let marks = [SETTLED.0, FOUND_OVER, SETTLED.1];
    let past = |from: f64, to: f64| marks.iter().any(|&mark| (from < mark) != (to < mark));
    let moves = |from: f64, to: f64| !certain && (to - from).abs() >= MOVES_FROM;
    let mut shifts = check.outcomes.iter().flat_map(|outcome| &outcome.shifts);
    shifts.any(|shift| past(shift.from, shift.to) || moves(shift.from, shift.to))
}

/// Prints both tables, and stops where the walk by what it says is no better
fn tell(walked: &[(Walked, Walked)]) -> Result<(), String> {
    println!(
        "{} machines, each from one complaint; until every cause is under 10 % or over 90 %:\n",
        walked.len()
    );
    let settled = table(walked, |walk| walk.settled);
    println!("\nUntil, besides, one cause is over 90 %:\n");
    let certain = table(walked, |walk| walk.certain);
    if settled.ratio.max(certain.ratio) > MOST_OF_ROUND {
        return Err(
            "the walk by what it says takes more than half of the minutes of the fixed round".to_owned()
        );
    }
    if certain.told < certain.fixed {
        let (told, fixed) = (certain.told, certain.fixed);
        return Err(format!(
            "the walk by what it says finds a cause on {told} machines, the fixed round on {fixed}"
        ));
    }
    Ok(())
}

/// How the two walks compare
struct Compared {
    /// Median minutes by what it says over those of the fixed round
    ratio: f64,
    /// Machines on which each finds a cause
    told: usize,
    fixed: usize,
}

fn table(walked: &[(Walked, Walked)], by_rule: impl Fn(&Walked) -> Ended) -> Compared {
    let told: Vec<Ended> = walked.iter().map(|(told, _)| by_rule(told)).collect();
    let fixed: Vec<Ended> = walked.iter().map(|(_, fixed)| by_rule(fixed)).collect();
    println!(
        "| walk | minutes: median (quartiles) | checks: median (quartiles) | cause found | settled | nothing left | too entangled |"
    );
    println!("| --- | ---: | ---: | ---: | ---: | ---: | ---: |");
    println!("{}", row("by what it says to look at next", &told));
    println!("{}", row("the fixed round of all checks", &fixed));
    let median = |own: &[Ended]| quantile(&sorted(own.iter().map(|own| own.minutes)), 0.5);
    let found = |own: &[Ended]| own.iter().filter(|own| own.found).count();
    let ratio = median(&told) / median(&fixed);
    println!("\nThe median walk by what it says takes {ratio:.2} of the minutes of the fixed round.");
    let alone = |own: &[Ended], other: &[Ended]| {
        own.iter().zip(other).filter(|(own, other)| own.found && !other.found).count()
    };
    println!(
        "Found by what it says and not on the round: {}; on the round and not by what it says: {}.",
        alone(&told, &fixed),
        alone(&fixed, &told)
    );
    Compared { ratio, told: found(&told), fixed: found(&fixed) }
}

fn row(name: &str, walks: &[Ended]) -> String {
    let spread = |figures: Vec<f64>| {
        let at = |share| quantile(&figures, share);
        format!("{:.0} ({:.0}–{:.0})", at(0.5), at(0.25), at(0.75))
    };
    let minutes = spread(sorted(walks.iter().map(|own| own.minutes)));
    let steps = spread(sorted(walks.iter().map(|own| own.steps as f64)));
    let share = |is: &dyn Fn(&Ended) -> bool| {
        let count = walks.iter().filter(|own| is(own)).count();
        format!("{:.1} %", 100.0 * count as f64 / walks.len() as f64)
    };
    let ended = |end: End| share(&|own| own.end == end);
    format!(
        "| {name} | {minutes} | {steps} | {} | {} | {} | {} |",
        share(&|own| own.found),
        ended(End::Settled),
        ended(End::NothingLeft),
        ended(End::TooWide)
    )
}
