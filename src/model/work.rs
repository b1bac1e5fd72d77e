//! What work can do to whoever does it, and to other work of the same visit.

/// What can hurt
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Hazard {
    /// What it is
    pub what: String,
    /// The starts of the words that tell of it, in small letters
    pub words: Vec<String>,
}

/// When in a visit a remedy sets right what is there
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Setting {
    /// Behind the repairs
    BehindRepairs,
    /// Last of all, since any other work undoes it
    Last,
}
