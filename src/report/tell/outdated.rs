//! Parts that were changed or turned after all that was read of them, as a mechanic reads it: what to measure again.

use crate::place::Place;
use crate::report::prose::Prose;
use crate::report::record::trend::Trend;
use crate::report::words::{capital, figure, listed, plain, whole};
use crate::wear::outdated::{Instead, Outdated};

/// Each measure with the places that were read and changed together
pub(super) fn outdated(prose: &mut Prose, report: &Trend) {
    if !report.outdated.is_empty() {
        prose.heading("Measure again");
    }
    let mut rest: Vec<&Outdated> = report.outdated.iter().collect();
    while let Some(first) = rest.first().copied() {
        let (alike, others): (Vec<_>, Vec<_>) = rest.into_iter().partition(|own| is_alike(own, first));
        prose.say(2, &in_words(&alike, first, report));
        rest = others;
    }
}

fn is_alike(one: &Outdated, other: &Outdated) -> bool {
    let key = |own: &Outdated| (own.visit, own.turned, whole(own.at));
    let read = |own: &Outdated| own.instead.iter().any(|it| it.read);
    one.measure == other.measure && key(one) == key(other) && read(one) == read(other)
}

fn in_words(alike: &[&Outdated], first: &Outdated, report: &Trend) -> String {
    let places: Vec<String> = alike.iter().map(|own| place(&own.named.place)).collect();
    let (was, them) = if alike.len() > 1 { ("they were", "them") } else { ("it was", "it") };
    let did = if first.turned { "turned" } else { "changed" };
    let read: Vec<String> =
        alike.iter().map(|own| format!("{} {}", figure(own.read), own.unit.word())).collect();
    let when = report.visits.get(first.visit).and_then(|visit| visit.hours);
    let when = when.map_or_else(String::new, |hours| format!(" at {} h", whole(hours)));
    format!(
        "{}: {}: {did} at {} h, {} h after {was} last read. What was read then ({}{when}) says nothing of {them} now.{}",
        capital(&listed(&places)),
        first.named.label,
        whole(first.at),
        whole(first.after),
        listed(&read),
        what_to_measure(first, them),
    )
}

/// The same again, or what came in its place where the turn put an end to it
fn what_to_measure(own: &Outdated, them: &str) -> String {
    let (read, open): (Vec<&Instead>, Vec<&Instead>) = own.instead.iter().partition(|it| it.read);
    let labels = |of: &[&Instead]| listed(&of.iter().map(|it| it.term.label.clone()).collect::<Vec<_>>());
    if !read.is_empty() {
        return format!(" Go by: {}.", labels(&read));
    }
    let measure = match open.as_slice() {
        [] => return String::new(),
        [only] if only.measure == own.measure => format!(" Measure {them} again."),
        _ => format!(" Measure instead: {}.", labels(&open)),
    };
    let explained = open.iter().filter(|it| it.explained);
    let how: Vec<String> = explained.map(|it| format!("`pinboss words {}`", it.term.name)).collect();
    match how.len() {
        0 => measure,
        1 => format!("{measure} {} tells where and how.", listed(&how)),
        _ => format!("{measure} {} tell where and how.", listed(&how)),
    }
}

fn place(place: &Place) -> String {
    if *place == Place::Machine { "the machine".to_owned() } else { plain(&place.to_string()) }
}
