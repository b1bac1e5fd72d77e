//! Whether the rows of a size class are those of another, multiplied.

use crate::source::{Span, Spanned};
use crate::syntax::short::rows;
use crate::syntax::tree::{As, Clause, Declaration, Entry, Quantity};

/// A size class in terms of another
pub(super) struct Multiple {
    /// Its name
    pub(super) class: String,
    /// The clause that says so
    pub(super) words: String,
    /// The rows that it makes needless, in order
    pub(super) gone: Vec<Span>,
}

/// Fewest rows for which a class is given by another
const LEAST_ROWS: usize = 4;
/// One row in so many may be other than the multiple
const ONE_OTHER_IN: usize = 8;
/// Figures that people round to
const STEPS: [f64; 9] = [1.0, 2.0, 5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 500.0];

/// A class in terms of another, where that leaves but a few rows
pub(super) fn multiple(base: &Declaration, class: &Declaration) -> Option<Multiple> {
    let base_rows: Vec<Entry> = base.clauses.iter().filter_map(entry).cloned().collect();
    let own: Vec<&Entry> = class.clauses.iter().filter_map(entry).collect();
    if own.len() < LEAST_ROWS || own.len() != base_rows.len() {
        return None;
    }
    let named = base.name.value.clone();
    let other = |times: Option<f64>, nearest: Option<Quantity>| As {
        class: Spanned::new(named.clone(), Span::default()),
        times: times.map(|times| Spanned::new(times, Span::default())),
        nearest: nearest.map(|nearest| Spanned::new(nearest, Span::default())),
    };
    let mut best: Option<(usize, As)> = None;
    for other in ways(&base_rows, &own, other) {
        let agree = agreeing(&base_rows, class, &other);
        if best.as_ref().is_none_or(|(most, _)| agree > *most) {
            best = Some((agree, other));
        }
    }
    let (agree, other) = best?;
    if (own.len() - agree) * ONE_OTHER_IN > own.len() {
        return None;
    }
    written(&base_rows, class, &other)
}

fn entry(clause: &Spanned<Clause>) -> Option<&Entry> {
    match &clause.value {
        Clause::Entry(entry) => Some(entry),
        _ => None,
    }
}

/// How a class may come of another: as it is, or by a factor in hundredths near the middle one of its rows, the plainest first
fn ways(base: &[Entry], own: &[&Entry], other: impl Fn(Option<f64>, Option<Quantity>) -> As) -> Vec<As> {
    let size = |row: &Entry| row.points.first().map(|(size, _)| size.value.value);
    let pairs = base.iter().zip(own).filter_map(|(base, own)| Some(size(own)? / size(base)?));
    let mut ratios: Vec<f64> = pairs.filter(|ratio| ratio.is_finite() && *ratio > 0.0).collect();
    ratios.sort_by(f64::total_cmp);
    let mut ways = vec![other(None, None)];
    let Some(&middle) = ratios.get(ratios.len() / 2) else { return ways };
    let unit = own.first().and_then(|row| row.points.first()).and_then(|(size, _)| size.value.unit.clone());
    let mut factors: Vec<i32> = (-3..=3).map(|step| hundredths(middle) + step).filter(|it| *it > 0).collect();
    factors.sort_by_key(|factor| (factor % 10 != 0, factor % 5 != 0, *factor));
    for factor in factors {
        let times = f64::from(factor) / 100.0;
        for step in STEPS.into_iter().rev() {
            ways.push(other(Some(times), Some(Quantity { value: step, unit: unit.clone() })));
        }
        ways.push(other(Some(times), None));
    }
    ways
}

#[expect(clippy::cast_possible_truncation, reason = "clamped first")]
fn hundredths(ratio: f64) -> i32 {
    (ratio * 100.0).round().clamp(0.0, 1e6) as i32
}

/// How many rows of a class are those of another, multiplied
fn agreeing(base: &[Entry], class: &Declaration, other: &As) -> usize {
    let nothing = Declaration { clauses: Vec::new(), ..class.clone() };
    let Some(taken) = rows(base, &nothing, other) else { return 0 };
    let own = class.clauses.iter().filter_map(entry);
    taken.iter().zip(own).filter(|(taken, own)| taken == own).count()
}

/// The clause, and the rows it makes needless, where all rows come out as they are
fn written(base: &[Entry], class: &Declaration, other: &As) -> Option<Multiple> {
    let nothing = Declaration { clauses: Vec::new(), ..class.clone() };
    let taken = rows(base, &nothing, other)?;
    let own: Vec<(&Entry, Span)> =
        class.clauses.iter().filter_map(|clause| Some((entry(clause)?, clause.at))).collect();
    let agrees = |(number, (row, _)): &(usize, &(&Entry, Span))| taken.get(*number) == Some(*row);
    let gone: Vec<Span> = own.iter().enumerate().filter(agrees).map(|(_, (_, at))| *at).collect();
    let kept = class.clauses.iter().filter(|clause| !gone.contains(&clause.at)).cloned().collect();
    let short = Declaration { clauses: kept, ..class.clone() };
    let back = rows(base, &short, other)?;
    back.iter().eq(own.iter().map(|(row, _)| *row)).then(|| Multiple {
        class: class.name.value.clone(),
        words: words(other),
        gone,
    })
}

fn words(other: &As) -> String {
    let mut words = format!("as {}", other.class.value);
    if let Some(times) = &other.times {
        words += &format!(" times {}", times.value);
    }
    if let Some(nearest) = &other.nearest {
        let unit = nearest.value.unit.as_ref().map_or("", |unit| unit.value.as_str());
        words += &format!(", to the nearest {} {unit}", nearest.value.value);
    }
    words
}
