//! Hours to go: as a report holds them, and in words.
//!
//! Hours in words come from here alone, and stop at the longest life that the rules give any part.

use crate::report::words::about;
use serde::Serialize;

/// Hours to go
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct HoursLeft {
    /// Hours; 0 when it is there already
    pub hours: f64,
    /// One chance in twenty that it is sooner
    pub lower: f64,
    /// One chance in twenty that it is later; none where no end can be told
    pub upper: Option<f64>,
    /// Longest life that the rules give any part: later than that nothing is told in words
    #[serde(skip)]
    pub longest: Option<f64>,
}

impl HoursLeft {
    /// It is there already, or past it
    pub fn is_over(&self) -> bool {
        self.hours <= 0.0
    }

    /// The longest life of any part, where it lies farther ahead than that
    pub fn beyond(&self) -> Option<f64> {
        self.longest.filter(|longest| self.hours > *longest)
    }

    /// Hours with a word before them: `about 580 h`, or `over 10,000 h`
    pub fn middle(&self) -> String {
        match self.beyond() {
            Some(longest) => format!("over {} h", about(longest)),
            None => format!("about {} h", about(self.hours)),
        }
    }

    /// What nine of ten lie between: `between 180 and 1,000 h`, or `at least 180 h` where the far end is not known or lies
    /// past the life of any part
    pub fn between(&self) -> String {
        match self.far_end() {
            Some(upper) => format!("between {} and {} h", about(self.lower), about(upper)),
            None => format!(
                "at least {} h",
                about(self.longest.map_or(self.lower, |longest| self.lower.min(longest)))
            ),
        }
    }

    /// What is left with its ends behind it: `about 580 h left (180 to 1,000)`, or `over 10,000 h left`; where no far
    /// end can be told the middle is no more than a guess, and only the near end is: `at least 180 h left`
    pub fn whole(&self) -> String {
        match self.far_end() {
            _ if self.beyond().is_some() => format!("{} left", self.middle()),
            Some(upper) => format!("{} left ({} to {})", self.middle(), about(self.lower), about(upper)),
            None => format!("at least {} h left", about(self.lower)),
        }
    }

    /// For a table: `about 580 (180 to 1,000)`
    pub fn short(&self) -> String {
        let hours = match self.beyond() {
            Some(longest) => return format!("over {}", about(longest)),
            None => about(self.hours),
        };
        match self.far_end() {
            _ if self.is_over() => "at its limit or past it".to_owned(),
            Some(upper) => format!("about {hours} ({} to {})", about(self.lower), about(upper)),
            None => format!("at least {}", about(self.lower)),
        }
    }

    fn far_end(&self) -> Option<f64> {
        self.upper.filter(|upper| self.longest.is_none_or(|longest| upper <= &longest))
    }
}
