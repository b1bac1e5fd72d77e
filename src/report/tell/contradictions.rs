//! Readings that cannot all be right, in words: what reads how, what it mostly comes from, what to read again.

use super::place;
use crate::report::prose::Prose;
use crate::report::words::{capital, figure, plain};
use crate::wear::advice::Advice;
use crate::wear::contradiction::Contradiction;

/// Each contradiction; along a row those with the same explanation together
pub(super) fn contradictions(prose: &mut Prose, all: &[Contradiction]) {
    let alike = |one: &Contradiction, other: &Contradiction| {
        one.measure == other.measure && one.because == other.because
    };
    for group in all.chunk_by(alike) {
        let Some(first) = group.first() else { continue };
        let each: Vec<String> = group.iter().map(reads).collect();
        let again = group.iter().find_map(|it| it.again.first());
        let again = again.map_or(String::new(), |again| {
            format!(
                " Read again first: {}{} ({} {} was read, {} would fit).",
                place(&again.named.place),
                again.named.label,
                figure(again.read),
                again.unit.word(),
                figure(tenths(again.fits))
            )
        });
        prose.say(
            2,
            &format!("{}: {}. {}{again}", capital(&first.named.label), each.join("; "), first.because),
        );
    }
}

/// What one reads, against what was to be expected
fn reads(one: &Contradiction) -> String {
    let Contradiction { read, expected, give_or_take, .. } = one;
    let unit = one.unit.word();
    format!(
        "{}{} {unit} where {} {unit}, give or take {}, is expected",
        place(&one.named.place).replace(": ", " reads "),
        figure(tenths(*read)),
        figure(tenths(*expected)),
        figure(tenths(*give_or_take))
    )
}

/// A reckoned figure, shown no finer than tenths
fn tenths(figure: f64) -> f64 {
    (figure * 10.0).round() / 10.0
}

/// What to mind about what was read
pub(super) fn advice(prose: &mut Prose, all: &[Advice]) {
    let alike = |one: &Advice, other: &Advice| one.measure == other.measure && one.places == other.places;
    for group in all.chunk_by(alike) {
        let Some(first) = group.first() else { continue };
        let places: Vec<String> = first.places.iter().map(|place| plain(&place.to_string())).collect();
        let texts: Vec<&str> = group.iter().map(|given| given.text.as_str()).collect();
        let places = place(places.join(" and "));
        prose.say(2, &format!("{}{}: {}", capital(&places), first.term.label, texts.join(" ")));
    }
}
