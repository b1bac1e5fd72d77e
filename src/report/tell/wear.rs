//! Wear in words: a line for each part read, a row of numbered parts in one line.

use super::{as_a_whole, place};
use crate::report::page::Page;
use crate::report::record::diagnosis::{Report, Wear};
use crate::report::words::{self, capital, figure, wear_percent};

/// How worn everything is that was read
pub(super) fn wear(page: &mut Page, report: &Report) {
    if report.wear.is_empty() {
        return;
    }
    page.heading("HOW WORN WHAT WAS READ IS");
    let scale = "Per cent of the way from new to the limit, where a part is worn out; nine of ten such readings lie within what is given or \
         taken, and nine of ten parts end between the two figures of the hours.";
    page.item("  ", scale);
    as_a_whole(page, report);
    let mut rest = report.wear.as_slice();
    while let Some(first) = rest.first() {
        let count = rest.iter().take_while(|other| same_row(first, other)).count();
        let (row, later) = rest.split_at(count.max(1));
        match row {
            [one] => page.item("  ", &single(one)),
            row => page.item("  ", &along(first, row)),
        }
        rest = later;
    }
}

/// True for numbered parts of one side under one measure
fn same_row(first: &Wear, other: &Wear) -> bool {
    numbered(first).is_some() && first.measure == other.measure && side(first) == side(other)
}

/// Part and number of a place such as `left roller 3`
fn numbered(worn: &Wear) -> Option<(&str, &str)> {
    let (rest, number) = worn.place.rsplit_once(' ')?;
    rest.split_once(' ').map(|(_, part)| (part, number))
}

fn side(worn: &Wear) -> &str {
    worn.place.split(' ').next().unwrap_or("")
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
    let part = numbered(first).map_or("", |(part, _)| part);
    let number = |worn: &Wear| numbered(worn).map_or(String::new(), |(_, number)| number.to_owned());
    let each: Vec<String> =
        row.iter().map(|worn| format!("{} {}", number(worn), wear_percent(worn.percent))).collect();
    let around = row.iter().map(|worn| worn.give_or_take).fold(1.0, f64::max);
    let hours = |worn: &Wear| worn.left.map_or(f64::INFINITY, |left| left.hours);
    let soonest = row.iter().filter(|worn| worn.left.is_some());
    let soonest = soonest.min_by(|a, b| hours(a).total_cmp(&hours(b)));
    let ends =
        soonest.map_or(String::new(), |worn| format!("; {part} {} ends first{}", number(worn), left(worn)));
    format!(
        "{}: {}, {part} by {part} from the front: {} worn, give or take {around:.0}{ends}",
        capital(side(first)),
        first.label,
        each.join(", ")
    )
}

fn left(worn: &Wear) -> String {
    hours_left(worn).map_or_else(String::new, |told| format!(", {told}"))
}

/// Hours left in words, and what they are reckoned from; none where nothing tells
pub fn hours_left(worn: &Wear) -> Option<String> {
    let by = match worn.hours_by? {
        "own pace" => "at its own pace",
        _ => "by the usual life on such ground",
    };
    let left = worn.left?;
    Some(if left.is_over() {
        "at its limit or past it".to_owned()
    } else {
        format!("{} left {by}", left.ends())
    })
}
