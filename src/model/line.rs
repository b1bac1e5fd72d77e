//! The lines of a condition or symptom: what brings it about, and what shows without any of that.

use super::ids::{CauseId, ConditionId};
use super::test::Test;
use crate::source::Span;

/// One `with` line
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The parents that open it together
    pub parents: Vec<Parent>,
    /// State of the block's grades and its share, normal not among them
    pub effects: Vec<(usize, f64)>,
    /// It shows hardly as long as a cause has been at work only lately
    pub slowly: bool,
    /// When it holds
    pub test: Test,
    /// Why, in a sentence
    pub because: Option<String>,
    /// Where it stands
    pub at: Span,
}

/// One `without` line
#[derive(Clone, Debug, PartialEq)]
pub struct Leak {
    /// State of the block's grades and its share, normal not among them
    pub effects: Vec<(usize, f64)>,
    /// When it holds
    pub test: Test,
    /// Why, in a sentence
    pub because: Option<String>,
}

/// A parent of a line
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Parent {
    /// The cause or condition
    pub of: Hidden,
    /// What it must be
    pub grade: ParentGrade,
    /// Which of its places
    pub reach: Reach,
}

/// What cannot be seen: a cause or a condition
#[derive(Clone, Copy, Debug, Eq, Hash, Ord, PartialEq, PartialOrd)]
pub enum Hidden {
    /// A cause
    Cause(CauseId),
    /// A condition
    Condition(ConditionId),
}

/// What a parent must be for a line to open
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum ParentGrade {
    /// Anything but normal that no other line of the same parent names
    Any,
    /// This grade or form: its number among the named grades, normal being 0
    Grade(usize),
    /// The form toward the block's own side
    ThisSide,
    /// The form toward the other side
    OtherSide,
}

/// Which places of a parent open a line
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Reach {
    /// The block's own place, or the wider place that holds it
    Here,
    /// Each place of the parent within the block's own place, as a path of its own
    Each,
}
