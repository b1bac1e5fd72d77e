//! Signs that are a fault by themselves: how likely one has grades that a remedy mends, by what was seen or read of it alone.

use super::record::{How, Observation};
use crate::model::Model;
use crate::wear::normal;

/// Probability from which a sign calls for work by itself: it is rather so than not
pub const CALLED_FROM: f64 = 0.5;

/// Probability that a sign has one of some grades: 1 where it was seen so for sure; of a reading the share of what it may be
/// that lies in them, so that a figure near a bound is as uncertain as its instrument; of a doubtful look as it was weighed
pub fn chance(model: &Model, own: &Observation, grades: &[usize]) -> f64 {
    let (bounds, shape) = (&model[own.symptom].reading, &model[own.symptom].effect.grades);
    if let (How::Read { value, sigma }, Some((_, bounds))) = (&own.how, bounds) {
        if *sigma <= 0.0 {
            return f64::from(u8::from(bounds.grade(*value).is_some_and(|grade| grades.contains(&grade))));
        }
        let inside = bounds.intervals.iter().filter(|(grade, ..)| grades.contains(grade));
        return inside
            .map(|(_, from, to)| normal::between((from - value) / sigma, (to - value) / sigma))
            .sum();
    }
    let weight = |wanted: &dyn Fn(usize) -> bool| {
        own.likelihood
            .iter()
            .enumerate()
            .filter(|(state, _)| wanted(*state))
            .map(|(_, weight)| weight)
            .sum::<f64>()
    };
    let all = weight(&|_| true);
    let shown = weight(&|state| grades.iter().any(|grade| shape.shows(*grade, state)));
    if all > 0.0 { shown / all } else { 0.0 }
}

/// Whether a remedy mends a sign by itself, and it is rather there than not
pub fn is_fault(model: &Model, own: &Observation) -> bool {
    let mut signs = model.remedies.iter().flat_map(|remedy| &remedy.mends);
    signs.any(|sign| sign.symptom == own.symptom && chance(model, own, &sign.grades) > CALLED_FROM)
}
