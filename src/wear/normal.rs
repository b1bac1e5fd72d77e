//! The normal law of errors.

use std::f64::consts::SQRT_2;

/// Mass of the standard normal law from `from` to `to`, in standard errors, taken in the tail where both lie so that nothing
/// cancels: Φ(x) = erfc(−x/√2) / 2
pub fn between(from: f64, to: f64) -> f64 {
    let below = |x: f64| 0.5 * libm::erfc(-x / SQRT_2);
    let mass = if from > 0.0 { below(-from) - below(-to) } else { below(to) - below(from) };
    mass.max(0.0)
}

/// Probability that a value with a standard error is 0 or more; without an error it is or it is not
pub fn at_least_nothing(value: f64, sigma: f64) -> f64 {
    if sigma > 0.0 { between(-value / sigma, f64::INFINITY) } else { f64::from(u8::from(value >= 0.0)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    /// Table values of the standard normal law, from memory
    #[rstest]
    #[case(f64::NEG_INFINITY, 0.0, 0.5)]
    #[case(-1.0, 1.0, 0.682_689_492_137)]
    #[case(1.96, f64::INFINITY, 0.024_997_895_148)]
    #[case(-1.644_853_626_951, 1.644_853_626_951, 0.9)]
    fn mass_of_the_normal_law(#[case] from: f64, #[case] to: f64, #[case] mass: f64) {
        assert!((between(from, to) - mass).abs() < 1e-11);
    }

    #[rstest]
    #[case(0.0, 1.0, 0.5)]
    #[case(1.96, 1.0, 0.975_002_104_852)]
    #[case(-3.92, 2.0, 0.024_997_895_148)]
    #[case(0.0, 0.0, 1.0)]
    #[case(-0.1, 0.0, 0.0)]
    fn how_likely_a_value_is_at_least_nothing(#[case] value: f64, #[case] sigma: f64, #[case] chance: f64) {
        assert!((at_least_nothing(value, sigma) - chance).abs() < 1e-11);
    }
}
