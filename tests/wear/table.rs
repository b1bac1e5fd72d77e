//! From a size to the per cent worn, and back.

use pinboss::model::Dimension;
use pinboss::model::test::Test;
use pinboss::wear::table::{direction, percent, size};
use rstest::rstest;

fn dimension(points: &[(f64, f64)]) -> Dimension {
    let points = points.to_vec();
    Dimension { grows: Dimension::grows(&points), points, after: 2.5, tolerance: 0.0, test: Test::default() }
}

#[rstest]
#[case(114.0, 0.0)]
#[case(107.0, 60.0)]
#[case(105.0, 80.0)]
#[case(102.0, 110.0)]
#[case(115.0, -60.0 / 7.0)]
fn sizes_on_a_bent_shrinking_table(#[case] size: f64, #[case] expected: f64) {
    let table = dimension(&[(114.0, 0.0), (107.0, 60.0), (103.0, 100.0)]);
    let (found, slope) = percent(&table, size).unwrap();
    assert!((found - expected).abs() < 1e-9, "{found}");
    assert!(slope < 0.0);
}

/// The size of a per cent comes to that per cent again, on every piece of the table and past its end
#[rstest]
#[case(&[(114.0, 0.0), (107.0, 60.0), (103.0, 100.0)])]
#[case(&[(800.0, 0.0), (809.0, 100.0)])]
#[case(&[(20.0, 0.0), (16.0, 50.0)])]
fn the_size_of_a_per_cent_is_the_table_read_backwards(#[case] points: &[(f64, f64)]) {
    let table = dimension(points);
    for wanted in [-10.0, 0.0, 25.0, 60.0, 80.0, 100.0, 140.0] {
        let (found, _) = percent(&table, size(&table, wanted).unwrap()).unwrap();
        assert!((found - wanted).abs() < 1e-9, "{found} {wanted}");
    }
    assert_eq!(size(&dimension(&[(20.0, 0.0)]), 100.0), None);
}

#[test]
fn a_growing_size_wears_the_same_way() {
    let table = dimension(&[(800.0, 0.0), (809.0, 100.0)]);
    let (found, _) = percent(&table, 804.5).unwrap();
    assert!((found - 50.0).abs() < 1e-9);
    assert!((direction(&table) - 1.0).abs() < f64::EPSILON);
}

#[test]
fn a_size_without_a_limit_has_no_per_cent() {
    assert_eq!(percent(&dimension(&[(20.0, 0.0)]), 10.0), None);
}
