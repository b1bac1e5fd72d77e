//! Several values read of one measure at one place: what counts of them, and which of them is to be read again.

use crate::invariant::Hold;
use crate::machine::Machine;
use crate::model::subject::{Subject, as_measure};
use crate::model::{How, MeasureId, Model};
use crate::place::Place;
use crate::units::Unit;
use crate::wear::estimate::Evaluator;
use crate::wear::{Reading, Readings};
use serde::Serialize;

/// How many errors of the instrument a value must lie from the mean of the others to be asked for again: no careful reading
/// strays so far, and a part that does is worth a second look
const FAR: f64 = 6.0;

/// A value that lies far from the others of its place
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Outlier {
    /// The measure
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words, and where
    #[serde(flatten, serialize_with = "as_measure")]
    pub named: Subject,
    /// What it reads, in `unit`
    pub read: f64,
    /// Mean of the others, in `unit`
    pub others: f64,
    /// How many values there are, itself among them
    pub of: usize,
    /// Unit of both
    pub unit: Unit,
    /// It counts as the worst of them, else it is in their mean
    pub counts: bool,
}

/// What counts of values, never empty: the worst of them where the rule says so and a size tells which is worse, else their mean.
///
/// The worst is as uncertain as one reading; the mean as the instrument or as the scatter of the values, whichever is more.
pub(super) fn reading(
    model: &Model,
    machine: &Machine,
    (id, place): (MeasureId, &Place),
    values: &[f64],
) -> Reading {
    let How::Read { error, worst, .. } = model[id].how else {
        return Reading { value: mean(values), error: 0.0 };
    };
    static NOTHING: Readings = Readings::new();
    let evaluator = Evaluator { model, machine, readings: &NOTHING };
    match evaluator.dimension(id, place) {
        Ok(size) if worst && size.grows => Reading { value: extreme(values, f64::max), error },
        Ok(_) if worst => Reading { value: extreme(values, f64::min), error },
        _ => {
            let count = values.len() as f64;
            Reading { value: mean(values), error: error.max(scatter(values)) / libm::sqrt(count) }
        }
    }
}

fn extreme(values: &[f64], of: fn(f64, f64) -> f64) -> f64 {
    values.iter().copied().reduce(of).hold("a reading has a value")
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// Standard deviation of values about their mean; 0 for one
fn scatter(values: &[f64]) -> f64 {
    let middle = mean(values);
    let square: f64 = values.iter().map(|value| (value - middle) * (value - middle)).sum();
    if values.len() > 1 { libm::sqrt(square / (values.len() - 1) as f64) } else { 0.0 }
}

/// The value that lies far from the others, which agree among themselves; none of fewer than three
pub(super) fn outlier(model: &Model, (id, place): (MeasureId, &Place), values: &[f64]) -> Option<Outlier> {
    let How::Read { unit, error, worst, .. } = model[id].how else { return None };
    let far = |number: usize, value: f64| {
        let others = values.iter().enumerate().filter(|(other, _)| *other != number);
        let others: Vec<f64> = others.map(|(_, value)| *value).collect();
        let middle = mean(&others);
        let alike = others.iter().all(|other| (other - middle).abs() <= FAR / 2.0 * error);
        (alike && (value - middle).abs() > FAR * error).then_some(middle)
    };
    let mut all = values.iter().enumerate().filter(|_| values.len() > 2);
    let (value, others) = all.find_map(|(number, value)| Some((*value, far(number, *value)?)))?;
    Some(Outlier {
        measure: id,
        named: model.subject(id, place),
        read: unit.from_base(value),
        others: unit.from_base(others),
        of: values.len(),
        unit,
        counts: worst,
    })
}
