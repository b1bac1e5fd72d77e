//! Whether the sizes of the machine's class are those of the machine.
//!
//! One reading better than new is a slip, or a part of another make. Several are another machine: then no per cent, no hours and
//! no plan are made of them, and the causes are weighed without what hangs on sizes.

use super::grounded::Ground;
use super::record::{Held, HeldWhat, Misfit};
use crate::machine::{Answer, Supposed};
use crate::model::{MeasureId, Model};
use crate::place::Place;
use crate::wear::Readings;
use crate::wear::estimate::Evaluator;
use std::collections::BTreeSet;

/// Per cent past which a part is so far beyond its limit that, beside others better than new, the sizes must be others'
const FAR_PAST: f64 = 250.0;

/// Sets aside all that was held against the sizes of a class which are not those of the machine
pub(super) fn set_aside(model: &Model, ground: &mut Ground) {
    let Some(misfit) = misfit(model, ground) else { return };
    let why = format!(
        "it is held against the sizes of a `{}` machine, and they are not those of this one",
        misfit.size
    );
    let of_class = of_class(model, ground);
    let is_one = |held: &Held| {
        let key = |id: MeasureId| (id, held.named.place.clone());
        matches!(held.what, HeldWhat::Measure(id) if of_class.contains(&key(id)))
    };
    ground.held.retain(|held| !is_one(held));
    for key in &of_class {
        ground.readings.remove(key);
        ground.set_aside.remove(key);
        ground.held.push(Held::new(model, HeldWhat::Measure(key.0), &key.1, why.clone()));
    }
    ground.misfit = Some(misfit);
}

/// All that was read and is held against the class, whether it counted so far or was better than new
fn of_class(model: &Model, ground: &Ground) -> Vec<(MeasureId, Place)> {
    let read = [&ground.readings, &ground.set_aside].into_iter().flat_map(|readings| {
        let evaluator = evaluator(model, ground, readings);
        readings.keys().filter(move |(id, place)| is_of_class(&evaluator, *id, place))
    });
    read.cloned().collect()
}

fn evaluator<'a>(model: &'a Model, ground: &'a Ground, readings: &'a Readings) -> Evaluator<'a> {
    Evaluator { model, machine: &ground.machine, readings }
}

/// Whether a reading is held against a size of the machine's class
fn is_of_class(evaluator: &Evaluator<'_>, id: MeasureId, place: &Place) -> bool {
    let gate = &evaluator.model[id].common.gate;
    !evaluator.machine.sizes.contains_key(&id)
        && evaluator.dimension(id, place).is_ok()
        && evaluator.machine.holds(evaluator.model, gate, place, &Supposed::new()) != Answer::No
}

/// The class, where two measures or more speak against it and as many as for it
fn misfit(model: &Model, ground: &Ground) -> Option<Misfit> {
    let size = ground.machine.size.clone()?;
    let (mut better, mut far_past, mut all) = (BTreeSet::new(), BTreeSet::new(), BTreeSet::new());
    for readings in [&ground.readings, &ground.set_aside] {
        let evaluator = evaluator(model, ground, readings);
        for ((id, place), reading) in
            readings.iter().filter(|((id, place), _)| is_of_class(&evaluator, *id, place))
        {
            let Ok(worn) = evaluator.worn(*id, place) else { continue };
            all.insert(*id);
            if evaluator.is_better_than_new(*id, place, reading.value) {
                better.insert(*id);
            } else if worn.value > FAR_PAST {
                far_past.insert(*id);
            }
        }
    }
    let against = better.len() + far_past.len();
    let terms = |ids: BTreeSet<MeasureId>| ids.into_iter().map(|id| model.term(id)).collect();
    (!better.is_empty() && against >= 2 && 2 * against >= all.len()).then(|| Misfit {
        size,
        of: all.len(),
        better: terms(better),
        far_past: terms(far_past),
    })
}
