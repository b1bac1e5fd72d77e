//! What is said once for a whole file, or for all files.

use super::clause::basis;
use crate::source::Spanned;
use crate::syntax::grammar::Rule;
use crate::syntax::piece::Piece;
use crate::syntax::tree::{Sort, Statement};

/// The statement that a piece is
pub(super) fn statement(piece: &Piece<'_>) -> Option<Statement> {
    if let Some(opposites) = piece.get(Rule::opposites) {
        return Some(Statement::Opposites(opposites.all(Rule::pair).filter_map(|it| pair(&it)).collect()));
    }
    if let Some(hazard) = piece.get(Rule::hazard) {
        return Some(Statement::Hazard {
            what: hazard.get(Rule::text)?.unquoted(),
            words: texts(&hazard.get(Rule::hazard_words)?),
            beware: hazard.get(Rule::beware_words).map_or_else(Vec::new, |words| texts(&words)),
        });
    }
    let of_file = piece.get(Rule::file_basis)?;
    Some(Statement::Basis {
        basis: basis(&of_file.get(Rule::basis)?)?,
        sorts: of_file.all(Rule::of_sort).filter_map(|it| sort(&it)).collect(),
    })
}

fn texts(piece: &Piece<'_>) -> Vec<Spanned<String>> {
    piece.all(Rule::text).map(|text| text.unquoted()).collect()
}

fn pair(piece: &Piece<'_>) -> Option<[Spanned<String>; 2]> {
    let mut words = piece.all(Rule::text).map(|text| text.unquoted());
    Some([words.next()?, words.next()?])
}

/// A sort of block by its keyword
pub(super) fn sort(piece: &Piece<'_>) -> Option<Spanned<Sort>> {
    let word = piece.text();
    let known = Sort::of(&word.value)?;
    Some(Spanned::new(known, word.at))
}
