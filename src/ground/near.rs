//! Facts reckoned from hours so near a bound that either side of it may be meant: no answer turns over the next ten hours.

use crate::model::formula::Bounds;

/// How far about a bound, as a share of it, the choice passes over: the usual life of a part in hours is known no better
/// (estimate)
const NEAR: f64 = 0.1;

/// Chances of the choices of a fact of which so much was reckoned: even over a tenth to either side of each bound, so that at
/// the bound itself both are as likely; none where one choice is certain
pub(super) fn chances(bounds: &Bounds, value: f64, choices: usize) -> Option<Vec<f64>> {
    let mut chances = vec![0.0; choices];
    for &(choice, from, to) in &bounds.intervals {
        if let Some(chance) = chances.get_mut(choice) {
            *chance += passed(value, from) - passed(value, to);
        }
    }
    chances.iter().all(|chance| *chance < 1.0).then_some(chances)
}

/// How far a value has passed a bound, from 0 to 1
fn passed(value: f64, bound: f64) -> f64 {
    let reach = NEAR * bound.abs();
    if reach > 0.0 && reach.is_finite() {
        ((value - bound) / (2.0 * reach) + 0.5).clamp(0.0, 1.0)
    } else {
        f64::from(u8::from(value >= bound))
    }
}
