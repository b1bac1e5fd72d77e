//! Figures in words.

use pinboss::report::words::{counted, one_in, percent, ratio_in_words, worn};
use rstest::rstest;

#[rstest]
#[case(0.0002, "under 0.1 %")]
#[case(0.004, "0.4 %")]
#[case(0.914, "91 %")]
#[case(0.9949, "99.5 %")]
#[case(1.0, "over 99.9 %")]
fn shares_in_per_cent(#[case] share: f64, #[case] text: &str) {
    assert_eq!(percent(share), text);
}

#[rstest]
#[case(42.3, 2.6, "42 % worn, give or take 3")]
#[case(0.2, 0.4, "0 % worn, give or take 1")]
#[case(-3.0, 4.1, "as new, give or take 4 %")]
fn wear_in_words(#[case] percent: f64, #[case] around: f64, #[case] text: &str) {
    assert_eq!(worn(percent, around), text);
}

#[rstest]
#[case(1500.0, "1,500")]
#[case(1.04, "1")]
#[case(0.97, "1")]
#[case(0.94, "1 in 1.1")]
#[case(0.05, "1 in 20")]
fn ratios_to_two_digits(#[case] ratio: f64, #[case] text: &str) {
    assert_eq!(ratio_in_words(ratio), text);
}

#[rstest]
#[case(0.00466, "1 in 200")]
#[case(0.0228, "1 in 40")]
#[case(0.000_103, "1 in 10,000")]
#[case(1e-9, "under 1 in a million")]
fn chances_as_one_in_so_many(#[case] chance: f64, #[case] text: &str) {
    assert_eq!(one_in(chance), text);
}

#[rstest]
#[case(0.6, "60 of 100")]
#[case(0.004, "4 of 1,000")]
#[case(0.025, "25 of 1,000")]
#[case(0.0003, "3 of 10,000")]
#[case(0.998, "998 of 1,000")]
#[case(0.0431, "43 of 1,000")]
#[case(1.0, "100 of 100")]
#[case(0.0, "none")]
#[case(1e-9, "fewer than 1 of 1,000,000")]
#[case(1.0 - 1e-9, "nearly all of 1,000,000")]
fn shares_as_counts(#[case] share: f64, #[case] text: &str) {
    assert_eq!(counted(share), text);
}
