//! Odds in decibans: ten times their decimal logarithm (Good 1950).

/// Probability under which none is told apart from none at all, so that odds stay numbers: far under all that a figure of the
/// rules can bring about, and far enough over the least number there is that odds of two such probabilities are numbers too
pub const LEAST: f64 = 1e-300;

/// Odds of something, from the probabilities of it and of its contrary, either of which may be as small as can be
pub fn of(present: f64, absent: f64) -> f64 {
    10.0 * (libm::log10(present.max(LEAST)) - libm::log10(absent.max(LEAST)))
}

/// A ratio of odds; infinite where that is 0 or infinite
pub fn of_ratio(ratio: f64) -> f64 {
    10.0 * libm::log10(ratio)
}

/// The ratio of odds that decibans stand for
pub fn ratio(decibans: f64) -> f64 {
    libm::pow(10.0, decibans / 10.0)
}

/// The probability whose odds decibans stand for
pub fn probability(decibans: f64) -> f64 {
    1.0 / (1.0 + ratio(-decibans))
}
