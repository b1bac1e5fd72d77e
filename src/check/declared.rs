//! Where a block says what it has: the other end of many a mistake.

use super::names::Names;
use super::test;
use crate::model::{Common, Model};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{Clause, Declaration};

impl Names<'_> {
    /// The grades of a condition or symptom, as they are listed
    pub(super) fn grades(&self, block: &Common) -> Option<Span> {
        self.piece(block, |clause| match clause {
            Clause::Grades(grades) => words(&grades.words),
            _ => None,
        })
    }

    /// The choices of a fact on its first line of them
    pub(super) fn choices(&self, fact: &Common) -> Option<Span> {
        self.piece(fact, |clause| match clause {
            Clause::Choices { choices, .. } => {
                let first = choices.first()?.0.at;
                choices.last().map(|(word, _)| first.to(word.at))
            }
            _ => None,
        })
    }

    /// The forms of a cause, or the words that give it sides
    pub(super) fn forms(&self, cause: &Common) -> Option<Span> {
        self.piece(cause, |clause| match clause {
            Clause::Forms(forms) => words(forms),
            Clause::Chance(chance) => chance.toward.as_ref().map(|toward| toward.at),
            _ => None,
        })
    }

    /// The terms of a block's own `only where`
    pub(super) fn gate(&self, block: &Common) -> Option<Span> {
        self.piece(block, |clause| match clause {
            Clause::OnlyWhere(terms) => test::span(terms),
            _ => None,
        })
    }

    /// The terms of the `only where` of the part a block is seen on
    pub(super) fn gate_of_part(&self, block: &Common, model: &Model) -> Option<Span> {
        block.part.and_then(|part| self.gate(&model[part].common))
    }

    fn piece(&self, block: &Common, find: impl Fn(&Clause) -> Option<Span>) -> Option<Span> {
        self.block(block)?.clauses.iter().find_map(|clause| find(&clause.value))
    }
}

/// The piece of text from the first of some words to the last
pub(super) fn words(words: &[Spanned<String>]) -> Option<Span> {
    let first = words.first()?.at;
    words.last().map(|last| first.to(last.at))
}

/// The row of a measure that holds everywhere, in front of another
pub(super) fn open_row(declaration: &Declaration, name: &str, before: Span) -> Option<Span> {
    let rows = declaration.clauses.iter().take_while(|clause| clause.at.start < before.start);
    let mut open = rows.filter(|clause| match &clause.value {
        Clause::Entry(entry) => entry.name.value == name && entry.test.is_empty(),
        _ => false,
    });
    open.next().map(|clause| clause.at)
}
