//! What a reading says of the grades of a sign: for each the mass of the error inside its bounds, over their width.

use crate::language::grounded::visit;
use pinboss::wear::normal;
use rstest::rstest;

/// Likelihoods of the grades of a sign by a reading with this error
fn likelihoods(error: f64, range: &str, from: &str, read: &str) -> Vec<f64> {
    let rules = format!(
        "measure gap: \"gap\"\n    unit mm   range {range}   error {error}\nsymptom sign: \"sign\"\n    grades one, two, three\n    from gap: {from}\n    without 1% two\n"
    );
    let bench = visit(&rules, "{tag: T, hours: 3000}", &format!("{{machine: {{read: {{gap: {read}}}}}}}"));
    assert_eq!(bench.said(), Vec::<String>::new());
    let [observation] = bench.ground.observations.as_slice() else {
        panic!("{:?}", bench.ground.observations)
    };
    observation.likelihood.clone()
}

/// Ample over 5 mm, small down to 1 mm, none under that
const GAP: &str = "one, two under 5 mm, three under 1 mm";

#[rstest]
#[case("12 mm", 0)]
#[case("3 mm", 1)]
#[case("0.2 mm", 2)]
fn a_clear_reading_gives_its_grade_the_largest_likelihood(#[case] read: &str, #[case] grade: usize) {
    for (other, weight) in likelihoods(0.3, "0 to 60", GAP, read).into_iter().enumerate() {
        assert_eq!((weight - 1.0).abs() < 1e-12, other == grade, "{other} {weight}");
    }
}

#[test]
fn likelihood_is_the_mass_inside_over_the_width() {
    let weights = likelihoods(1.0, "0 to 60", GAP, "4.5 mm");
    let small = normal::between(-3.5, 0.5) / 4.0;
    let ample = normal::between(0.5, 4.5) / 4.0;
    assert!((weights[0] / weights[1] - ample / small).abs() < 1e-12);
}

/// A reading two standard errors short of a bound speaks for the grade it lies in, however far the instrument reaches
#[test]
fn the_reach_of_an_instrument_makes_no_grade_too_wide() {
    let weights = likelihoods(8.0, "-1500 to 1300", "one, two over 60 mm, three over 95 mm", "44 mm");
    assert!(weights[0] > 0.999 && weights[1] < 0.1, "{weights:?}");
}
