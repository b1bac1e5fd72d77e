//! Which causes and conditions are told one by one.

use pinboss::report::extent::{tells_cause, tells_condition};
use rstest::rstest;

#[rstest]
#[case::likely(0.1, 0.74, 0.74, true)]
#[case::small_but_moved(0.01, 0.06, 0.06, true)]
#[case::where_it_stood(0.09, 0.1, 0.1, false)]
#[case::high_where_it_stood(0.4, 0.4, 0.4, true)]
#[case::too_small(0.001, 0.04, 0.04, false)]
#[case::open(0.1, 0.0, 0.99, false)]
fn causes_that_are_told(#[case] prior: f64, #[case] lower: f64, #[case] upper: f64, #[case] told: bool) {
    assert_eq!(tells_cause(prior, lower, upper), told);
}

#[rstest]
#[case::made_likelier(0.3, 0.6, true)]
#[case::where_it_stood(0.6, 0.6, false)]
#[case::certain_where_it_stood(0.9, 0.9, true)]
#[case::rather_not(0.1, 0.4, false)]
fn conditions_that_are_told(#[case] prior: f64, #[case] now: f64, #[case] told: bool) {
    assert_eq!(tells_condition(prior, now, now), told);
}
