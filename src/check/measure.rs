//! Measures, and the dimensions and life of size classes.

use super::against;
use super::context::CheckContext;
use super::declared::open_row;
use super::formula;
use super::names::Names;
use super::never::dead_line;
use super::share::in_range;
use super::test;
use super::value::{Value, in_unit, negative, sized, step, unknown_unit};
use crate::model::formula::Formula;
use crate::model::{Common, Dimension, How, Measure, Model, Size, Spans};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{self, Clause, Declaration, Sort};
use crate::units::{self, Unit};
use std::collections::BTreeMap;

/// Where a row stands, and the one before it that holds everywhere
type Place = (Span, Option<Span>);

/// A measure with its unit, range and error; what it is reckoned from comes later
pub(super) fn outline(declaration: &Declaration, common: Common, problems: &mut Problems) -> Measure {
    let mut unit = units::Dimension::Length.base();
    let mut range = None;
    let mut error = None;
    let mut worst = false;
    let mut spans = None;
    let mut anew = false;
    let mut needs = Vec::new();
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::Unit(word) => match Unit::parse(&word.value) {
                Some(known) => unit = known,
                None => problems.push(unknown_unit(word, word.at)),
            },
            Clause::Range(bounds) => range = Some(bounds),
            Clause::Error(figure) => error = Some(figure),
            Clause::AmongWorst => worst = true,
            Clause::Spans { count, of, between } => spans = Some(spanned(count, of, between, problems)),
            Clause::Anew => anew = true,
            Clause::Needs(tools) => needs.extend(tools.iter().map(|tool| tool.value.clone())),
            _ => {}
        }
    }
    let (least, most) = range.map_or((0.0, 1.0), |range| range.value);
    if let Some(range) = range.filter(|_| least >= most) {
        problems.push(
            Problem::new(Code::BadBounds, range.at, "this range ends before it starts")
                .help("write the smaller figure first"),
        );
    }
    if let Some(error) = error.filter(|error| error.value <= 0.0) {
        problems.push(
            Problem::new(Code::BadBounds, error.at, "no reading is without error")
                .help("write how far one careful reading strays from the next, one standard deviation"),
        );
    }
    Measure {
        common,
        how: How::Read {
            unit,
            range: (unit.to_base(least), unit.to_base(most)),
            error: unit.step_to_base(error.map_or(1.0, |error| error.value)),
            worst,
        },
        needs,
        spans,
        anew,
        sums: Vec::new(),
        against: None,
        advice: Vec::new(),
    }
}

/// Most pieces that one length goes over: nobody tapes more at once
const MOST_SPANNED: f64 = 99.0;

/// The pieces of a row that a measure is the length of
fn spanned(
    count: &Spanned<f64>,
    of: &Spanned<String>,
    between: &Spanned<String>,
    problems: &mut Problems,
) -> Spans {
    if !(2.0..=MOST_SPANNED).contains(&count.value) || count.value.fract() > 0.0 {
        let message = format!("this is no number of {} that a length goes over", of.value);
        problems.push(
            Problem::new(Code::BadBounds, count.at, message)
                .help(format!("write a whole number from 2 to {MOST_SPANNED}, or take `spans` away")),
        );
    }
    Spans { count: whole(count.value), of: of.value.clone(), between: between.value.clone() }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 2..=99 first")]
fn whole(figure: f64) -> u32 {
    figure.clamp(2.0, MOST_SPANNED) as u32
}

/// What measures are reckoned from and held against, and what to mind about them
pub(super) fn fill(model: &mut Model, names: &Names<'_>, problems: &mut Problems) {
    for (number, declaration) in names.of(Sort::Measure) {
        let mut context = CheckContext { model, names, problems };
        let Some(outline) = model.measures.get(number) else {
            continue;
        };
        let mut filled = outline.clone();
        for clause in &declaration.clauses {
            match &clause.value {
                Clause::Is { sum, test } => {
                    let first = open_sum(declaration, clause.at);
                    if first.is_some() {
                        dead_line(clause.at, first, context.problems);
                    }
                    let test = test::resolve_within(test, &outline.common, &mut context);
                    filled.sums.extend(reckoned(sum, &outline.common, &mut context).map(|sum| (sum, test)));
                }
                Clause::Advice { text, test } => {
                    let test = test::resolve_within(test, &outline.common, &mut context);
                    filled.advice.push((text.value.clone(), test));
                }
                _ => {}
            }
        }
        if !filled.sums.is_empty() && !is_read(declaration) {
            filled.how = How::Reckoned;
        }
        filled.against = against::against(declaration, number, &mut context);
        if let Some(measure) = model.measures.get_mut(number) {
            *measure = filled;
        }
    }
}

/// Whether a measure says how it is read, and is not only reckoned
fn is_read(declaration: &Declaration) -> bool {
    let mut clauses = declaration.clauses.iter();
    clauses.any(|clause| {
        matches!(clause.value, Clause::Unit(_) | Clause::Range(_) | Clause::Error(_) | Clause::AmongWorst)
    })
}

/// The first line that reckons a measure everywhere, before a place in the file
fn open_sum(declaration: &Declaration, before: Span) -> Option<Span> {
    let mut earlier = declaration.clauses.iter().take_while(|clause| clause.at.start < before.start);
    let open = earlier.find(|clause| matches!(&clause.value, Clause::Is { test, .. } if test.is_empty()));
    open.map(|clause| clause.at)
}

/// What a measure is reckoned from: a length
fn reckoned(sum: &Spanned<tree::Sum>, common: &Common, context: &mut CheckContext<'_>) -> Option<Formula> {
    let (formula, value) = formula::resolve(sum, common.extent, context)?;
    if matches!(value, Value::Of(units::Dimension::Length) | Value::Unknown) {
        return Some(formula);
    }
    context.problems.push(
        Problem::new(Code::BadUnit, sum.at, format!("this reckons {}", value.word()))
            .help("a measure can be reckoned only as a length; write other figures in `from`"),
    );
    None
}

/// Size classes: their dimensions and their life
pub(super) fn sizes(model: &mut Model, names: &Names<'_>, problems: &mut Problems) {
    let mut sizes: BTreeMap<String, Size> = BTreeMap::new();
    for sort in [Sort::Dimensions, Sort::Life] {
        for (_, declaration) in names.of(sort) {
            let mut context = CheckContext { model, names, problems };
            let size = sizes.entry(declaration.name.value.clone()).or_default();
            if size.label.is_empty() {
                size.label = declaration.label.as_ref().map_or_else(String::new, |it| it.value.clone());
            }
            for clause in &declaration.clauses {
                match &clause.value {
                    Clause::Spread(percent) => {
                        size.spread = in_range(percent.value / 100.0, percent.at, context.problems);
                    }
                    Clause::Entry(entry) => {
                        let first = open_row(declaration, &entry.name.value, clause.at);
                        match sort {
                            Sort::Dimensions => dimension(entry, (clause.at, first), size, &mut context),
                            _ => life(entry, (clause.at, first), size, &mut context),
                        }
                    }
                    _ => {}
                }
            }
        }
    }
    model.sizes = sizes;
}

/// Where the sizes of a row stand, from the first to the last
fn sizes_at(entry: &tree::Entry) -> Option<Span> {
    let pieces = entry
        .points
        .iter()
        .map(|(figure, percent)| percent.as_ref().map_or(figure.at, |percent| figure.at.to(percent.at)));
    pieces.reduce(Span::to)
}

fn dimension(entry: &tree::Entry, (at, first): Place, size: &mut Size, context: &mut CheckContext<'_>) {
    let Some(id) = context.names.measure(&entry.name, context.problems) else {
        test::look_over(&entry.test, context);
        return;
    };
    let points: Vec<Option<(f64, Option<f64>)>> = entry
        .points
        .iter()
        .map(|(figure, percent)| {
            let size = sized(&entry.name, figure, id, Unit::to_base, context)?;
            Some((size, percent.as_ref().map(|percent| percent.value)))
        })
        .collect();
    let points: Option<Vec<_>> = points.into_iter().collect();
    let table = points.as_ref().and_then(|points| table(points));
    if points.is_some() && table.is_none() {
        let at = sizes_at(entry).unwrap_or(at); // else: no size could be read
        context.problems.push(
            Problem::new(Code::BadTable, at, "these sizes do not run one way from new to worn").help(
                "start with the new size at 0%, then sizes that only shrink or only grow while the per cent rises; \
                 or give the new size alone",
            ),
        );
    }
    let tolerance = entry.tolerance.as_ref().map(|figure| {
        let tolerance = step(&entry.name, figure, id, context);
        if figure.value.value < 0.0 {
            negative(figure.at, context);
        }
        tolerance.unwrap_or(0.0) // else: the problem is told
    });
    if let Some(after) = entry.after.as_ref().filter(|after| after.value <= 0.0) {
        context.problems.push(
            Problem::new(Code::BadBounds, after.at, "wear does not stand still or run back after that")
                .help("write how many times as fast it goes on, a number over 0"),
        );
    }
    let extent = context.model[id].common.extent;
    let test = test::resolve(&entry.test, extent, context);
    let rows = size.dimensions.entry(id).or_default();
    if rows.iter().any(|row| row.test.always()) {
        dead_line(at, first, context.problems);
    }
    let points = table.unwrap_or_default(); // else: the problem is told
    rows.push(Dimension {
        grows: Dimension::grows(&points),
        points,
        after: entry.after.as_ref().map_or(1.0, |after| after.value),
        tolerance: tolerance.unwrap_or(0.0), // else: none is written
        test,
    });
}

/// Sizes with per cents that run one way, or one new size alone
fn table(points: &[(f64, Option<f64>)]) -> Option<Vec<(f64, f64)>> {
    if let [(new, None)] = points {
        return Some(vec![(*new, 0.0)]);
    }
    let table: Option<Vec<(f64, f64)>> =
        points.iter().map(|&(size, percent)| Some((size, percent?))).collect();
    table.filter(|table| {
        let rises = table.is_sorted_by(|a, b| a.1 < b.1);
        let one_way = table.is_sorted_by(|a, b| a.0 < b.0) || table.is_sorted_by(|a, b| a.0 > b.0);
        rises && one_way && table.len() > 1 && table.first().is_some_and(|first| first.1 == 0.0)
    })
}

fn life(entry: &tree::Entry, (at, first): Place, size: &mut Size, context: &mut CheckContext<'_>) {
    let Some(id) = context.names.measure(&entry.name, context.problems) else {
        test::look_over(&entry.test, context);
        return;
    };
    let hours = match entry.points.as_slice() {
        [(figure, None)] => in_unit(figure, Unit::parse("h"), context.problems).filter(|_| {
            let none = figure.value.value <= 0.0;
            if none {
                context.problems.push(
                    Problem::new(Code::BadBounds, figure.at, "nothing lasts no time at all")
                        .help("write the hours to 100 %"),
                );
            }
            !none
        }),
        _ => {
            let at = sizes_at(entry).unwrap_or(at); // else: no figure could be read
            context.problems.push(
                Problem::new(Code::BadTable, at, "a life is one number of hours")
                    .help("write for instance `link_height 5000 h where abrasion is low`"),
            );
            None
        }
    };
    let extent = context.model[id].common.extent;
    let test = test::resolve(&entry.test, extent, context);
    let rows = size.life.entry(id).or_default();
    if rows.iter().any(|(_, test)| test.always()) {
        dead_line(at, first, context.problems);
    }
    rows.extend(hours.map(|hours| (hours, test)));
}
