//! Readings: which count, and the likelihood they give to the grades of a symptom.
//!
//! A weight under 1e-9 of the likeliest grade is taken as none, so that a clear reading couples nothing.

use super::factor;
use super::grounded::Ground;
use super::likelihood::likelihood;
use super::misfit;
use super::record::{Clash, Held, HeldWhat, How, Observation, Origin};
use super::several;
use super::slip::Meant;
use super::stray::{fits, misplaced, state_wanted, unknown};
use crate::case::{Inspection, Read};
use crate::machine::{Answer, Machine, Supposed};
use crate::model;
use crate::model::formula::{Bounds, Formula};
use crate::model::{MeasureId, Model, StateId, SymptomId};
use crate::place::{Place, within};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::Span;
use crate::units::{Quantity, Unit};
use crate::wear::estimate::{Estimate, Evaluator, Gap};
use crate::wear::{self, Reading, Readings, normal};
use std::collections::BTreeSet;

/// Likelihood, against the likeliest grade, taken as none: so far out no measuring error follows the normal law, and a
/// clear reading ties no causes to one another
const NONE_UNDER: f64 = 1e-9;

/// Likelihood under which a reading clearly says otherwise than the eye
const CLASH_UNDER: f64 = 0.05;

/// Notes all measures read, then what they say of symptoms
pub(super) fn read(model: &Model, inspection: &Inspection, ground: &mut Ground, problems: &mut Problems) {
    for seen in &inspection.seen {
        for read in &seen.read {
            take(model, read, &seen.place.value, ground, problems);
        }
    }
    factor::hold(model, ground);
    misfit::set_aside(model, ground);
    hold_what_tells_no_wear(model, ground);
    speak(model, ground);
}

/// Notes what all readings that count say of symptoms
fn speak(model: &Model, ground: &mut Ground) {
    for number in 0..model.symptoms.len() {
        let id = SymptomId(number);
        if let Some((formula, bounds)) = &model[id].reading {
            for place in ground.machine.places(model, model[id].effect.common.extent) {
                say(model, id, formula, bounds, &place, ground);
            }
        }
    }
}

/// The same inspection with another value read of a measure at a place, in its base unit; what does not count stays so
pub fn reread(model: &Model, ground: &Ground, key: &(MeasureId, Place), value: f64) -> Ground {
    let mut other = ground.clone();
    if let Some(reading) = other.readings.get_mut(key) {
        reading.value = value;
    }
    other.observations.retain(|own| !matches!(own.how, How::Read { .. }));
    speak(model, &mut other);
    (other.held, other.clashes) = (ground.held.clone(), ground.clashes.clone());
    other
}

/// Notes one measure read, in its base unit; not when it is faulty or held back
fn take(model: &Model, read: &Read, place: &Place, ground: &mut Ground, problems: &mut Problems) {
    let name = &read.measure;
    let Some(number) = model.measures.iter().position(|measure| measure.common.name == name.value) else {
        let known = model.measures.iter().map(|measure| measure.common.name.as_str());
        problems.push(unknown("measure", name, known));
        return;
    };
    let id = MeasureId(number);
    let measure = &model[id];
    if !fits(model, measure.common.extent, place) {
        problems.push(misplaced(model, name, measure.common.extent));
        return;
    }
    let model::How::Read { unit, range, .. } = &measure.how else {
        problems.push(
            Problem::new(
                Code::CaseShape,
                name.at,
                format!("`{}` is reckoned from other measures, not read", name.value),
            )
            .help("note the measures it is made from"),
        );
        return;
    };
    let meant = Meant::new((model, &ground.machine), (id, place), (*unit, *range));
    let Some(values) = values(read, *unit, *range, &meant, problems) else {
        return;
    };
    let reading = several::reading(model, &ground.machine, (id, place), &values);
    ground.outliers.extend(several::outlier(model, (id, place), &values));
    let key = (id, place.clone());
    let held = held_back(model, id, read, place, &ground.machine, &ground.states);
    match held.or_else(|| better_than_new(model, &key, reading, *unit, &ground.machine)) {
        None => {
            ground.readings.insert(key, reading);
        }
        Some((why, aside)) => {
            ground.held.push(Held::new(model, HeldWhat::Measure(id), place, why));
            if aside {
                ground.set_aside.insert(key, reading);
            }
        }
    }
}

/// Notes readings of parts that wear of which nobody can say how worn they are, for want of facts or sizes
fn hold_what_tells_no_wear(model: &Model, ground: &mut Ground) {
    let evaluator = Evaluator { model, machine: &ground.machine, readings: &ground.readings };
    let wears = |id: MeasureId| {
        let mut rows = model.sizes.values().filter_map(|size| size.dimensions.get(&id)).flatten();
        ground.machine.sizes.contains_key(&id) || rows.any(|row| row.points.len() > 1)
    };
    let held = ground.readings.keys().filter(|(id, _)| wears(*id)).filter_map(|(id, place)| {
        let gap = evaluator.worn(*id, place).err()?;
        let why = match gap {
            Gap::Hangs(_) | Gap::NoSize | Gap::NoDimension(_) => wear::gap_in_words(&gap, model),
            Gap::NoLimit(_) => without_limit(&evaluator, *id, place)?,
            _ => return None,
        };
        Some(Held::new(model, HeldWhat::Measure(*id), place, why))
    });
    let held: Vec<Held> = held.collect();
    ground.held.extend(held);
}

/// What is gone of a part whose limit is not given; none where its size is no wear by these rules
fn without_limit(evaluator: &Evaluator<'_>, id: MeasureId, place: &Place) -> Option<String> {
    evaluator.machine.sizes.get(&id)?;
    let unit = evaluator.model[id].unit();
    // else: better than new, of which nothing is gone
    let gone = evaluator.value(&Formula::Loss(id), place).ok()?.value.max(0.0);
    let new = evaluator.value(&Formula::New(id), place).ok()?.value;
    let shown = |size: f64| format!("{} {}", round(unit.from_base(size)), unit.word());
    Some(format!(
        "{} are gone of {} when new. No limit is told for it, so there is no per cent and no hours: add its `limit` under \
         `sizes`",
        shown(gone),
        shown(new)
    ))
}

/// A size as it is read off an instrument, to a hundredth
fn round(size: f64) -> f64 {
    (size * 100.0).round() / 100.0
}

/// Why a size far better than new does not count
fn better_than_new(
    model: &Model,
    (id, place): &(MeasureId, Place),
    reading: Reading,
    unit: Unit,
    machine: &Machine,
) -> Option<(String, bool)> {
    static NOTHING: Readings = Readings::new();
    let evaluator = Evaluator { model, machine, readings: &NOTHING };
    let new = evaluator.new_if_far_better(*id, place, reading.value)?;
    let shown = |size: f64| Quantity { value: unit.from_base(size), unit };
    let why = format!(
        "{} was read where a new one has {}: errors of reading and making do not carry so far. Measure again, and look whether \
         the size class is the right one",
        shown(reading.value),
        shown(new)
    );
    Some((why, true))
}

fn values(
    read: &Read,
    unit: Unit,
    range: (f64, f64),
    meant: &Meant<'_>,
    problems: &mut Problems,
) -> Option<Vec<f64>> {
    let mut values = Vec::new();
    for value in &read.values {
        let quantity = value.value;
        let base = quantity.in_base();
        if quantity.unit.dimension() != unit.dimension() {
            problems.push(
                Problem::new(
                    Code::CaseUnit,
                    value.at,
                    format!("`{}` is not read in `{}`", read.measure.value, quantity.unit.word()),
                )
                .help(format!("write it in {}", fitting(unit))),
            );
        } else if let Some(instead) = meant.instead(quantity) {
            let message = format!("`{}` cannot be {quantity} on this machine", read.measure.value);
            problems.push(Problem::new(Code::CaseRange, value.at, message).help(instead));
        } else if !meant.in_range(base) {
            let (least, most) = (unit.from_base(range.0), unit.from_base(range.1));
            problems.push(
                Problem::new(
                    Code::CaseRange,
                    value.at,
                    format!("`{}` cannot be {quantity}", read.measure.value),
                )
                .help(format!(
                    "it lies from {least} to {most} {}; check the figure and its unit",
                    unit.word()
                )),
            );
        } else {
            values.push(base);
        }
    }
    (!values.is_empty() && values.len() == read.values.len()).then_some(values)
}

/// The units that a measure may be read in, its own first
fn fitting(own: Unit) -> String {
    let others = Unit::all().filter(|unit| *unit != own && unit.dimension() == own.dimension());
    let words: Vec<String> =
        [own].into_iter().chain(others).map(|unit| format!("`{}`", unit.word())).collect();
    match words.as_slice() {
        [most @ .., last] if !most.is_empty() => format!("{} or {last}", most.join(", ")),
        words => words.concat(),
    }
}

/// Why a reading does not count: void, not of this machine, or its check wanted a state that was not there; and whether
/// it was well read all the same, and only means nothing here
fn held_back(
    model: &Model,
    id: MeasureId,
    read: &Read,
    place: &Place,
    machine: &Machine,
    states: &BTreeSet<StateId>,
) -> Option<(String, bool)> {
    if let Some(void) = &read.void {
        return Some((format!("said to be void: {}", void.value), false));
    }
    match machine.holds(model, &model[id].common.gate, place, &Supposed::new()) {
        Answer::Yes => {}
        Answer::No => return Some(("on this machine, as told, it means nothing".to_owned(), true)),
        Answer::Hangs(facts) => return Some((wear::gap_in_words(&Gap::Hangs(facts), model), false)),
    }
    let mut wanted = None;
    for check in model.checks.iter().filter(|check| check.reads.contains(&id)) {
        match check.needs_state {
            Some(state) if !states.contains(&state) => wanted = wanted.or(Some(state)),
            _ => return None,
        }
    }
    wanted.map(|state| (state_wanted(model, state), false))
}

/// What readings say of a symptom at a place
fn say(model: &Model, id: SymptomId, formula: &Formula, bounds: &Bounds, place: &Place, ground: &mut Ground) {
    let Some(node) = ground.node(&Origin::Symptom(id, place.clone())) else {
        return;
    };
    let evaluator = Evaluator { model, machine: &ground.machine, readings: &ground.readings };
    let value = evaluator.value(formula, place);
    let estimate = match value {
        Ok(estimate) => estimate,
        Err(gap) => {
            let any_read = made_from(model, formula.readings()).iter().any(|measure| {
                let mut places = ground.readings.keys().filter(|(known, _)| known == measure);
                places.any(|(_, at)| within(at, place) || within(place, at))
            });
            // Of two sides one is often left for another day, which is no fault of what was read.
            let waits = !formula.compares_sides()
                && match &gap {
                    Gap::Hangs(_) | Gap::NoSize | Gap::NoHours(_) | Gap::FewRead(..) => any_read,
                    Gap::NotRead(id, at) => is_begun(ground, *id, at, place),
                    _ => false,
                };
            if waits {
                ground.held.push(Held::new(
                    model,
                    HeldWhat::Symptom(id),
                    place,
                    wear::gap_in_words(&gap, model),
                ));
            }
            return;
        }
    };
    // else: nothing bounds the figure
    let range = evaluator.range(formula, place).unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
    let weights = likelihoods(&estimate, bounds, range);
    let names = model[id].effect.grades.names.len();
    let of_grade =
        |grade: usize| weights.iter().filter(|(known, _)| *known == grade).map(|(_, weight)| *weight).sum();
    let best = (0..names).fold((0, -1.0), |best, grade| {
        let weight: f64 = of_grade(grade);
        if weight > best.1 { (grade, weight) } else { best }
    });
    replace_eye(id, place, best.0, &of_grade, ground);
    ground.observations.push(Observation {
        symptom: id,
        place: place.clone(),
        node,
        grade: best.0,
        likelihood: likelihood(&model[id], of_grade),
        how: How::Read { value: estimate.value, sigma: estimate.sigma() },
        at: Span::default(),
    });
}

/// Whether a measure that was not read at one of a block's places was read at another of them
fn is_begun(ground: &Ground, id: MeasureId, missing: &Place, place: &Place) -> bool {
    ground.readings.keys().any(|(known, at)| *known == id && at != missing && within(at, place))
}

/// Measures, and all that they can be reckoned from
fn made_from(model: &Model, mut measures: Vec<MeasureId>) -> BTreeSet<MeasureId> {
    let mut found = BTreeSet::new();
    while let Some(id) = measures.pop() {
        if found.insert(id) {
            measures.extend(model[id].sums.iter().flat_map(|(sum, _)| sum.readings()));
        }
    }
    found
}

/// A reading beats an eye grade of the same symptom; a clear disagreement is noted
fn replace_eye(
    id: SymptomId,
    place: &Place,
    read: usize,
    of_grade: &dyn Fn(usize) -> f64,
    ground: &mut Ground,
) {
    let eye = ground.observations.iter().position(|own| own.symptom == id && own.place == *place);
    let Some(seen) = eye.map(|eye| ground.observations.remove(eye)) else {
        return;
    };
    if of_grade(seen.grade) < CLASH_UNDER {
        ground.clashes.push(Clash { symptom: id, place: place.clone(), seen: seen.grade, read });
    }
}

/// Likelihood of a reading for each grade with an interval from a to b: [Φ((b−r)/s) − Φ((a−r)/s)] / (b−a), the largest
/// scaled to 1; a value without error gives 1 to the grade that holds it
fn likelihoods(estimate: &Estimate, bounds: &Bounds, range: (f64, f64)) -> Vec<(usize, f64)> {
    let (read, sigma) = (estimate.value, estimate.sigma());
    if sigma <= 0.0 {
        return bounds.grade(read).map(|grade| (grade, 1.0)).into_iter().collect();
    }
    let closed = closed(bounds, range, read, sigma);
    let weights: Vec<(usize, f64)> = closed
        .iter()
        .map(|&(grade, from, to)| {
            let inside = normal::between((from - read) / sigma, (to - read) / sigma);
            (grade, if to > from { inside / (to - from) } else { 0.0 })
        })
        .collect();
    let largest = weights.iter().map(|(_, weight)| *weight).fold(0.0, f64::max);
    if largest > 0.0 {
        let scaled = |weight: f64| if weight / largest >= NONE_UNDER { weight / largest } else { 0.0 };
        weights.into_iter().map(|(grade, weight)| (grade, scaled(weight))).collect()
    } else {
        bounds.grade(read).map(|grade| (grade, 1.0)).into_iter().collect()
    }
}

/// Standard errors past a reading up to which an open interval is taken to go at the least
const PAST_READING: f64 = 3.0;

/// The intervals with their open ends closed: as far out as the bounds themselves lie, and no farther than the range of
/// the expression; the whole range of an instrument would make a grade so wide that no reading could speak for it
fn closed(bounds: &Bounds, range: (f64, f64), read: f64, sigma: f64) -> Vec<(usize, f64, f64)> {
    let finite: Vec<f64> = bounds
        .intervals
        .iter()
        .flat_map(|&(_, from, to)| [from, to])
        .filter(|bound| bound.is_finite())
        .collect();
    let least = finite.iter().copied().fold(f64::INFINITY, f64::min);
    let most = finite.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let reach = if most > least { most - least } else { most.abs().max(sigma) };
    let low = range.0.max(least - reach);
    let high = range.1.min(most + reach);
    let low = low.min(read - PAST_READING * sigma);
    let high = high.max(read + PAST_READING * sigma);
    bounds.intervals.iter().map(|&(grade, from, to)| (grade, from.max(low), to.min(high))).collect()
}
