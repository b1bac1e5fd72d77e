//! The normal law of errors, against tables of it.

use pinboss::wear::normal::{at_least_nothing, between};
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
