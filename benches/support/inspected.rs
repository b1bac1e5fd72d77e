//! Machines drawn from the shipped rules, and visits to them, read through every stage that a case file is read through.

use std::fs;
use std::path::Path;

use pinboss::case;
use pinboss::check;
use pinboss::ground::{Ground, Origin, ground};
use pinboss::infer::draw::Dice;
use pinboss::model::{CheckId, Model};
use pinboss::problem::Problems;
use pinboss::reason::next::probes::Probe;
use pinboss::reason::simulate::{Drawn, FactDrawn, noted};
use pinboss::report::json_line;
use pinboss::report::rules::simulated;
use pinboss::source::Sources;
use pinboss::syntax;

/// The shipped rules, which hold no error
///
/// # Errors
/// What keeps them from being read.
pub fn shipped() -> Result<Model, String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules");
    let entries = fs::read_dir(folder).map_err(|fault| fault.to_string())?;
    let mut paths = entries
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<Vec<_>, _>>()
        .map_err(|fault| fault.to_string())?;
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "rules"));
    paths.sort();
    let mut sources = Sources::default();
    let mut problems = Problems::default();
    let mut files = Vec::new();
    for path in paths {
        let text = fs::read_to_string(&path).map_err(|fault| format!("{}: {fault}", path.display()))?;
        let id = sources.add(path.display().to_string(), text);
        let (file, said) = syntax::parse(&sources, id);
        problems.append(said);
        files.push(file);
    }
    let (model, said) = check::check(&files);
    problems.append(said);
    without_error(&problems).map(|()| model)
}

/// The visit so far, written as a case file and read back
///
/// # Errors
/// The first thing wrong with it.
pub fn read(model: &Model, visit: &Drawn) -> Result<Ground, String> {
    let text = json_line(&simulated::case(model, visit, 0, 0)).map_err(|fault| fault.to_string())?;
    let mut sources = Sources::default();
    let id = sources.add("drawn", text);
    let (inspection, mut problems) = case::read(&sources, id);
    let inspection = inspection.ok_or("a case that was drawn cannot be read")?;
    let (ground, said) = ground(model, &inspection);
    problems.append(said);
    without_error(&problems).map(|()| ground)
}

fn without_error(problems: &Problems) -> Result<(), String> {
    let first = problems.sorted().first().map(|problem| problem.message.clone());
    if problems.any_error() { Err(first.unwrap_or_default()) } else { Ok(()) }
}

/// The machine before anybody looked, with every fact told for which the rules say how to tell it, and in the states that
/// no check brings about
pub fn told(model: &Model, drawn: &Drawn) -> Drawn {
    let known = |own: &FactDrawn| model[own.fact].tell.is_some();
    let facts = drawn.machine.facts.iter();
    let facts = facts.map(|(&(fact, side), &choice)| FactDrawn { fact, side, choice });
    Drawn {
        facts: facts.filter(|own| known(own) || drawn.facts.contains(own)).collect(),
        states: (0..model.states.len())
            .map(pinboss::model::StateId)
            .filter(|state| model.maker(*state).is_none())
            .collect(),
        looked: Vec::new(),
        found: Vec::new(),
        ..drawn.clone()
    }
}

/// Notes a check as done, and what it shows on the machine
pub fn note(model: &Model, visit: &mut Drawn, check: CheckId, probes: &[Probe], dice: &mut Dice) {
    for probe in probes {
        let Origin::Symptom(symptom, place) = &probe.origin else { continue };
        let key = (*symptom, place.clone());
        let state = visit.shows.get(&key).copied().unwrap_or(0);
        if visit.found.iter().all(|(id, at, _)| (*id, at) != (key.0, &key.1))
            && let Some(grade) = noted(model, check, key.0, state, dice)
        {
            visit.found.push((key.0, key.1, grade));
        }
    }
}

/// What a share of sorted figures does not exceed; not a number when there are none
pub fn quantile(sorted: &[f64], share: f64) -> f64 {
    let place = (share * sorted.len().saturating_sub(1) as f64).round() as usize;
    sorted.get(place).copied().unwrap_or(f64::NAN)
}

/// Figures in order, least first
pub fn sorted(figures: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut figures: Vec<f64> = figures.collect();
    figures.sort_by(f64::total_cmp);
    figures
}
