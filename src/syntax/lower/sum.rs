//! Expressions over measures.

use super::test::bare_quantity;
use crate::source::Spanned;
use crate::syntax::grammar::Rule;
use crate::syntax::piece::Piece;
use crate::syntax::tree::{About, Gather, Sum};

/// The expression right inside a piece
pub(super) fn sum(piece: &Piece<'_>) -> Option<Spanned<Sum>> {
    chain(&piece.get(Rule::sum)?, &product)
}

fn product(piece: &Piece<'_>) -> Option<Spanned<Sum>> {
    chain(piece, &factor)
}

/// Operands with signs between them, taken from the left
fn chain(piece: &Piece<'_>, operand: &dyn Fn(&Piece<'_>) -> Option<Spanned<Sum>>) -> Option<Spanned<Sum>> {
    let mut whole: Option<Spanned<Sum>> = None;
    let mut sign = '+';
    for part in piece.inside() {
        match part.rule() {
            Rule::plus => sign = '+',
            Rule::minus => sign = '-',
            Rule::times => sign = '*',
            Rule::over => sign = '/',
            _ => {
                let next = operand(&part)?;
                whole = Some(match whole {
                    None => next,
                    Some(first) => {
                        let at = first.at.to(next.at);
                        Spanned::new(Sum::Pair(Box::new(first), sign, Box::new(next)), at)
                    }
                });
            }
        }
    }
    whole
}

fn factor(piece: &Piece<'_>) -> Option<Spanned<Sum>> {
    let inner = piece.inside().next()?;
    let name = || inner.get(Rule::name).map(|name| name.text());
    let value = match inner.rule() {
        Rule::half_of => Sum::Half(Box::new(factor(&inner.get(Rule::factor)?)?)),
        Rule::across => across(&inner)?,
        Rule::of_part_hours if inner.has(Rule::since_turned) => Sum::HoursSinceTurned(name()?),
        Rule::of_part_hours => Sum::Hours(name()?),
        Rule::of_part_turn => Sum::Turn(name()?),
        Rule::about => Sum::About(inner.inside().find_map(|word| About::of(word.as_str()))?, name()?),
        Rule::bracket => return sum(&inner),
        Rule::quantity => Sum::Figure(bare_quantity(&inner)?.value),
        _ => Sum::Measure(inner.text()),
    };
    Some(Spanned::new(value, inner.span()))
}

fn across(piece: &Piece<'_>) -> Option<Sum> {
    let gather = piece.get(Rule::gather)?;
    let gather = gather.inside().find_map(|word| Gather::of(word.as_str()))?;
    let Some(row) = piece.get(Rule::row) else {
        let of: Option<Vec<_>> = piece.all(Rule::factor).map(|it| factor(&it)).collect();
        return Some(Sum::Among { gather, of: of? });
    };
    let front = row.has(Rule::kw_front).then_some(true);
    Some(Sum::Across {
        gather,
        of: Box::new(factor(&piece.get(Rule::factor)?)?),
        half: front.or_else(|| row.has(Rule::kw_rear).then_some(false)),
        row: row.get(Rule::row_word)?.text(),
    })
}
