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

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    /// `early, mid over 40%, late over 80%`
    #[rstest]
    #[case(0.2, None)]
    #[case(0.36, None)]
    #[case(0.38, Some(vec![0.75, 0.25, 0.0]))]
    #[case(0.4, Some(vec![0.5, 0.5, 0.0]))]
    #[case(0.6, None)]
    #[case(0.84, Some(vec![0.0, 0.25, 0.75]))]
    #[case(1.2, None)]
    fn a_choice_passes_over_about_its_bound(#[case] value: f64, #[case] wanted: Option<Vec<f64>>) {
        let bounds =
            Bounds { intervals: vec![(0, f64::NEG_INFINITY, 0.4), (1, 0.4, 0.8), (2, 0.8, f64::INFINITY)] };
        let found = chances(&bounds, value, 3);
        assert_eq!(found.is_some(), wanted.is_some(), "{found:?}");
        for (found, wanted) in found.into_iter().flatten().zip(wanted.into_iter().flatten()) {
            assert!((found - wanted).abs() < 1e-9, "{found} {wanted}");
        }
    }
}
