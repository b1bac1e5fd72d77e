//! Shapes of graded states, each with the join that noisy-MAX folds contributions with

/// Shape of a noisy-MAX node's states, state 0 being the normal one
///
/// Every shape is a join-semilattice with state 0 as its least element, which is what makes
/// `P(state at or below g)` a product over the node's paths (Díez 1993, Srinivas 1993, carried
/// over from chains to semilattices).
#[derive(Copy, Clone, Eq, PartialEq, Debug)]
pub enum Shape {
    /// States `0..grades`, each worse than the one before; the join is the larger
    Ladder {
        /// Number of states, the normal one among them, at least 1
        grades: usize,
    },
    /// State 0 normal, `1..=alternatives` none worse than another, and last the state in which
    /// two different ones show together
    Alternatives {
        /// Number of alternatives, neither the normal state nor the last one among them
        alternatives: usize,
    },
    /// Two ladders side by side: state `i * (high + 1) + j` stands at grade `i` of the low arm and
    /// `j` of the high arm; the join is taken arm by arm
    Arms {
        /// Grades of the low arm above normal
        low: usize,
        /// Grades of the high arm above normal
        high: usize,
    },
}

impl Shape {
    /// Number of states, saturating at the largest `usize`
    pub fn states(self) -> usize {
        match self {
            Shape::Ladder { grades } => grades,
            Shape::Alternatives { alternatives } => alternatives.saturating_add(2),
            Shape::Arms { low, high } => low.saturating_add(1).saturating_mul(high.saturating_add(1)),
        }
    }

    /// State that shows when `a` and `b`, both under [`Shape::states`], come together
    pub fn join(self, a: usize, b: usize) -> usize {
        match self {
            Shape::Ladder { .. } => a.max(b),
            Shape::Alternatives { alternatives } => match (a, b) {
                (0, other) | (other, 0) => other,
                (a, b) if a == b => a,
                _ => alternatives.saturating_add(1),
            },
            Shape::Arms { high, .. } => {
                let width = high.saturating_add(1);
                (a / width).max(b / width) * width + (a % width).max(b % width)
            }
        }
    }

    /// Share at or below a state in each of some rows of shares, one entry for each state
    pub fn held(self, rows: &[f64], top: usize) -> Vec<f64> {
        let held = |row: &[f64]| {
            let states = row.iter().enumerate();
            states.filter(|&(state, _)| self.at_or_below(state, top)).map(|(_, share)| share).sum()
        };
        rows.chunks(self.states().max(1)).map(held).collect()
    }

    /// Whether `a` adds nothing to `b`, that is `join(a, b) == b`
    pub fn at_or_below(self, a: usize, b: usize) -> bool {
        self.join(a, b) == b
    }
}
