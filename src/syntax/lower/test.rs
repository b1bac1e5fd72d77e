//! Tests on facts and places, and the small words they share with other clauses.

use crate::source::Spanned;
use crate::syntax::grammar::Rule;
use crate::syntax::piece::Piece;
use crate::syntax::tree::{Frequency, Quantity, Relation, Term, Value};

/// The test after `where`, if the piece has one; empty when it has none
pub(super) fn line_where(piece: &Piece<'_>) -> Vec<Term> {
    piece.get(Rule::line_where).map_or_else(Vec::new, |clause| terms(&clause))
}

/// The terms of the test right inside a piece
pub(super) fn terms(piece: &Piece<'_>) -> Vec<Term> {
    piece
        .get(Rule::test)
        .map_or_else(Vec::new, |test| test.all(Rule::term).filter_map(|piece| term(&piece)).collect())
}

fn term(piece: &Piece<'_>) -> Option<Term> {
    let subject = piece.get(Rule::subject)?.text();
    let relation = if let Some(equals) = piece.get(Rule::equals) {
        Relation::Is {
            negated: equals.has(Rule::kw_not),
            values: equals.all(Rule::value).map(|piece| value(&piece)).collect(),
        }
    } else if let Some(above) = piece.get(Rule::above) {
        Relation::Over(quantity(&above)?)
    } else {
        Relation::Under(quantity(&piece.get(Rule::below)?)?)
    };
    Some(Term { subject, relation })
}

fn value(piece: &Piece<'_>) -> Spanned<Value> {
    let value = match piece.get(Rule::half_row) {
        Some(half) if half.has(Rule::kw_front) => Value::FrontHalf,
        Some(_) => Value::RearHalf,
        None => Value::Word(piece.as_str().trim_end().to_owned()),
    };
    Spanned::new(value, piece.span())
}

/// The quantity right inside a piece
pub(super) fn quantity(piece: &Piece<'_>) -> Option<Spanned<Quantity>> {
    piece.get(Rule::quantity).and_then(|it| bare_quantity(&it))
}

/// A piece that is itself a quantity
pub(super) fn bare_quantity(piece: &Piece<'_>) -> Option<Spanned<Quantity>> {
    let quantity = Quantity {
        value: piece.get(Rule::figure)?.figure(),
        unit: piece.get(Rule::unit_word).map(|unit| unit.text()),
    };
    Some(Spanned::new(quantity, piece.span()))
}

/// The per cent right inside a piece
pub(super) fn percent(piece: &Piece<'_>) -> Option<Spanned<f64>> {
    let percent = piece.get(Rule::percent)?;
    Some(Spanned::new(percent.get(Rule::figure)?.figure(), percent.span()))
}

/// The number right inside a piece
pub(super) fn number(piece: &Piece<'_>) -> Option<Spanned<f64>> {
    let number = piece.get(Rule::number)?;
    Some(Spanned::new(number.figure(), number.span()))
}

/// The share right inside a piece: a per cent or a word of the scale
pub(super) fn frequency(piece: &Piece<'_>) -> Option<Spanned<Frequency>> {
    let frequency = piece.get(Rule::frequency)?;
    let share = match percent(&frequency) {
        Some(percent) => Frequency::Percent(percent.value),
        None => Frequency::Word(frequency.get(Rule::name)?.text().value),
    };
    Some(Spanned::new(share, frequency.span()))
}
