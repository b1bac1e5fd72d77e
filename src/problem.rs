//! What the program says about a faulty rule file or case file: one type for every stage.

pub mod code;

use crate::problem::code::{Code, Severity};
use crate::source::Span;

/// One thing wrong or doubtful in a file, before it has any shape on a screen
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Which of the things we can say
    pub code: Code,
    /// What is wrong here, in one line, lower case, no full stop
    pub message: String,
    /// The piece at fault
    pub at: Span,
    /// Other pieces that matter, each with its words
    pub also: Vec<(Span, String)>,
    /// What to do about it; empty when the message already says it
    pub help: String,
}

impl Problem {
    /// A problem at one place
    pub fn new(code: Code, at: Span, message: impl Into<String>) -> Self {
        Problem { code, message: message.into(), at, also: Vec::new(), help: String::new() }
    }

    /// The same with a word on what to do
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = help.into();
        self
    }

    /// The same with another place that matters
    pub fn also(mut self, at: Span, words: impl Into<String>) -> Self {
        self.also.push((at, words.into()));
        self
    }
}

/// Most other places told of one unknown name
const MOST_PLACES: usize = 5;

/// All problems of a run
#[derive(Clone, Debug, Default)]
pub struct Problems {
    list: Vec<Problem>,
}

impl Problems {
    /// Notes a problem. One that says the same at the same place is dropped; an unknown name is told once, with
    /// the other places it stands at.
    pub fn push(&mut self, problem: Problem) {
        let same = self.list.iter_mut().find(|old| {
            old.message == problem.message && (old.at == problem.at || problem.code == Code::UnknownName)
        });
        match same {
            None => self.list.push(problem),
            Some(old) if old.at == problem.at => {}
            Some(old) if old.also.len() < MOST_PLACES => {
                old.also.push((problem.at, "and here".to_owned()));
            }
            Some(_) => {}
        }
    }

    /// Notes all of another list
    pub fn append(&mut self, other: Problems) {
        for problem in other.list {
            self.push(problem);
        }
    }

    /// True when at least one is an error, so that nothing may be computed
    pub fn any_error(&self) -> bool {
        self.list.iter().any(|problem| problem.code.severity() == Severity::Error)
    }

    /// True when there is nothing to say
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// The problems in the order of files and places
    pub fn sorted(&self) -> Vec<&Problem> {
        let mut sorted: Vec<&Problem> = self.list.iter().collect();
        sorted.sort_by_key(|problem| (problem.at, problem.code));
        sorted
    }

    /// Errors and warnings, counted
    pub fn counts(&self) -> (usize, usize) {
        let errors = self.list.iter().filter(|problem| problem.code.severity() == Severity::Error).count();
        (errors, self.list.len() - errors)
    }
}

/// Most similar of the known names, when it is near enough to be meant: a third of the word's length in edits
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let bound = (word.chars().count() / 3).max(1);
    known
        .into_iter()
        .map(|name| (strsim::osa_distance(word, name), name))
        .filter(|&(distance, _)| distance <= bound)
        .min()
        .map(|(_, name)| name)
}

/// `did you mean …?` for the nearest known name, or `otherwise`
pub fn did_you_mean<'a>(word: &str, known: impl IntoIterator<Item = &'a str>, otherwise: &str) -> String {
    match nearest(word, known) {
        Some(name) => format!("did you mean `{name}`?"),
        None => otherwise.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case("idler_crakced", Some("idler_cracked"))]
    #[case("idlr", Some("idler"))]
    #[case("bushing", None)]
    fn a_near_name_is_offered_and_a_far_one_is_not(#[case] word: &str, #[case] offered: Option<&str>) {
        assert_eq!(nearest(word, ["idler", "idler_cracked"]), offered);
    }
}
