//! Wear in words: a line for each part read, a row of numbered parts in one line.

use super::{as_a_whole, place};
use crate::ground::Misfit;
use crate::invariant::Hold;
use crate::model::subject::Term;
use crate::report::prose::Prose;
use crate::report::record::diagnosis::{Report, Wear};
use crate::report::words::{self, capital, figure, listed, wear_percent};

/// What the figures of wear mean
pub const SCALE: &str = "Per cent of the way from new to the limit, where a part is worn out; nine of ten such readings lie within what is \
given or taken, and nine of ten parts end between the two figures of the hours.";

/// How worn everything is that was read
pub(super) fn wear(prose: &mut Prose, report: &Report) {
    if report.wear.is_empty() && report.misfit.is_none() {
        return;
    }
    prose.heading("How worn what was read is");
    report.misfit.iter().for_each(|own| misfit(prose, 2, own));
    if report.wear.is_empty() {
        return;
    }
    prose.say(2, SCALE);
    as_a_whole(prose, report);
    let mut rest = report.wear.as_slice();
    while let Some(first) = rest.first() {
        let count = rest.iter().take_while(|other| same_row(first, other)).count();
        let (row, later) = rest.split_at(count.max(1));
        match row {
            [one] => prose.say(2, &single(one)),
            row => prose.say(2, &along(first, row)),
        }
        rest = later;
    }
}

/// Why nothing is said of the wear, and which sizes to give
pub(super) fn misfit(prose: &mut Prose, depth: usize, own: &Misfit) {
    let labels = |terms: &[Term]| listed(&terms.iter().map(|term| term.label.clone()).collect::<Vec<_>>());
    let far = match own.far_past.as_slice() {
        [] => String::new(),
        far => format!(", and far past the limit by {}", labels(far)),
    };
    prose.say(
        depth,
        &format!(
            "These sizes are not those of a `{}` machine: by them the parts are better than new by {}{far}. So no per cent, \
             no hours and no work is reckoned from them. Give the right `size`, or the new and limit sizes of this machine \
             under `machine`, `sizes`, and read again what stays odd.",
            own.size,
            labels(&own.better)
        ),
    );
}

/// True for numbered parts of one side under one measure
fn same_row(first: &Wear, other: &Wear) -> bool {
    numbered(&first.place).is_some() && first.measure == other.measure && side(first) == side(other)
}

/// Part and number of a place such as `left roller 3`
pub(super) fn numbered(place: &str) -> Option<(&str, &str)> {
    let (rest, number) = place.rsplit_once(' ')?;
    rest.split_once(' ').map(|(_, part)| (part, number))
}

/// Why a place has a number
const IN_A_ROW: &str = "a row is of numbered parts";

/// A row of numbered parts: each by its number, with its per cent and what is given or taken
pub(super) fn row_in_words<'a>(row: impl Iterator<Item = (&'a str, f64, f64)>) -> String {
    let (mut name, mut around, mut each) = ("", 1.0_f64, Vec::new());
    for (place, percent, give_or_take) in row {
        let (part, number) = numbered(place).hold(IN_A_ROW);
        each.push(format!("{number} {}", wear_percent(percent)));
        (name, around) = (part, around.max(give_or_take));
    }
    format!("{name} by {name} from the front: {} worn, give or take {around:.0}", each.join(", "))
}

fn side(worn: &Wear) -> &str {
    worn.place.split_once(' ').map_or(worn.place.as_str(), |(side, _)| side)
}

fn single(worn: &Wear) -> String {
    format!(
        "{}{}: {} {}, {}{}",
        capital(&place(&worn.place)),
        worn.label,
        figure(worn.read),
        worn.unit,
        words::worn(worn.percent, worn.give_or_take),
        left(worn)
    )
}

/// A row of numbered parts: per cent by number, and the one that ends first
fn along(first: &Wear, row: &[Wear]) -> String {
    let hours = |worn: &Wear| worn.left.map_or(f64::INFINITY, |left| left.hours);
    let soonest = row.iter().filter(|worn| worn.left.is_some());
    let soonest = soonest.min_by(|a, b| hours(a).total_cmp(&hours(b)));
    let ends = soonest.map_or(String::new(), |worn| {
        let (part, number) = numbered(&worn.place).hold(IN_A_ROW);
        format!("; {part} {number} ends first{}", left(worn))
    });
    let each = row.iter().map(|own| (own.place.as_str(), own.percent, own.give_or_take));
    format!("{}: {}, {}{ends}", capital(side(first)), first.label, row_in_words(each))
}

fn left(worn: &Wear) -> String {
    hours_left(worn).map_or_else(String::new, |hours| format!(", {hours}"))
}

/// Hours left in words, and what they are reckoned from; none where nothing tells
pub fn hours_left(worn: &Wear) -> Option<String> {
    let by = match worn.hours_by? {
        "own pace" => "at its own pace",
        _ => "by the usual life on such ground",
    };
    let left = worn.left?;
    Some(if left.is_over() { "at its limit or past it".to_owned() } else { format!("{} {by}", left.whole()) })
}
