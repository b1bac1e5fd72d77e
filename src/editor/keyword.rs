//! The words of the language, each with what it says and an example, wherever it can stand.

use crate::syntax::language::{self, ClauseWord, LATER, LaterWord, Sort};

/// A word of the language
#[derive(Clone, Copy, Debug)]
pub struct Keyword {
    /// The word
    pub word: &'static str,
    /// Where it can stand
    pub stands: Stands,
    /// What it says, in a sentence or two
    pub says: &'static str,
    /// It in use
    pub example: &'static str,
}

/// Where a word of the language can stand
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Stands {
    /// At the first column: it declares something
    Head(Sort),
    /// At the start of a clause
    Clause,
    /// Further on in a line
    Within,
}

/// What a word says where it stands; in another place what comes nearest
pub fn keyword(word: &str, at_first_column: bool, starts_clause: bool) -> Option<Keyword> {
    let rank = |keyword: &Keyword| match keyword.stands {
        Stands::Head(_) => u8::from(!at_first_column) * 3,
        Stands::Clause => u8::from(!starts_clause) * 2,
        Stands::Within => 1,
    };
    keywords().filter(|keyword| keyword.word == word).min_by_key(rank)
}

/// Every word of the language
pub fn keywords() -> impl Iterator<Item = Keyword> {
    let later = LATER.iter().map(|&LaterWord { word, says, example }| Keyword {
        word,
        stands: Stands::Within,
        says,
        example,
    });
    heads().chain(language::clauses().filter_map(of_clause)).chain(later)
}

/// The words of declarations
pub(super) fn heads() -> impl Iterator<Item = Keyword> {
    Sort::ALL.into_iter().map(|sort| {
        let block = sort.block();
        Keyword { word: block.word, stands: Stands::Head(sort), says: block.says, example: block.example }
    })
}

fn of_clause(clause: &'static ClauseWord) -> Option<Keyword> {
    let ClauseWord { says, example, .. } = *clause;
    Some(Keyword { word: clause.keyword()?, stands: Stands::Clause, says, example })
}
