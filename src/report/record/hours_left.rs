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

    /// What is left with its ends behind it: `about 580 h left (180 to 1,000)`, or `over 10,000 h left`
    pub fn whole(&self) -> String {
        match self.far_end() {
            _ if self.beyond().is_some() => format!("{} left", self.middle()),
            Some(upper) => format!("{} left ({} to {})", self.middle(), about(self.lower), about(upper)),
            None => format!("{} left ({} or more)", self.middle(), about(self.lower)),
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
            None => format!("about {hours} ({} or more)", about(self.lower)),
        }
    }

    fn far_end(&self) -> Option<f64> {
        self.upper.filter(|upper| self.longest.is_none_or(|longest| upper <= &longest))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case(576.0, 179.0, Some(1046.0), "about 580 h", "between 180 and 1,000 h", "about 580 (180 to 1,000)")]
    #[case(2100.0, 1140.0, None, "about 2,100 h", "at least 1,100 h", "about 2,100 (1,100 or more)")]
    #[case(
        9000.0,
        4020.0,
        Some(30_000.0),
        "about 9,000 h",
        "at least 4,000 h",
        "about 9,000 (4,000 or more)"
    )]
    #[case(162_100.0, 15_700.0, None, "over 10,000 h", "at least 10,000 h", "over 10,000")]
    #[case(0.0, 0.0, Some(140.0), "about 0 h", "between 0 and 140 h", "at its limit or past it")]
    fn hours_to_go_in_words(
        #[case] hours: f64,
        #[case] lower: f64,
        #[case] upper: Option<f64>,
        #[case] middle: &str,
        #[case] between: &str,
        #[case] short: &str,
    ) {
        let left = HoursLeft { hours, lower, upper, longest: Some(10_000.0) };
        assert_eq!((left.middle().as_str(), left.between().as_str()), (middle, between));
        assert_eq!(left.short(), short);
    }

    #[rstest]
    #[case(576.0, Some(1046.0), "about 580 h left (180 to 1,000)")]
    #[case(576.0, None, "about 580 h left (180 or more)")]
    #[case(10_400.0, Some(12_000.0), "over 10,000 h left")]
    fn what_is_left_with_its_ends(#[case] hours: f64, #[case] upper: Option<f64>, #[case] text: &str) {
        let left = HoursLeft { hours, lower: 179.0, upper, longest: Some(10_000.0) };
        assert_eq!(left.whole(), text);
    }
}
