//! Left and right of one measure apart by a factor that a slip makes: a point at the wrong place, or another unit meant.
//!
//! Such readings are held back and asked about before they speak: one of them would outweigh all else.

use super::grounded::Ground;
use super::record::{Held, HeldWhat};
use super::slip::MEANT;
use crate::model::{Dimension, MeasureId, Model};
use crate::place::{Place, Side};
use crate::units::Quantity;
use crate::wear::estimate::Evaluator;

/// Factors that slips make, with what each says
const SLIPS: [(f64, &str); 3] = [
    (10.0, "ten times apart, as where a point stands at the wrong place or centimetres are meant"),
    (25.4, "apart as inches are from millimetres"),
    (100.0, "a hundred times apart, as where a point stands at the wrong place"),
];
/// How near to the factor the two must be, as a share of it: wear makes no two sides quite alike
const NEAR: f64 = 0.08;
/// How many times a new size the limit may be for wear to set two sides apart by less than a slip does: a play that wears from
/// next to nothing is soon ten times another
const FROM_NEXT_TO_NOTHING: f64 = 5.0;

/// Holds back what was read of two sides that a slip sets apart
pub(super) fn hold(model: &Model, ground: &mut Ground) {
    let left = ground.readings.keys().filter(|(_, place)| *place == Place::Side(Side::Left));
    let ids: Vec<MeasureId> = left.map(|(id, _)| *id).collect();
    for id in ids {
        let Some((aside, why)) = slipped(model, ground, id) else { continue };
        for side in aside {
            let place = Place::Side(side);
            ground.readings.remove(&(id, place.clone()));
            ground.held.push(Held::new(model, HeldWhat::Measure(id), &place, why.clone()));
        }
    }
}

/// The sides that may have slipped, with what is said of them: the one that does not fit the sizes of the machine, else both
fn slipped(model: &Model, ground: &Ground, id: MeasureId) -> Option<(Vec<Side>, String)> {
    let read = |side: Side| Some(ground.readings.get(&(id, Place::Side(side)))?.value);
    let (left, right) = (read(Side::Left)?, read(Side::Right)?);
    let times = left.max(right) / left.min(right);
    let (_, what) = SLIPS.into_iter().find(|(factor, _)| (times / factor - 1.0).abs() < NEAR)?;
    let evaluator = Evaluator { model, machine: &ground.machine, readings: &ground.readings };
    let size = evaluator.dimension(id, &Place::Side(Side::Left)).ok();
    if size.is_some_and(wears_from_next_to_nothing) {
        return None;
    }
    let fits = |side: &Side| {
        let worn = evaluator.worn(id, &Place::Side(*side)).ok()?;
        Some((MEANT.0..=MEANT.1).contains(&worn.value))
    };
    let aside: Vec<Side> = Side::BOTH.into_iter().filter(|side| fits(side) != Some(true)).collect();
    let unit = model[id].unit();
    let shown = |value: f64| Quantity { value: unit.from_base(value), unit };
    let why = format!(
        "left {} and right {} are {what}; read both again, and write them anew",
        shown(left),
        shown(right)
    );
    (!aside.is_empty() && left.min(right) > 0.0).then_some((aside, why))
}

fn wears_from_next_to_nothing(size: &Dimension) -> bool {
    let (new, limit) = (size.points.first(), size.points.last());
    new.zip(limit).is_some_and(|(new, limit)| limit.0 >= FROM_NEXT_TO_NOTHING * new.0)
}
