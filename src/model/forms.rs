//! How often a cause is there, and what it may look like then.

use super::extent::Extent;
use super::test::Test;

/// One `chance` line
#[derive(Clone, Debug, PartialEq)]
pub struct Chance {
    /// Share from 0 to 1
    pub share: f64,
    /// Among what the share is counted
    pub noun: Extent,
    /// When it holds
    pub test: Test,
}

/// What a cause may look like when present; forms exclude one another and are equally likely
#[derive(Clone, Debug, Eq, PartialEq)]
pub enum Forms {
    /// Present or not
    Plain,
    /// Toward the left or toward the right
    Sides,
    /// The named forms
    Named(Vec<String>),
}

impl Forms {
    /// Names of the forms when present, in the order of the states after `absent`
    pub fn names(&self) -> Vec<String> {
        match self {
            Forms::Plain => vec!["yes".to_owned()],
            Forms::Sides => vec!["left".to_owned(), "right".to_owned()],
            Forms::Named(names) => names.clone(),
        }
    }
}
