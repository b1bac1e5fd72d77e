//! What some of a row tell of all of it.

use crate::support::shipped::{Bench, SHIPPED, dozer};
use pinboss::ground::{HeldWhat, How, find_symptom};
use pinboss::place::{Place, Side};
use pinboss::wear::sample::{left_open, scatter, weights};
use rstest::rstest;

/// Worked by hand: of seven the first, the fourth and the last were read. 2 and 3 lie a third and two thirds of the way to 4, so
/// that the front half, 1 to 3, is (1 + 2/3 + 1/3) / 3 of the first and (1/3 + 2/3) / 3 of the fourth
#[rstest]
#[case(&[1.0, 2.0, 3.0], &[2.0 / 3.0, 1.0 / 3.0, 0.0])]
#[case(&[5.0, 6.0, 7.0], &[0.0, 1.0 / 3.0, 2.0 / 3.0])]
#[case(&[1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0], &[2.0 / 7.0, 3.0 / 7.0, 2.0 / 7.0])]
fn what_lies_between_is_on_the_line(#[case] places: &[f64], #[case] expected: &[f64]) {
    for (weight, wanted) in weights(&[1.0, 4.0, 7.0], places).iter().zip(expected) {
        assert!((weight - wanted).abs() < 1e-12, "{weight} for {wanted}");
    }
}

/// A row on a slope, each roller off it by its scatter to one side or the other: over all 128 ways that can be, the scatter told is
/// on average the true one, and so is the square of what the mean is off by
#[rstest]
fn over_all_rows_the_error_is_that_of_the_mean(
    #[values(&[1.0, 4.0, 7.0], &[1.0, 2.0, 5.0, 7.0], &[2.0, 4.0, 5.0])] read: &[f64],
    #[values(0.0, -6.0)] slope: f64,
) {
    let places: Vec<f64> = (1..=7).map(f64::from).collect();
    let inner: Vec<f64> =
        places.iter().copied().filter(|it| read[0] <= *it && *it <= read[read.len() - 1]).collect();
    let (mut variance, mut square) = (0.0, 0.0);
    for row in 0..128_u32 {
        let own = |at: f64| 50.0 + slope * at + if row >> (at as u32 - 1) & 1 == 1 { 3.0 } else { -3.0 };
        let values: Vec<f64> = read.iter().map(|at| own(*at)).collect();
        variance += libm::pow(scatter(read, &values), 2.0) / 128.0;
        let taken: f64 =
            weights(read, &inner).iter().zip(&values).map(|(weight, value)| weight * value).sum();
        let whole = inner.iter().map(|at| own(*at)).sum::<f64>() / inner.len() as f64;
        square += libm::pow(taken - whole, 2.0) / 128.0;
    }
    assert!((variance - 9.0).abs() < 1e-9, "{variance}");
    assert!((square - 9.0 * libm::pow(left_open(read, &inner), 2.0)).abs() < 1e-9, "{square}");
}

/// The whole row read leaves nothing open; two that are alike tell no scatter
#[test]
fn nothing_is_left_open() {
    assert!(left_open(&[1.0, 2.0, 3.0], &[1.0, 2.0, 3.0]).abs() < f64::EPSILON);
    assert!(scatter(&[1.0, 3.0], &[40.0, 40.0]).abs() < f64::EPSILON);
}

/// A medium machine with rollers at hours, read as told, in mm
fn rollers(read: &[(u32, f64)]) -> Bench {
    let rows: Vec<String> = read
        .iter()
        .map(|(number, size)| format!("roller {number}: {{read: {{roller_tread: {size} mm}}}}"))
        .collect();
    dozer(
        "abrasion: moderate, impact: low",
        "{part: roller, on: 3000 h}",
        &format!("left: {{{}}}", rows.join(", ")),
    )
}

fn grade(bench: &Bench, symptom: &str) -> Option<(String, f64)> {
    let id = find_symptom(&SHIPPED.model, symptom).unwrap();
    let own = bench.ground.observations.iter().find(|own| own.symptom == id)?;
    let How::Read { sigma, .. } = own.how else { return None };
    Some((SHIPPED.model[id].effect.grades.name(own.grade).to_owned(), sigma))
}

/// The first, the middle and the last roller stand for the row (common practice), with more left open than by all seven
#[test]
fn three_of_seven_rollers_make_a_row() {
    let three = rollers(&[(1, 178.0), (4, 184.5), (7, 189.0)]);
    let sizes = [178.0, 180.0, 182.5, 184.5, 186.0, 188.0, 189.0];
    let seven: Vec<(u32, f64)> = (1..).zip(sizes).collect();
    let (few, all) = (grade(&three, "roller_lead").unwrap(), grade(&rollers(&seven), "roller_lead").unwrap());
    assert_eq!((few.0.as_str(), all.0.as_str()), ("front_ahead", "front_ahead"));
    assert!(few.1 > all.1, "{} against {}", few.1, all.1);
    assert!(three.ground.held.is_empty(), "{:?}", three.ground.held);
}

/// Two of seven are no row; it is said how many were read, and that three are
#[test]
fn two_of_seven_rollers_make_none() {
    let two = rollers(&[(1, 178.0), (4, 184.0)]);
    assert_eq!(grade(&two, "roller_lead"), None);
    let id = find_symptom(&SHIPPED.model, "roller_lead").unwrap();
    let held = two.ground.held.iter().find(|it| it.what == HeldWhat::Symptom(id)).unwrap();
    assert!(held.why.contains("only 2 of the 7 rollers of a side"), "{}", held.why);
    assert_eq!(held.named.place, Place::Side(Side::Left));
}
