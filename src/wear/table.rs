//! The table of a dimension: from a size to the per cent worn it means.
//!
//! Per cent is the way gone from new to the limit, under 0 and past 100 as well (common practice). That wear goes faster once
//! the limit is past changes the hours it takes, never the per cent: else one figure would mean two things.

use crate::model::Dimension;

/// Per cent worn that a size means, and per cent for each unit of size there.
///
/// Between two points of the table the per cent goes straight; before the first it goes on at the first slope, so
/// that a size better than new is under 0 %; past the last it goes on at the last slope.
/// None for a dimension without a limit.
pub fn percent(dimension: &Dimension, size: f64) -> Option<(f64, f64)> {
    let points = &dimension.points;
    let pairs = points.iter().zip(points.iter().skip(1));
    let growing = points.last()?.0 > points.first()?.0;
    let reached = |end: f64| if growing { size <= end } else { size >= end };
    let mut last = None;
    for (&from, &to) in pairs {
        let slope = (to.1 - from.1) / (to.0 - from.0);
        if reached(to.0) {
            return Some((from.1 + (size - from.0) * slope, slope));
        }
        last = Some((to, slope));
    }
    let ((end, most), slope) = last?;
    Some((most + (size - end) * slope, slope))
}

/// The size that means so many per cent worn, by the same table; none for a dimension without a limit
pub fn size(dimension: &Dimension, wanted: f64) -> Option<f64> {
    let points = &dimension.points;
    let mut pairs = points.iter().zip(points.iter().skip(1));
    if let Some((from, to)) = pairs.find(|(_, to)| wanted <= to.1) {
        return Some(from.0 + (wanted - from.1) * (to.0 - from.0) / (to.1 - from.1));
    }
    let (from, to) = points.iter().zip(points.iter().skip(1)).next_back()?;
    Some(to.0 + (wanted - to.1) * (to.0 - from.0) / (to.1 - from.1))
}

/// The new size; none for an empty table
pub fn new_size(dimension: &Dimension) -> Option<f64> {
    dimension.points.first().map(|point| point.0)
}

/// 1 for a size that grows with wear, -1 for one that shrinks
pub fn direction(dimension: &Dimension) -> f64 {
    if dimension.grows { 1.0 } else { -1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::test::Test;
    use rstest::rstest;

    fn dimension(points: &[(f64, f64)]) -> Dimension {
        let points = points.to_vec();
        Dimension {
            grows: Dimension::grows(&points),
            points,
            after: 2.5,
            tolerance: 0.0,
            test: Test::default(),
        }
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
}
