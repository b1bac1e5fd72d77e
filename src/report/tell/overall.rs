//! The overall figure in words, never without the worst part beside it.

use crate::report::extent::FAR_WORSE;
use crate::report::prose::Prose;
use crate::report::words::{percent, plain, wear_percent};
use crate::wear::overall::{Overall, Unread};

/// The figure for the whole, the worst part, and what was not read
pub(super) fn overall(prose: &mut Prose, overall: &Overall) {
    let worst = format!(
        "{}{} is {} worn",
        super::place(&overall.worst.named.place),
        overall.worst.named.label,
        wear_percent(overall.worst.percent)
    );
    if !overall.machine.is_enough {
        prose.say(2, &format!(
            "Too little was read for one figure of the whole: what was read makes up {} of the cost of renewing it. Of \
             that, {worst}.",
            percent(overall.machine.share)
        ));
    } else {
        let sides: Vec<String> = overall
            .sides
            .iter()
            .map(|own| format!("{} {}", own.side.word(), wear_percent(own.mean.percent)))
            .collect();
        let sides = if sides.len() > 1 { format!(" ({})", sides.join(", ")) } else { String::new() };
        let beside = if overall.worst.percent - overall.machine.percent >= FAR_WORSE {
            format!("But {worst}: read the worst part first, for it decides what is due.")
        } else {
            format!("Of what was read, {worst}, the most of all.")
        };
        prose.say(2, &format!(
            "Overall {:.0} % worn, give or take {:.0}, each part weighted by what renewing it costs{sides}. {beside}",
            overall.machine.percent.max(0.0),
            overall.machine.give_or_take.max(1.0)
        ));
    }
    unread(prose, &overall.unread);
}

/// What is not in the figure: places of the same measures in one
fn unread(prose: &mut Prose, unread: &[Unread]) {
    let mut rows: Vec<(&[String], Vec<String>)> = Vec::new();
    for own in unread {
        match rows.iter_mut().find(|(labels, _)| *labels == own.labels) {
            Some((_, places)) => places.push(plain(&own.place.to_string())),
            None => rows.push((&own.labels, vec![plain(&own.place.to_string())])),
        }
    }
    let measures: Vec<String> = rows
        .iter()
        .map(|(labels, places)| format!("{} ({})", labels.join(" or "), places.join(" and ")))
        .collect();
    if !measures.is_empty() {
        prose.say(2, &format!("Not read, and so not in that figure: {}.", measures.join("; ")));
    }
}
