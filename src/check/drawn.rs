//! Where parts stand in the picture of a side.

use super::context::CheckContext;
use super::names::{Names, is_numbered};
use super::never::dead_line;
use super::test;
use crate::model::drawn::Drawn;
use crate::model::{Common, Model, PartId};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{self, Clause, Declaration, Sort};

/// Most small wheels in a row of the picture
const MOST_IN_A_ROW: f64 = 99.0;

/// Where every part is drawn
pub(super) fn fill(model: &mut Model, names: &Names<'_>, problems: &mut Problems) {
    for (number, declaration) in names.of(Sort::Part) {
        let Some(common) = model.parts.get(number).map(|part| part.common.clone()) else { continue };
        let mut context = CheckContext { model, names, problems };
        let lines = lines(declaration, &common, &mut context);
        if let Some(part) = model.parts.get_mut(number) {
            part.drawn = lines;
        }
    }
    twice(model, names, problems);
}

fn lines(
    declaration: &Declaration,
    common: &Common,
    context: &mut CheckContext<'_>,
) -> Vec<(Drawn, crate::model::test::Test)> {
    let mut lines = Vec::new();
    let mut open: Option<Span> = None;
    for clause in &declaration.clauses {
        let Clause::Drawn { as_what, test } = &clause.value else { continue };
        if open.is_some() {
            dead_line(clause.at, open, context.problems);
        }
        open = open.or_else(|| test.is_empty().then_some(clause.at));
        let drawn = drawn(as_what, declaration, context.problems);
        lines.push((drawn, test::resolve_within(test, common, context)));
    }
    lines
}

fn drawn(written: &Spanned<tree::Drawn>, part: &Declaration, problems: &mut Problems) -> Drawn {
    match &written.value {
        tree::Drawn::FrontWheel => Drawn::FrontWheel,
        tree::Drawn::RearWheel => Drawn::RearWheel,
        tree::Drawn::DriveWheel => Drawn::DriveWheel,
        tree::Drawn::RaisedWheel => Drawn::RaisedWheel,
        tree::Drawn::Hub => Drawn::Hub,
        tree::Drawn::BottomRow(count) => Drawn::BottomRow(row(count.as_ref(), written.at, part, problems)),
        tree::Drawn::TopRow(count) => Drawn::TopRow(row(count.as_ref(), written.at, part, problems)),
        tree::Drawn::Frame(share) => Drawn::Frame(along(share, problems)),
        tree::Drawn::TopRun(share) => Drawn::TopRun(along(share, problems)),
    }
}

/// How many stand in a row; none for a numbered part, of which the case tells
fn row(count: Option<&Spanned<f64>>, at: Span, part: &Declaration, problems: &mut Problems) -> Option<u32> {
    match (count, is_numbered(part)) {
        (None, true) => None,
        (None, false) => {
            let message = format!("it is not said how many of `{}` stand in the row", part.name.value);
            problems.push(
                Problem::new(Code::MissingClause, at, message)
                    .help("add their number, such as `of 2`, or declare the part `numbered`"),
            );
            None
        }
        (Some(count), numbered) => {
            if numbered {
                let message = format!("a case tells how many of `{}` a side has", part.name.value);
                problems.push(
                    Problem::new(Code::PlaceUseless, count.at, message).help("take `of` and the number out"),
                );
            } else if !(1.0..=MOST_IN_A_ROW).contains(&count.value) || count.value.fract() > 0.0 {
                problems.push(
                    Problem::new(Code::BadBounds, count.at, "no row of a picture has so many")
                        .help(format!("write a whole number from 1 to {MOST_IN_A_ROW}")),
                );
            }
            Some(whole(count.value))
        }
    }
}

/// A share of a length from the front
fn along(share: &Spanned<f64>, problems: &mut Problems) -> f64 {
    if !(0.0..=100.0).contains(&share.value) {
        problems.push(
            Problem::new(Code::BadBounds, share.at, "this lies off the picture")
                .help("write how far from the front it stands, from 0% to 100%"),
        );
    }
    share.value / 100.0
}

/// Says which parts are always drawn as the same wheel or row as another
fn twice(model: &Model, names: &Names<'_>, problems: &mut Problems) {
    let always = |number: usize| {
        let part = &model[PartId(number)];
        let open =
            part.drawn.first().filter(|(_, test)| test.terms.is_empty() && part.common.gate.terms.is_empty());
        open.map(|(drawn, _)| *drawn).filter(|it| !matches!(it, Drawn::Frame(_) | Drawn::TopRun(_)))
    };
    let mut seen: Vec<(&'static str, Span)> = Vec::new();
    for (number, declaration) in names.of(Sort::Part) {
        let written = declaration.clauses.iter().find_map(|clause| match &clause.value {
            Clause::Drawn { as_what, .. } => Some(as_what.at),
            _ => None,
        });
        let (Some(drawn), Some(at)) = (always(number), written) else { continue };
        match seen.iter().find(|(words, _)| *words == drawn.words()) {
            Some((words, first)) => problems.push(
                Problem::new(Code::DuplicateName, at, format!("two parts are drawn as the {words}"))
                    .also(*first, "the other one")
                    .help("give one of the two another place, or a `where` to each"),
            ),
            None => seen.push((drawn.words(), at)),
        }
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 1..=99 first")]
fn whole(figure: f64) -> u32 {
    figure.clamp(1.0, MOST_IN_A_ROW) as u32
}
