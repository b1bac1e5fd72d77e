//! What the program says about a faulty rule file or case file: one type for every stage.

pub mod code;
pub mod explained;

use crate::problem::code::{Code, Severity};
use crate::source::Span;
use std::collections::{BTreeMap, BTreeSet};

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

    /// The same with another place that matters, where there is one
    pub fn also_at(self, at: Option<Span>, words: impl Into<String>) -> Self {
        match at {
            Some(at) => self.also(at, words),
            None => self,
        }
    }
}

/// Most other places told of one unknown name
const MOST_PLACES: usize = 5;

/// Most problems kept: nobody mends more at a time, and those that follow are often their consequences
pub const MOST_KEPT: usize = 500;

/// All problems of a run: the first [`MOST_KEPT`] of them, and how many more there were
#[derive(Clone, Debug, Default)]
pub struct Problems {
    list: Vec<Problem>,
    /// Numbers in the list by what is said, and by every place where it is said
    said: BTreeMap<String, Said>,
    errors: usize,
    warnings: usize,
}

/// Where one message stands in the list
#[derive(Clone, Debug)]
struct Said {
    first: usize,
    places: BTreeSet<Span>,
}

impl Problems {
    /// Notes a problem. One that says the same at the same place is dropped; an unknown name is told once, with
    /// the other places it stands at.
    pub fn push(&mut self, problem: Problem) {
        let next = self.list.len();
        if let Some(said) = self.said.get_mut(&problem.message) {
            if !said.places.insert(problem.at) {
                return;
            }
            if problem.code == Code::UnknownName {
                let first = self.list.get_mut(said.first);
                if let Some(first) = first.filter(|first| first.also.len() < MOST_PLACES) {
                    first.also.push((problem.at, "and here".to_owned()));
                }
                return;
            }
        }
        match problem.code.severity() {
            Severity::Error => self.errors += 1,
            Severity::Warning => self.warnings += 1,
        }
        if !self.is_full() {
            let said = Said { first: next, places: BTreeSet::from([problem.at]) };
            self.said.entry(problem.message.clone()).or_insert(said);
            self.list.push(problem);
        }
    }

    /// True when those that follow are only counted
    pub fn is_full(&self) -> bool {
        self.list.len() >= MOST_KEPT
    }

    /// How many there were that are only counted
    pub fn left_out(&self) -> usize {
        (self.errors + self.warnings).saturating_sub(self.list.len())
    }

    /// Notes all of another list
    pub fn append(&mut self, other: Problems) {
        let mut left = (other.errors, other.warnings);
        for problem in other.list {
            match problem.code.severity() {
                Severity::Error => left.0 -= 1,
                Severity::Warning => left.1 -= 1,
            }
            self.push(problem);
        }
        self.errors += left.0;
        self.warnings += left.1;
    }

    /// True when at least one is an error, so that nothing may be computed
    pub fn any_error(&self) -> bool {
        self.errors > 0
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
        (self.errors, self.warnings)
    }
}

/// Most letters held against letters while the nearest of some names is looked for
const MOST_COMPARED: usize = 1 << 20;

/// Letters from which the beginning of a name may stand for the whole of it
const LEAST_BEGINNING: usize = 3;

/// Most similar of the known names, when it is near enough to be meant: a third of the word's length in edits; else the
/// shortest that the word begins
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let bound = word.chars().count() / 3;
    let mut left = MOST_COMPARED;
    let mut begun: Option<&str> = None;
    let begins = word.chars().count() >= LEAST_BEGINNING;
    let similar = known
        .into_iter()
        .inspect(|name| {
            let shorter = |best: &str| (name.len(), *name) < (best.len(), best);
            if begins && name.starts_with(word) && begun.is_none_or(shorter) {
                begun = Some(name);
            }
        })
        // A letter has at most four bytes.
        .filter(|name| name.len().abs_diff(word.len()) <= 4 * bound)
        .take_while(|name| {
            let compared = word.len() * name.len();
            let room = compared <= left;
            left = left.saturating_sub(compared);
            room
        })
        .map(|name| (strsim::osa_distance(word, name), name))
        .filter(|&(distance, _)| distance <= bound)
        .min()
        .map(|(_, name)| name);
    similar.or(begun)
}

/// `did you mean …?` for the nearest known name, or `otherwise`
pub fn did_you_mean<'a>(word: &str, known: impl IntoIterator<Item = &'a str>, otherwise: &str) -> String {
    match nearest(word, known) {
        Some(name) => format!("did you mean `{name}`?"),
        None => otherwise.to_owned(),
    }
}
