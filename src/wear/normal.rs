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
