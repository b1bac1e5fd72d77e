//! How likely something is, as it is told.

use crate::reason::Ranked;
use crate::report::words::chance;
use serde::Serialize;

/// A probability, or the bounds that are certain to hold it
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Chance {
    /// Its value; none where only bounds are known
    pub probability: Option<f64>,
    /// The value is exact
    pub exact: bool,
    /// Least it can be
    pub lower: f64,
    /// Most it can be
    pub upper: f64,
}

impl Chance {
    /// That of a cause or condition
    pub fn of(ranked: &Ranked) -> Chance {
        let exact = ranked.is_exact();
        let (lower, upper) = (ranked.within.lower, ranked.within.upper);
        Chance { probability: exact.then_some(ranked.probability), exact, lower, upper }
    }

    /// In words and figures: `likely, 74 %`, or `between 60 and 74 %` where only bounds are known
    pub fn in_words(&self) -> String {
        chance(self.probability, self.lower, self.upper)
    }
}
