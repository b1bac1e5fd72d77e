//! What could stand where the author types: clauses, names, grades and words of the scale that fit there.
//!
//! What stands at a place comes from the tree where the line can be read, what could stand there from its words, because a line
//! being typed mostly cannot be read yet.

mod clause;
mod head;
mod line;
mod offers;

use super::hover::{before, is_code};
use super::uses::block_at;
use super::{Cursor, Rules};
use crate::source::Span;
use crate::syntax::tree::Sort;
use line::Line;

/// Something that could stand at a place
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// What would be written
    pub word: String,
    /// What it is
    pub what: What,
    /// Its label, its per cent, or what it says
    pub detail: String,
}

/// What something offered is
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum What {
    /// A word of the language
    Keyword,
    /// The name of a block
    Name(Sort),
    /// A grade, form or choice
    Grade,
    /// A word of the scale
    Share,
    /// Anything else with a fixed spelling: a unit, a party, a way to stand
    Fixed,
}

/// All that could stand at a place
#[derive(Clone, Debug, PartialEq)]
pub struct Offers {
    /// The piece of a word before the cursor, in whose place one of them would stand
    pub replaces: Span,
    /// The offers, the likeliest first
    pub list: Vec<Offer>,
}

/// What could stand at a place; nothing within texts and comments
pub fn complete(rules: &Rules, cursor: Cursor) -> Offers {
    let before = before(rules.sources.text(cursor.source), cursor.at);
    let typed = before.trim_end_matches(|sign: char| sign.is_ascii_alphanumeric() || sign == '_');
    let start = cursor.at - (before.len() - typed.len());
    let replaces = Span { source: cursor.source, start, end: cursor.at };
    let is_number =
        before.get(typed.len()..).is_some_and(|word| word.starts_with(|it: char| it.is_ascii_digit()));
    if is_number || !is_code(typed) {
        return Offers { replaces, list: Vec::new() };
    }
    let line = Line::read(typed);
    let block = block_at(rules, Cursor { at: cursor.at - before.len(), ..cursor });
    let list = if !typed.starts_with([' ', '\t']) {
        head::offers(rules, &line)
    } else {
        block.map_or_else(Vec::new, |block| clause::offers(rules, block, cursor, &line))
    };
    Offers { replaces, list }
}
