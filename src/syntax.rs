//! Rule files as text: from text to a tree, with all problems of a file at once.

pub mod change;
mod expect;
pub mod format;
mod guess;
pub mod language;
mod lower;
mod piece;
mod screen;
pub mod short;
pub mod tree;

use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{SourceId, Sources, Span};
use pest::Parser;

/// The parser that pest makes of the grammar; its rules are the grammar's
mod grammar {
    /// The parser of rule files
    #[derive(pest_derive::Parser)]
    #[grammar = "../grammar/rules.pest"]
    pub struct RuleParser;
}

use grammar::{Rule, RuleParser};

/// Whether a declaration can give a word as a name: small letters, digits and `_`, and no word of the language
pub fn is_name(word: &str) -> bool {
    word.len() <= screen::LONGEST_WORD && expect::is_name(word)
}

/// Whether a word can name a grade, a choice or a form: letters, digits and `_`, and no word that holds the language
/// together
pub fn is_grade(word: &str) -> bool {
    word.len() <= screen::LONGEST_WORD && expect::is_grade(word)
}

/// The declarations of one rule file that could be read, and everything wrong with the rest
pub fn parse(sources: &Sources, id: SourceId) -> (tree::File, Problems) {
    let mut problems = Problems::default();
    let text = screen::screen(sources, id, &mut problems);
    match RuleParser::parse(Rule::file, &text) {
        Ok(pairs) => {
            let file = lower::file(pairs, id, &mut problems);
            (file, problems)
        }
        Err(fault) => {
            let start = match fault.location {
                pest::error::InputLocation::Pos(start) | pest::error::InputLocation::Span((start, _)) => {
                    start
                }
            };
            let at = Span { source: id, start, end: start };
            problems.push(
                Problem::new(Code::Syntax, at, "the file cannot be read from here on")
                    .help("a declaration starts at the first column, its clauses on indented lines"),
            );
            (tree::File::default(), problems)
        }
    }
}
