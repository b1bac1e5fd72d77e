//! The straight line against figures worked by hand, and when it tells no end.

use crate::wear::visits::near;
use pinboss::wear::line::{Errors, Line, Point};
use rstest::rstest;

fn points(of: &[(f64, f64, f64)]) -> Vec<Point> {
    of.iter().map(|&(hours, value, sigma)| Point { hours, value, sigma }).collect()
}

/// (0, 0), (1, 1), (2, 4), all with an error of 2: slope 2, intercept -1/3; the slope's variance is 4 / 2, the intercept's
/// 4 (1/3 + 1/2)
#[test]
fn three_points_of_one_error() {
    let line = Line::nearest(&points(&[(0.0, 0.0, 2.0), (1.0, 1.0, 2.0), (2.0, 4.0, 2.0)])).unwrap();
    near(line.slope, 2.0);
    near(line.at(0.0), -1.0 / 3.0);
    near(line.slope_sigma(), 2.0_f64.sqrt());
    near(line.sigma_at(0.0), (4.0_f64 * (1.0 / 3.0 + 0.5)).sqrt());
    assert_eq!(line.errors, Errors::Readings);
    near(line.quantile(), 1.644_854);
}

/// The same with errors of 0.1: the sum of squares 2/3 is 66.7 variances where 3.84 is the most in 19 of 20 draws, so that the
/// scatter counts, with Student's t of one degree: 6.3138
#[test]
fn scatter_that_the_errors_do_not_explain() {
    let line = Line::nearest(&points(&[(0.0, 0.0, 0.1), (1.0, 1.0, 0.1), (2.0, 4.0, 0.1)])).unwrap();
    let Errors::Scatter { degrees, ratio } = line.errors else { panic!("{:?}", line.errors) };
    near(degrees, 1.0);
    near(ratio, 200.0 / 3.0);
    near(line.slope_sigma(), (2.0_f64 / 3.0 / 2.0).sqrt());
    near(line.quantile(), 6.313_752);
}

/// A point with half the error weighs four times: (0, 0) twice as sure as (1, 1) and (2, 0)
#[test]
fn a_surer_reading_weighs_more() {
    let line = Line::nearest(&points(&[(0.0, 0.0, 0.5), (1.0, 1.0, 1.0), (2.0, 0.0, 1.0)])).unwrap();
    // Weights 4, 1, 1: mean hours 1/2, mean value 1/6; sums of squares 3.5 and of products 0.5.
    near(line.slope, 0.5 / 3.5);
    near(line.at(0.5), 1.0 / 6.0);
}

#[rstest]
#[case::too_few(&[(0.0, 0.0, 1.0), (1.0, 1.0, 1.0)])]
#[case::all_at_once(&[(5.0, 0.0, 1.0), (5.0, 1.0, 1.0), (5.0, 2.0, 1.0)])]
#[case::without_error(&[(0.0, 0.0, 0.0), (1.0, 1.0, 1.0), (2.0, 2.0, 1.0)])]
fn where_there_is_no_line(#[case] of: &[(f64, f64, f64)]) {
    assert_eq!(Line::nearest(&points(of)), None);
}

/// A slope that may be none at all gives no upper end, and a slope downward no hours
#[test]
fn a_doubtful_slope_has_no_upper_end() {
    let of = points(&[(0.0, 20.0, 5.0), (100.0, 24.0, 5.0)]);
    let rising = Line::through(of[0], of[1]).unwrap().reaches(100.0, 5.0).unwrap();
    near(rising.hours, 2000.0);
    assert!(rising.upper.is_none() && rising.lower > 100.0 && rising.lower < 2000.0, "{rising:?}");
    let falling = Line::through(Point { hours: 0.0, ..of[1] }, Point { hours: 100.0, ..of[0] }).unwrap();
    assert_eq!(falling.reaches(100.0, 5.0), None);
}
