//! Dimensions and life of parts: how large they are when new and when worn out, and how long that takes.

use super::ids::MeasureId;
use super::test::Test;
use std::collections::BTreeMap;

/// Dimensions and life of one size class
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Size {
    /// What the class is, and where the figures come from
    pub label: String,
    /// Sizes by measure; the first row whose test holds counts
    pub dimensions: BTreeMap<MeasureId, Vec<Dimension>>,
    /// Hours to 100 % by measure; the first row whose test holds counts
    pub life: BTreeMap<MeasureId, Vec<(f64, Test)>>,
    /// Standard deviation of life between machines on one site, from 0 to 1
    pub spread: f64,
}

/// A row of dimensions
#[derive(Clone, Debug, PartialEq)]
pub struct Dimension {
    /// Sizes in base units with the per cent worn that each means, from new on; a lone new size has no per cent
    pub points: Vec<(f64, f64)>,
    /// Whether wear makes it larger
    pub grows: bool,
    /// How many times as fast wear goes on after the last point
    pub after: f64,
    /// Standard deviation of the new size, in base units
    pub tolerance: f64,
    /// When it holds
    pub test: Test,
}

impl Dimension {
    /// Whether sizes grow from new to the limit; a lone new size tells nothing, and is taken to shrink
    pub fn grows(points: &[(f64, f64)]) -> bool {
        points.first().zip(points.last()).is_some_and(|(new, limit)| limit.0 > new.0)
    }
}

/// Pieces of a row that a measure is the length of
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Spans {
    /// How many, over 1
    pub count: u32,
    /// What they are: `links`
    pub of: String,
    /// What stands at both ends of each: `pins`, one more than there are pieces
    pub between: String,
}
