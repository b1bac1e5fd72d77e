//! How much a cause's place hangs on the figures of the rules, in words.

use super::place;
use crate::reason::WORTH_REASONS;
use crate::report::diagnosis::Rival;
use crate::report::page::Page;
use crate::report::robust::{Robust, Turn};
use crate::report::words::{capital, fine, hundreds, percent, several};

/// Figures told one by one
const MOST_TURNS: usize = 5;
/// Probability from which two causes are probably both there
const BOTH_FROM: f64 = 0.5;

/// How firm a cause stands that was told just before
pub(super) fn robust(page: &mut Page, robust: &Robust) {
    page.heading("HOW FIRM THAT IS");
    moved(page, robust);
}

/// How firm the leading cause stands, named here
pub fn firm(page: &mut Page, robust: &Robust) {
    page.heading("HOW FIRM THIS STANDS");
    page.item("  ", &format!("The cause that leads: {}.", rival(&robust.cause)));
    moved(page, robust);
}

fn moved(page: &mut Page, robust: &Robust) {
    page.item("  ", &draws(robust));
    let Some(first) = robust.field.first() else {
        return;
    };
    if robust.cause.probability.max(first.probability) < WORTH_REASONS {
        page.item("  ", "None of the causes of its signs is likely, so that their order says little.");
        return;
    }
    if robust.cause.probability.min(first.probability) >= BOTH_FROM {
        page.item(
            "  ",
            &format!("{} is likely as well, and both may be so at once.", capital(&rival(first))),
        );
    }
    let standing = if robust.leads { "take the first place from it" } else { "put it first" };
    let step = "by a step of the words of frequency or less";
    if robust.turns.is_empty() {
        page.item("  ", &format!("No figure of the rules, moved alone {step}, would {standing}."));
        return;
    }
    let figures = several(robust.turns.len(), "figure of the rules", "figures of the rules");
    page.item("  ", &format!("{figures}, moved alone {step}, would {standing}:"));
    for told in robust.turns.iter().take(MOST_TURNS) {
        page.item("  - ", &turn(robust, told));
    }
    let more = robust.turns.len().saturating_sub(MOST_TURNS);
    if more > 0 {
        page.item("    ", &format!("{more} more would take a larger move; `--format json` lists them."));
    }
}

/// `left: idler struck against rock or stumps (6 %)`
fn rival(told: &Rival) -> String {
    format!("{}{} ({})", place(&told.place), told.label, percent(told.probability))
}

fn draws(robust: &Robust) -> String {
    let drawn = &robust.draws;
    if drawn.draws == 0 {
        return "The figures of the rules were not drawn anew.".to_owned();
    }
    let count = hundreds(u32::try_from(drawn.draws).unwrap_or(u32::MAX));
    let few = if drawn.cut { " (no more, for each takes long here)" } else { "" };
    let before = if robust.field.is_empty() {
        ". No other cause in these rules could have brought its signs about.".to_owned()
    } else {
        format!(
            ", and it came before every other cause of the same signs in {} of the draws.",
            percent(drawn.leads)
        )
    };
    format!(
        "The figures of the rules are uncertain themselves. Drawn anew {count} times{few}, all of them at once and each about as \
         far off as what it rests on lets one expect, they gave this cause between {} and {} nine times in ten{before}",
        percent(drawn.low),
        percent(drawn.high),
    )
}

/// One figure with what it would take
fn turn(robust: &Robust, told: &Turn) -> String {
    let more = if told.at > told.share { "or more" } else { "or less" };
    let then = if robust.leads {
        format!("{} would come first", rival(&told.rival))
    } else {
        format!("it would come before {}", rival(&told.rival))
    };
    format!(
        "{}: {} That is {}; at {} {more}, {then}. It rests on: {}.",
        capital(&told.label),
        told.says,
        fine(told.share),
        fine(told.at),
        told.basis
    )
}
