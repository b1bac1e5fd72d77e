//! How far the shipped rules are weighed exactly: on visits as they come, and on whole machines with soft readings and
//! facts left untold.
//!
//! `cargo bench --bench width -- [MACHINES] [WHOLE] [THREADS]` draws machines as `rules simulate` draws them until there are
//! MACHINES of each layout (500 unless said otherwise), and prints two tables:
//!
//! 1. each machine weighed with what was looked at on its visit: the share that is exact within the default limits, the
//!    largest table, the time;
//! 2. the first WHOLE of each layout (as many as MACHINES unless said otherwise) with everything looked at and every fact
//!    told, then with some findings a side softened as a reading near a bound softens them, and with some facts left
//!    untold, up to all of either. Past the default limits the bounds have the default budget.
//!
//! Everything but the times is the same whatever the threads.

#![expect(clippy::print_stdout, clippy::print_stderr, reason = "what it says goes to the person who asked")]

#[path = "support/inspected.rs"]
mod inspected;

use std::collections::{BTreeMap, BTreeSet};
use std::process::ExitCode;
use std::sync::Arc;
use std::time::Instant;

use inspected::{quantile, sorted};
use pinboss::ground::{Ground, likelihood};
use pinboss::infer::Limits;
use pinboss::infer::draw::Dice;
use pinboss::infer::engine::Engine;
use pinboss::infer::pattern::Ask;
use pinboss::model::grades::{Grades, Shape};
use pinboss::model::{FactId, Model};
use pinboss::place::Side;
use pinboss::reason::evidence::findings;
use pinboss::reason::next::What;
use pinboss::reason::next::probes::open;
use pinboss::reason::simulate::{Drawn, simulate};
use pinboss::reason::{Settings, Weighing};
use rayon::ThreadPoolBuilder;
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};

/// Told when the arguments cannot be understood
const USAGE: &str = "cargo bench --bench width -- [MACHINES] [WHOLE] [THREADS]";
/// Machines of each layout when nobody says how many
const MACHINES: usize = 500;
/// Seed of the machines
const SEED: u64 = 21;
/// Seed of what is softened and left untold
const WHOLE_SEED: u64 = 22;
/// The fact that tells layouts apart
const LAYOUT: &str = "layout";
/// Findings softened on each side
const SOFT: [usize; 3] = [0, 10, 20];
/// Facts left untold
const UNTOLD: [usize; 3] = [0, 2, 4];
/// As many as there are
const ALL: usize = usize::MAX;
/// Most machines of each layout on which all findings are softened or all facts untold: each takes the whole budget
const MOST_EXTREME: usize = 20;
/// Least and most likelihood of the grade next to the one that a soft reading speaks for
const NEXT_GRADE: (f64, f64) = (0.02, 0.6);

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|argument| argument != "--bench").collect();
    match run(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            eprintln!("width: {fault}");
            ExitCode::FAILURE
        }
    }
}

/// A machine with its number
type Numbered = (u64, Drawn);

fn run(arguments: &[String]) -> Result<(), String> {
    let number = |place: usize, otherwise: usize| match arguments.get(place) {
        Some(word) => word.parse().map_err(|_| USAGE.to_owned()),
        None => Ok(otherwise),
    };
    let machines = number(0, MACHINES)?;
    let (whole, threads) = (number(1, machines)?, number(2, 0)?);
    if machines == 0 {
        return Err(format!("no machine was weighed: {USAGE}"));
    }
    let model = Arc::new(inspected::shipped()?);
    let pool = ThreadPoolBuilder::new().num_threads(threads).build().map_err(|fault| fault.to_string())?;
    let layouts = layouts(&model, machines)?;
    println!(
        "| layout | machines | exact | largest table, log2: median, 95 %, most | ms: median, 95 %, most |"
    );
    println!("| --- | ---: | ---: | ---: | ---: |");
    for (name, drawn) in &layouts {
        println!("{}", pool.install(|| visits(&model, name, drawn))?);
    }
    println!(
        "\n| layout | machines | soft findings a side | facts untold | largest table, log2: median, most | exact | often | past the limits | width of bounds, median |"
    );
    println!("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
    for (name, drawn) in &layouts {
        let drawn: Vec<&Numbered> = drawn.iter().take(whole).collect();
        let amounts = SOFT.into_iter().flat_map(|soft| UNTOLD.map(|untold| (soft, untold)));
        for amount in amounts {
            println!("{}", pool.install(|| wholes(&model, name, &drawn, amount))?);
        }
        let few: Vec<&Numbered> = drawn.into_iter().take(MOST_EXTREME).collect();
        for amount in [(ALL, 0), (0, ALL), (ALL, ALL)] {
            println!("{}", pool.install(|| wholes(&model, name, &few, amount))?);
        }
    }
    Ok(())
}

/// So many machines of each layout, the first that are drawn
fn layouts(model: &Model, machines: usize) -> Result<Vec<(String, Vec<Numbered>)>, String> {
    let fact = model.facts.iter().position(|fact| fact.common.name == LAYOUT);
    let fact = FactId(fact.ok_or_else(|| format!("the rules have no fact `{LAYOUT}`"))?);
    let names = &model[fact].choices;
    let mut drawn: Vec<(String, Vec<Numbered>)> =
        names.iter().map(|name| (name.clone(), Vec::new())).collect();
    for number in 0.. {
        if drawn.iter().all(|(_, own)| own.len() >= machines) {
            break;
        }
        let machine = simulate(model, SEED, number);
        let choice = machine.machine.facts.get(&(fact, None));
        if let Some((_, own)) = choice.and_then(|choice| drawn.get_mut(*choice))
            && own.len() < machines
        {
            own.push((number, machine));
        }
    }
    Ok(drawn)
}

/// Logarithm to base two of the entries of the largest table that the findings need
fn largest_table(ground: &Ground) -> f64 {
    let engine = Engine::new(Arc::clone(&ground.network));
    libm::log2(engine.entries(&findings(ground), &Ask::default()).0.max(1) as f64)
}

/// The row of the machines of one layout, weighed with what was looked at
fn visits(model: &Arc<Model>, name: &str, drawn: &[Numbered]) -> Result<String, String> {
    let weigh = |(_, drawn): &Numbered| {
        let ground = inspected::read(model, drawn)?;
        let start = Instant::now();
        let weighing = Weighing::new(Arc::clone(model), ground);
        let exact = weighing.causes().is_ok();
        Ok((exact, start.elapsed().as_secs_f64() * 1e3, largest_table(weighing.ground())))
    };
    let weighed: Vec<(bool, f64, f64)> = drawn.par_iter().map(weigh).collect::<Result<_, String>>()?;
    let times = sorted(weighed.iter().map(|own| own.1));
    let tables = sorted(weighed.iter().map(|own| own.2));
    Ok(format!(
        "| {name} | {} | {} | {:.1}, {:.1}, {:.1} | {:.1}, {:.1}, {:.0} |",
        weighed.len(),
        per_cent(weighed.iter().map(|own| own.0)),
        quantile(&tables, 0.5),
        quantile(&tables, 0.95),
        quantile(&tables, 1.0),
        quantile(&times, 0.5),
        quantile(&times, 0.95),
        quantile(&times, 1.0)
    ))
}

/// What a whole machine takes
struct Whole {
    table: f64,
    exact: bool,
    often: bool,
    /// Widths of the bounds on each cause; none where all is exact
    widths: Vec<f64>,
}

/// The row of the machines of one layout, with everything looked at
fn wholes(
    model: &Arc<Model>,
    name: &str,
    drawn: &[&Numbered],
    how: (usize, usize),
) -> Result<String, String> {
    let weigh = |(number, drawn): &&Numbered| whole(model, *number, drawn, how);
    let weighed: Vec<Whole> = drawn.par_iter().map(weigh).collect::<Result<_, String>>()?;
    let tables = sorted(weighed.iter().map(|own| own.table));
    let widths = sorted(weighed.iter().flat_map(|own| own.widths.iter().copied()));
    let past = weighed.iter().filter(|own| !own.exact).count();
    let width = if widths.is_empty() { "–".to_owned() } else { format!("{:.3}", quantile(&widths, 0.5)) };
    Ok(format!(
        "| {name} | {} | {} | {} | {:.1}, {:.1} | {} | {} | {past} | {width} |",
        weighed.len(),
        amount(how.0),
        amount(how.1),
        quantile(&tables, 0.5),
        quantile(&tables, 1.0),
        per_cent(weighed.iter().map(|own| own.exact)),
        per_cent(weighed.iter().map(|own| own.often)),
    ))
}

fn whole(
    model: &Arc<Model>,
    number: u64,
    drawn: &Drawn,
    (soft, untold): (usize, usize),
) -> Result<Whole, String> {
    let mut dice = Dice::numbered(WHOLE_SEED, number);
    let mut ground = inspected::read(model, &everything(model, drawn, untold, &mut dice)?)?;
    for side in Side::BOTH {
        soften(model, &mut ground, side, soft, &mut dice);
    }
    let weighing = Weighing::new(Arc::clone(model), ground);
    let exact = weighing.causes().is_ok();
    let bounds = if exact { None } else { weighing.in_bounds().ok() };
    let causes = bounds.into_iter().flat_map(|bounds| &bounds.causes);
    let often = Settings { limits: Limits::often(), ..Settings::default() };
    Ok(Whole {
        table: largest_table(weighing.ground()),
        exact,
        often: weighing.supposing(weighing.ground().clone()).within(often).evidence().is_ok(),
        widths: causes.map(|own| own.within.upper - own.within.lower).collect(),
    })
}

/// A visit that looks at everything, with every fact told but some; no hours of parts are told, for what is left untold is
/// not to be reckoned from them
fn everything(model: &Model, drawn: &Drawn, untold: usize, dice: &mut Dice) -> Result<Drawn, String> {
    let mut visit = inspected::told(model, drawn);
    visit.parts.clear();
    for _ in 0..untold {
        let known: Vec<FactId> =
            visit.facts.iter().map(|own| own.fact).collect::<BTreeSet<_>>().into_iter().collect();
        let Some(left) = known.get(dice.below(known.len())) else { break };
        visit.facts.retain(|own| own.fact != *left);
    }
    visit.states = (0..model.states.len()).map(pinboss::model::StateId).collect();
    for own in open(model, &inspected::read(model, &visit)?) {
        if let What::Check(check) = own.what {
            inspected::note(model, &mut visit, check, &own.probes, dice);
            visit.looked.push((check, own.place));
        }
    }
    Ok(visit)
}

/// Softens so many findings of a side, those first that readings can give
fn soften(model: &Model, ground: &mut Ground, side: Side, count: usize, dice: &mut Dice) {
    let mut open: BTreeMap<(bool, usize), usize> = BTreeMap::new();
    for (number, own) in ground.observations.iter().enumerate() {
        if own.place.side() == Some(side) {
            open.insert((model[own.symptom].reading.is_none(), number), number);
        }
    }
    for _ in 0..count {
        let readable = open.keys().filter(|(by_eye, _)| !by_eye).count();
        let among = if readable > 0 { readable } else { open.len() };
        let Some(key) = open.keys().nth(dice.below(among)).copied() else { return };
        let number = open.remove(&key).unwrap_or_default();
        let next = NEXT_GRADE.0 + (NEXT_GRADE.1 - NEXT_GRADE.0) * dice.unit();
        if let Some(own) = ground.observations.get_mut(number) {
            let symptom = &model[own.symptom];
            let place = |grade| position(&symptom.effect.grades, grade);
            let weight = |grade| {
                let apart = place(grade) - place(own.grade);
                libm::pow(next, apart * apart)
            };
            own.likelihood = likelihood(symptom, weight);
        }
    }
}

/// Where a grade stands on a line through all of them, normal at 0, so that likelihood falls off with the square of the
/// distance, as the normal law does
fn position(grades: &Grades, grade: usize) -> f64 {
    match grades.shape {
        Shape::Arms { low } if grade > low => (grade - low) as f64,
        Shape::Arms { .. } => -(grade as f64),
        Shape::Ladder | Shape::Alternatives => grade as f64,
    }
}

fn amount(number: usize) -> String {
    if number == ALL { "all".to_owned() } else { number.to_string() }
}

fn per_cent(is: impl Iterator<Item = bool>) -> String {
    let all: Vec<bool> = is.collect();
    let count = all.iter().filter(|own| **own).count();
    format!("{:.1} %", 100.0 * count as f64 / all.len().max(1) as f64)
}
