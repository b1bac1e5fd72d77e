//! Walks round simulated machines: by what the program says to look at next, and by a fixed round of all checks.
//!
//! `cargo bench --bench walks -- [MACHINES] [THREADS]`. Machines are drawn as `rules simulate` draws them. All walks start from
//! the same complaint, with every fact told that a person standing there could tell, on a machine in the states that no
//! check brings about. The complaint is a sign that shows and that came of something: it is at least twice as likely with
//! a cause that is there as without it. Machines without one are passed over.
//!
//! - **by what it says**: the first of the next checks each time.
//! - **the fixed round**: every check in the order of the rules and places.
//! - **the same, nothing spoiled**: each state once for all, so that nothing is lost by the order, which no real round can have.
//!
//! Each does first what a check must wait for. On the first two a state that a check puts an end to must be made again, and one
//! that nothing brings about is gone, and with it what could have been seen in it.
//!
//! The first table ends a walk as soon as every cause is settled, under 10 % or over 90 %. All may be under 10 % with the complaint
//! hardly looked into, so the second goes on until enough has been seen: no check that is left decides anything. By both
//! rules a walk ends there at the latest. Where that is on a round is had by halving, taking it that once nothing is left,
//! nothing comes back.
//!
//! The cause is found when one from which the complaint came has over 50 % and stands above every cause that is not there. It
//! is an error when by either table a median walk by what it says takes more than half of the minutes of the fixed round, or
//! finds the cause less often. Nothing is timed, so that the same count gives the same bytes whatever the threads.

#![expect(clippy::print_stdout, clippy::print_stderr, reason = "what it says goes to the person who asked")]

#[path = "support/inspected.rs"]
mod inspected;

use std::collections::BTreeSet;
use std::process::ExitCode;
use std::sync::Arc;

use inspected::{quantile, sorted};
use pinboss::ground::Ground;
use pinboss::infer::bounds::Budget;
use pinboss::infer::draw::Dice;
use pinboss::infer::engine::Engine;
use pinboss::model::{CauseId, CheckId, Hidden, Model, StateId, SymptomId};
use pinboss::place::Place;
use pinboss::reason::next::probes::{Open, open};
use pinboss::reason::next::{MARKS, What};
use pinboss::reason::simulate::{Drawn, simulate};
use pinboss::reason::{Ranked, Settings, Stop, Weighing};
use rayon::ThreadPoolBuilder;
use rayon::iter::{IntoParallelIterator, ParallelIterator};

/// Told when the arguments cannot be understood
const USAGE: &str = "cargo bench --bench walks -- [MACHINES] [THREADS]";
/// Machines walked when nobody says how many
const MACHINES: usize = 1000;
/// Seed of the machines
const SEED: u64 = 11;
/// Seed of the complaints, and of which of two arms a person notes
const WALK_SEED: u64 = 12;
/// How many times likelier the complaint is with a cause than without it, for it to have come of that cause
const CAME_OF: f64 = 2.0;
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
    let model = Arc::new(inspected::shipped()?);
    let pool = ThreadPoolBuilder::new().num_threads(threads).build().map_err(|fault| fault.to_string())?;
    let mut starts = Vec::new();
    for number in 0.. {
        if starts.len() == machines {
            break;
        }
        starts.extend(Walk::start(&model, number)?);
    }
    let walked: Vec<Walks> =
        pool.install(|| starts.into_par_iter().map(all).collect::<Result<_, String>>())?;
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

/// The walks round one machine
struct Walks {
    told: Walked,
    fixed: Walked,
    kept: Walked,
}

/// Where a walk ends by each of the two rules
struct Walked {
    settled: Ended,
    enough: Ended,
}

/// Why a walk ended
#[derive(Clone, Copy, Eq, PartialEq)]
enum End {
    /// Every cause is settled
    Settled,
    /// No check that is left decides anything
    Enough,
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
    model: &'m Arc<Model>,
    number: u64,
    engine: Arc<Engine>,
    visit: Drawn,
    /// Causes from which the complaint came
    sought: Vec<(CauseId, Place)>,
    /// States that the machine is in
    now: BTreeSet<StateId>,
    minutes: f64,
    steps: usize,
    dice: Dice,
}

/// All walks round one machine
fn all(start: Walk<'_>) -> Result<Walks, String> {
    let number = start.number;
    let walks = || {
        let told = start.clone().by_what_it_says()?;
        let kept = start.clone().fixed(true)?;
        Ok(Walks { told, kept, fixed: start.fixed(false)? })
    };
    walks().map_err(|fault: String| format!("machine {number}: {fault}"))
}

impl<'m> Walk<'m> {
    /// A machine with a complaint that came of a cause, nothing looked at yet; none where no sign came of one
    fn start(model: &'m Arc<Model>, number: u64) -> Result<Option<Self>, String> {
        let drawn = simulate(model, SEED, number);
        if drawn.present.is_empty() || drawn.shows.is_empty() {
            return Ok(None);
        }
        let visit = inspected::told(model, &drawn);
        let mut walk = Walk {
            model,
            number,
            engine: Arc::new(Engine::new(inspected::read(model, &visit)?.network)),
            now: visit.states.iter().copied().collect(),
            visit,
            sought: Vec::new(),
            minutes: 0.0,
            steps: 0,
            dice: Dice::numbered(WALK_SEED, number),
        };
        let mut signs: Vec<(&(SymptomId, Place), &usize)> = drawn.shows.iter().collect();
        while !signs.is_empty() {
            let ((symptom, place), &state) = signs.swap_remove(walk.dice.below(signs.len()));
            let grades = &model[*symptom].effect.grades;
            let grade = (1..grades.names.len()).find(|grade| grades.shows(*grade, state)).unwrap_or(0);
            walk.visit.found = vec![(*symptom, place.clone(), grade)];
            walk.sought = walk.came_of(&walk.weighed()?.1);
            if !walk.sought.is_empty() {
                return Ok(Some(walk));
            }
        }
        Ok(None)
    }

    /// Causes that are there and from which what has been noted came
    fn came_of(&self, causes: &[Ranked]) -> Vec<(CauseId, Place)> {
        let is_raised = |own: &Ranked| {
            let (before, after) = (own.prior, own.probability);
            after * (1.0 - before) >= CAME_OF * before * (1.0 - after)
        };
        let came = |id, place: &Place| causes.iter().any(|own| is_at(own, id, place) && is_raised(own));
        let present = self.visit.present.iter().filter(|(id, place, _)| came(*id, place));
        present.map(|(id, place, _)| (*id, place.clone())).collect()
    }

    /// The first of the next checks each time
    fn by_what_it_says(mut self) -> Result<Walked, String> {
        let mut settled = None;
        loop {
            let (weighing, causes) = self.weighed()?;
            if settled.is_none() && is_all_settled(&causes) {
                settled = Some(self.ended(&causes, End::Settled));
            }
            let ended = |end| {
                let enough = self.ended(&causes, end);
                Ok(Walked { settled: settled.unwrap_or(enough), enough })
            };
            let (check, place) = match self.next(&weighing) {
                Next::Check(check, place) => (check, place),
                Next::Nothing => return ended(End::Enough),
                Next::TooWide => return ended(End::TooWide),
            };
            self.go_and_look(check, &place, weighing.ground());
        }
    }

    /// Every check in the order of the rules, with the states kept that checks put an end to or not
    fn fixed(mut self, keeps: bool) -> Result<Walked, String> {
        let (mut weighing, causes) = self.weighed()?;
        let checks = open(self.model, weighing.ground());
        let mut settled = is_all_settled(&causes).then_some(0);
        let mut stages = vec![(self.clone(), self.ended(&causes, End::Enough))];
        for own in &checks {
            let What::Check(check) = own.what else { continue };
            if self.visit.looked.contains(&(check, own.place.clone())) || self.is_gone(check) {
                continue;
            }
            let before = self.now.clone();
            self.go_and_look(check, &own.place, weighing.ground());
            if keeps {
                self.now.extend(before);
            }
            let causes;
            (weighing, causes) = self.weighed()?;
            settled = settled.or(is_all_settled(&causes).then_some(stages.len()));
            stages.push((self.clone(), self.ended(&causes, End::Enough)));
        }
        let enough = first_with_enough(&stages)?;
        let settled = settled.filter(|stage| *stage <= enough);
        let ended =
            |stage: usize| stages.get(stage).map(|(_, ended)| *ended).ok_or("a round without a stage");
        let enough = ended(enough)?;
        let settled = settled.map(ended).transpose()?;
        let settled = settled.map_or(enough, |ended| Ended { end: End::Settled, ..ended });
        Ok(Walked { settled, enough })
    }

    /// The first of the next checks while any of them decides something
    fn next(&self, weighing: &Weighing) -> Next {
        let Ok(next) = weighing.next_checks() else {
            return Next::TooWide;
        };
        let checks = next.iter().filter_map(|own| match own.what {
            What::Check(id) => Some((own, id)),
            What::Tell(..) => None,
        });
        let mut checks = checks.peekable();
        let first = checks.peek().map(|(own, id)| Next::Check(*id, own.place.clone()));
        let decides = checks.any(|(own, _)| own.decides());
        first.filter(|_| decides).unwrap_or(Next::Nothing)
    }

    /// The causes by what has been noted
    fn weighed(&self) -> Result<(Weighing, Vec<Ranked>), String> {
        let ground = inspected::read(self.model, &self.visit)?;
        let settings = Settings { budget: Budget::seconds(BUDGET), ..Settings::default() };
        let weighing = Weighing::new(Arc::clone(self.model), ground).by(&self.engine).within(settings);
        match weighing.ranking().map(|(causes, _)| causes.to_vec()) {
            Ok(causes) => Ok((weighing, causes)),
            Err(Stop::TooWide(width)) => Err(width.to_string()),
            Err(Stop::Impossible(_)) => Err("what shows on a machine drawn cannot be".to_owned()),
        }
    }

    /// Whether a check asks for a state that has passed away and that nothing brings about
    fn is_gone(&self, check: CheckId) -> bool {
        let passed = self.model[check].needs_state.filter(|state| !self.now.contains(state));
        passed.is_some_and(|state| self.model.maker(state).is_none())
    }

    /// Does a check, after what brings about the state that it asks for
    fn go_and_look(&mut self, check: CheckId, place: &Place, ground: &Ground) {
        let open = open(self.model, ground);
        let wanted = self.model[check].needs_state.filter(|state| !self.now.contains(state));
        if let Some(maker) = wanted.and_then(|state| self.model.maker(state)) {
            for place in ground.machine.places(self.model, self.model[maker].common.extent) {
                self.look(maker, &place, &open);
            }
        }
        self.look(check, place, &open);
    }

    /// Looks: the minutes of a check, what it shows, and the states that it ends and makes
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
        for state in &self.model[check].ends {
            self.now.remove(state);
        }
        self.now.extend(self.model[check].makes);
    }

    fn ended(&self, causes: &[Ranked], end: End) -> Ended {
        let present = |own: &Ranked| self.visit.present.iter().any(|(id, place, _)| is_at(own, *id, place));
        let sought = |own: &Ranked| self.sought.iter().any(|(id, place)| is_at(own, *id, place));
        let best = causes.iter().filter(|own| sought(own)).map(|own| own.within.lower).fold(0.0, f64::max);
        let wrong = causes.iter().filter(|own| !present(own)).map(|own| own.within.upper).fold(0.0, f64::max);
        let [_, found_over, _] = MARKS;
        Ended { minutes: self.minutes, steps: self.steps, found: best > found_over && best > wrong, end }
    }
}

/// Whether it is this cause at this place
fn is_at(own: &Ranked, id: CauseId, place: &Place) -> bool {
    own.hidden == Hidden::Cause(id) && own.place == *place
}

/// The first stage of a fixed round at which no check decides anything, the last if there is none before
fn first_with_enough(stages: &[(Walk<'_>, Ended)]) -> Result<usize, String> {
    let (mut least, mut most) = (0, stages.len() - 1);
    while least < most {
        let middle = least.midpoint(most);
        let Some((walk, _)) = stages.get(middle) else { break };
        match walk.next(&walk.weighed()?.0) {
            Next::Nothing => most = middle,
            Next::Check(..) | Next::TooWide => least = middle + 1,
        }
    }
    Ok(most)
}

fn is_all_settled(causes: &[Ranked]) -> bool {
    let [unlikely, _, likely] = MARKS;
    causes.iter().all(|own| own.within.upper < unlikely || own.within.lower > likely)
}

/// Prints both tables, and stops where the walk by what it says is no better than the fixed round
fn tell(walked: &[Walks]) -> Result<(), String> {
    println!(
        "{} machines, each from one complaint; until every cause is under 10 % or over 90 %:\n",
        walked.len()
    );
    let settled = table(walked, |walk| walk.settled);
    println!("\nUntil enough has been seen, no check that is left deciding anything:\n");
    let enough = table(walked, |walk| walk.enough);
    settled.and(enough)
}

/// Prints how the walks compare by one rule, and says where the walk by what it says is no better than the fixed round
fn table(walked: &[Walks], by_rule: impl Fn(&Walked) -> Ended) -> Result<(), String> {
    let of = |walk: fn(&Walks) -> &Walked| walked.iter().map(|own| by_rule(walk(own))).collect::<Vec<_>>();
    let (told, fixed, kept) = (of(|own| &own.told), of(|own| &own.fixed), of(|own| &own.kept));
    println!(
        "| walk | minutes: median (quartiles) | checks: median (quartiles) | cause found | settled | enough seen | too entangled |"
    );
    println!("| --- | ---: | ---: | ---: | ---: | ---: | ---: |");
    println!("{}", row("by what it says to look at next", &told));
    println!("{}", row("the fixed round of all checks", &fixed));
    println!("{}", row("the same, nothing spoiled", &kept));
    let alone = |own: &[Ended], other: &[Ended]| {
        own.iter().zip(other).filter(|(own, other)| own.found && !other.found).count()
    };
    println!("\nFound on the one walk and not on the other:");
    for (name, round) in [("the fixed round", &fixed), ("the same, nothing spoiled", &kept)] {
        println!("- by what it says {}, on {name} {}", alone(&told, round), alone(round, &told));
    }
    let median = |own: &[Ended]| quantile(&sorted(own.iter().map(|own| own.minutes)), 0.5);
    let found = |own: &[Ended]| own.iter().filter(|own| own.found).count();
    let ratio = median(&told) / median(&fixed);
    println!("\nThe median walk by what it says takes {ratio:.2} of the minutes of the fixed round.");
    if ratio > MOST_OF_ROUND {
        return Err("the walk by what it says takes too much of the minutes of the fixed round".to_owned());
    }
    match (found(&told), found(&fixed)) {
        (told, fixed) if told < fixed => Err(format!(
            "the walk by what it says finds the cause on {told} machines, the fixed round on {fixed}"
        )),
        _ => Ok(()),
    }
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
        ended(End::Enough),
        ended(End::TooWide)
    )
}
