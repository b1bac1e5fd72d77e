//! The words of the rule language, each once, with all that is said of it and where it may stand. The grammar says what can be
//! read; check, messages, editor, `pinboss words` and the handbook take their words from here.

mod blocks;
mod effects;
mod every;
mod later;
mod parts;
mod sizes;
mod work;

use super::grammar::Rule;
pub use blocks::{BlockWord, Sort};
pub use later::{LATER, LaterWord};

/// The word for a row of a table, which has no keyword
pub const ROW: &str = "row";

/// Those a cause can count against
pub const PARTIES: [&str; 6] = ["operator", "owner", "fitter", "maker", "site", "nobody"];

/// How the machine can stand for a check
pub const ACCESS: [&str; 4] = ["parked", "moved", "lifted", "records"];

/// A clause of the language
#[derive(Clone, Copy, Debug)]
pub struct ClauseWord {
    /// The words it is known by; [`ROW`] for a row of a table
    pub word: &'static str,
    /// The rule of the grammar that reads it
    pub(super) rule: Rule,
    /// The blocks that take it, and how often
    pub blocks: &'static [(Sort, Often)],
    /// What can stand behind what is written of it so far: the first that fits
    pub follow: &'static [(After, Next)],
    /// What it says, in a sentence or two
    pub says: &'static str,
    /// It in use
    pub example: &'static str,
    /// The heading of the handbook under which it is shown at work; none where the list of words is enough
    pub section: Option<&'static str>,
    /// Its lines in the handbook's list
    pub uses: &'static [Use],
}

/// How often a block takes a clause
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Often {
    /// Once
    Once,
    /// As often as one likes
    Often,
}

/// What stands before the place where one writes
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum After {
    /// The first word of the clause, and nothing more
    Keyword,
    /// The first word, or a comma: a list begins or goes on
    Item,
    /// Something behind the first word
    Later,
    /// This word or sign
    Word(&'static str),
    /// A grade, form or choice of the block itself
    Own,
    /// This word or sign, somewhere
    Past(&'static str),
    /// This word or sign nowhere yet
    Until(&'static str),
    /// Anything
    Any,
}

/// What can stand at a place
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Next {
    /// Words of the language
    Words(&'static [&'static str]),
    /// Words that explain themselves
    Fixed(&'static [&'static str]),
    /// A time in one of these units
    Times(&'static [&'static str]),
    /// Units
    Units,
    /// Names of blocks of these sorts
    Names(&'static [Sort]),
    /// Grades, forms or choices of the block itself
    Grades,
    /// A per cent or a word of the scale
    Shares,
    /// Among what a share is counted
    Nouns,
    /// Causes and conditions with their grades and places
    Parents,
    /// Shares with the grades they bring about, and the words that may stand behind them
    Effects(&'static [&'static str]),
    /// An expression over measures
    Sum,
}

/// A line of the handbook's list of clauses
#[derive(Clone, Copy, Debug)]
pub struct Use {
    /// How it is written, as Markdown
    pub written: &'static str,
    /// The blocks it is listed for; none is all that take the clause
    pub of: &'static [Sort],
    /// What it means
    pub means: &'static str,
    /// What holds without it
    pub without: &'static str,
}

const fn once(sort: Sort) -> (Sort, Often) {
    (sort, Often::Once)
}

const fn often(sort: Sort) -> (Sort, Often) {
    (sort, Often::Often)
}

/// Each of some sorts of blocks, once
macro_rules! once_each {
    ($($sort:ident),+) => { [$(crate::syntax::language::once(crate::syntax::language::Sort::$sort)),+] };
}
use once_each;

/// Every clause, in the order in which a block is best written
pub fn clauses() -> impl Iterator<Item = &'static ClauseWord> {
    [effects::CLAUSES, parts::CLAUSES, sizes::CLAUSES, work::CLAUSES, every::CLAUSES].into_iter().flatten()
}

/// The clauses that a sort of block takes: those taken as often as one likes, then those taken once
pub fn taken(sort: Sort) -> impl Iterator<Item = (&'static ClauseWord, Often)> {
    let taken = move |often: Often| clauses().filter(move |clause| clause.blocks.contains(&(sort, often)));
    let of = |often: Often| taken(often).map(move |clause| (clause, often));
    of(Often::Often).chain(of(Often::Once))
}

/// Whether a sort of block has rows, which start with the name of a measure or a word of the scale
pub fn has_rows(sort: Sort) -> bool {
    taken(sort).any(|(clause, _)| clause.word == ROW)
}

/// The clause that starts with a word
pub fn starting_with(word: &str) -> Option<&'static ClauseWord> {
    clauses().find(|clause| clause.keyword() == Some(word))
}

/// The clause that a rule of the grammar reads
pub(super) fn read_by(rule: Rule) -> Option<&'static ClauseWord> {
    clauses().find(|clause| clause.rule == rule)
}

impl ClauseWord {
    /// The first of its words, which the author types; none for a row
    pub fn keyword(&self) -> Option<&'static str> {
        self.word.split(' ').next().filter(|_| self.word != ROW)
    }

    /// Whether a time stands behind its first word
    pub fn takes_time(&self) -> bool {
        self.follow.iter().any(|(_, next)| matches!(next, Next::Times(_)))
    }

    /// All the words it starts with, where its first is not enough to know it by
    pub fn opening(&self) -> String {
        match (self.word.split_once(' '), self.follow.first()) {
            (Some((first, _)), Some((After::Keyword, Next::Words([rest])))) => format!("{first} {rest}"),
            _ => self.word.to_owned(),
        }
    }
}
