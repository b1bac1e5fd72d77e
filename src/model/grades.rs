//! Grades of a condition or symptom, in one of three shapes.
//!
//! Two arms are one node whose states are pairs, one grade of each arm, joined arm by arm. A line still yields one grade (`50%
//! toed_in, 40% toed_out` leaves 10 % straight), a finding on one arm says nothing of the other, and normal speaks of both. Two
//! separate nodes would have made the shares of one line independent of each other. A doubtful look (`sure 70%`) or a reading
//! weighs a state by the sum over the grades that show in it.

/// Named grades, and how two that come together make one
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Grades {
    /// The names; the normal grade first, then as `shape` says
    pub names: Vec<String>,
    /// How they stand to each other
    pub shape: Shape,
}

/// How grades stand to each other
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Shape {
    /// Each worse than the one before
    Ladder,
    /// Neither worse: the names between the first and the last; two different ones show the last
    Alternatives,
    /// Two ladders from one normal grade: names `1..=low` downward, the rest upward
    Arms {
        /// Number of grades on the low arm
        low: usize,
    },
}

impl Grades {
    /// A distribution over the states: what is named, and the rest normal
    pub fn distribution(&self, effects: Option<&Vec<(usize, f64)>>) -> Vec<f64> {
        let mut row = vec![0.0; self.states()];
        let mut rest = 1.0;
        for &(state, share) in effects.into_iter().flatten() {
            if let Some(slot) = row.get_mut(state) {
                *slot += share;
                rest -= share;
            }
        }
        if let Some(normal) = row.first_mut() {
            *normal = f64::max(rest, 0.0);
        }
        row
    }

    /// The grades of a block that names none
    pub fn no_yes() -> Self {
        Grades { names: vec!["no".to_owned(), "yes".to_owned()], shape: Shape::Ladder }
    }

    /// Stands in for grades that could not be read; no grade of it is known, and none is reported as unknown
    pub fn unread() -> Self {
        Grades { names: Vec::new(), shape: Shape::Ladder }
    }

    /// Number of a named grade, normal being 0
    pub fn find(&self, name: &str) -> Option<usize> {
        self.names.iter().position(|known| known == name)
    }

    /// Name of a grade by its number
    pub fn name(&self, grade: usize) -> &str {
        self.names.get(grade).map_or("", String::as_str)
    }

    /// Number of grades on the low and the high arm; the low one is empty but for two arms
    pub fn arms(&self) -> (usize, usize) {
        let abnormal = self.names.len().saturating_sub(1);
        match self.shape {
            Shape::Arms { low } => (low, abnormal.saturating_sub(low)),
            Shape::Ladder | Shape::Alternatives => (0, abnormal),
        }
    }

    /// Number of states a node with these grades has: on two arms, one for each pair
    pub fn states(&self) -> usize {
        let (low, high) = self.arms();
        (low + 1) * (high + 1)
    }

    /// The state in which only this grade shows
    pub fn state(&self, grade: usize) -> usize {
        let (low, high) = self.arms();
        match self.shape {
            Shape::Arms { .. } if grade == 0 => 0,
            Shape::Arms { .. } if grade <= low => grade * (high + 1),
            Shape::Arms { .. } => grade - low,
            Shape::Ladder | Shape::Alternatives => grade,
        }
    }

    /// Whether a grade shows in a state: on two arms a grade says nothing of the other arm, and normal speaks of both
    pub fn shows(&self, grade: usize, state: usize) -> bool {
        let (low, high) = self.arms();
        match self.shape {
            Shape::Arms { .. } if grade == 0 => state == 0,
            Shape::Arms { .. } if grade <= low => state / (high + 1) == grade,
            Shape::Arms { .. } => state % (high + 1) == grade - low,
            Shape::Ladder | Shape::Alternatives => state == grade,
        }
    }
}
