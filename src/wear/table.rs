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
