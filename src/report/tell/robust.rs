//! How much a cause's place hangs on the figures of the rules, in words.

use super::place;
use crate::reason::WORTH_REASONS;
use crate::reason::robust::Draws;
use crate::report::extent::{BOTH_FROM, MOST_TURNS};
use crate::report::prose::Prose;
use crate::report::record::diagnosis::Rival;
use crate::report::record::robust::{Crossing, Robust};
use crate::report::rules::shown::Figure;
use crate::report::words::{capital, fine, hundreds, percent, several};

/// How far a figure is moved, in words: one step of the scale of the rules, or less
pub(super) const ONE_STEP: &str = "by no more than one word of frequency (as from 60 % to 85 %)";

/// How firm a cause stands that was told just before
pub(super) fn robust(prose: &mut Prose, robust: &Robust) {
    prose.heading("How firm that is");
    moved(prose, robust);
}

/// How firm the leading cause stands, named here
pub fn firm(prose: &mut Prose, robust: &Robust) {
    prose.heading("How firm this stands");
    prose.say(2, &format!("The cause that leads: {}.", rival(&robust.cause)));
    moved(prose, robust);
}

fn moved(prose: &mut Prose, robust: &Robust) {
    prose.say(2, &draws(robust));
    let Some(first) = robust.field.first() else {
        return;
    };
    if robust.cause.probability.max(first.probability) < WORTH_REASONS {
        prose.say(2, "None of the causes of its signs is likely, so that their order says little.");
        return;
    }
    if robust.cause.probability.min(first.probability) >= BOTH_FROM {
        prose.say(2, &format!("{} is likely as well, and both may be so at once.", capital(&rival(first))));
    }
    let standing = if robust.leads { "take the first place from it" } else { "put it first" };
    if robust.crossings.is_empty() {
        prose.say(2, &format!("No figure of the rules, moved alone {ONE_STEP}, would {standing}."));
        return;
    }
    let figures = several(robust.crossings.len(), "figure of the rules", "figures of the rules");
    prose.say(2, &format!("{figures}, moved alone {ONE_STEP}, would {standing}:"));
    for crossing in robust.crossings.iter().take(MOST_TURNS) {
        prose.item(2, &self::crossing(robust, crossing));
    }
    let more = robust.crossings.len().saturating_sub(MOST_TURNS);
    if more > 0 {
        prose.say(4, &format!("{more} more would take a larger move; `--format json` lists them."));
    }
}

/// `left: idler struck against rock or stumps (6 %)`
fn rival(rival: &Rival) -> String {
    format!("{}{} ({})", place(&rival.named.place), rival.named.label, percent(rival.probability))
}

fn draws(robust: &Robust) -> String {
    let drawn = &robust.draws;
    if drawn.draws == 0 {
        return "The figures of the rules were not varied.".to_owned();
    }
    let count = hundreds(u32::try_from(drawn.draws).unwrap_or(u32::MAX)); // else: so many and more
    let few = if drawn.cut { " (no more, for each takes long here)" } else { "" };
    let (low, high) = (percent(drawn.low), percent(drawn.high));
    let range = if low == high { low } else { format!("between {low} and {high}") };
    let before = if robust.field.is_empty() {
        ". No other cause in these rules could have brought its signs about.".to_owned()
    } else {
        format!(", and it came before every other cause of the same signs {}.", times_led(drawn))
    };
    format!(
        "The figures of the rules are uncertain themselves. With all of them varied by chance {count} times{few}, each about as \
         far as what it rests on lets one expect, this cause came to {} nine times in ten{before}",
        range,
    )
}

/// How many of the draws a cause led in: all of them is said as what it is, for some hundreds do not show 99.9 %
fn times_led(drawn: &Draws) -> String {
    if drawn.leads >= 1.0 { "every time".to_owned() } else { format!("in {} of them", percent(drawn.leads)) }
}

/// One figure with what it would take
fn crossing(robust: &Robust, crossing: &Crossing) -> String {
    let more = if crossing.at > crossing.figure.share { "or more" } else { "or less" };
    let then = if robust.leads {
        format!("{} would come first", rival(&crossing.rival))
    } else {
        format!("it would come before {}", rival(&crossing.rival))
    };
    figure(&crossing.figure, &format!("at {} {more}, {then}", fine(crossing.at)))
}

/// One figure of the rules with what would be if it were another
pub(super) fn figure(figure: &Figure, then: &str) -> String {
    let Figure { label, says, share, basis, .. } = figure;
    format!("{}: {says} That is {}; {then}. It rests on: {basis}.", capital(label), fine(*share))
}
