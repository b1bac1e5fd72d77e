//! Whether what can be given its life once more is: one decision, told alike by the diagnosis, the wear and the plan.

use super::place;
use crate::invariant::Hold;
use crate::plan::record::{Job, Turn, Unread, Verdict, Way};
use crate::report::prose::Prose;
use crate::report::words::{about, capital, figure, listed, percent, whole};

/// The decision for each part that can be given its life once more
pub(super) fn turns(prose: &mut Prose, turns: &[Turn]) {
    if turns.is_empty() {
        return;
    }
    prose.heading("To turn, or not to turn");
    for turn in turns {
        prose.say(2, &format!("{}{}", capital(&place(&turn.named.place)), decision(turns, turn)));
        if turn.ways.len() > 1 {
            let ways: Vec<String> = turn.ways.iter().map(way).collect();
            prose.say(4, &format!("Ways, with cost and hours: {}.", ways.join("; ")));
        }
    }
}

/// One way to go on, with what it costs and how long that lasts
fn way(way: &Way) -> String {
    let span = match way {
        way if way.from_new => " from new".to_owned(),
        Way { lower, upper: Some(upper), .. } if about(*lower) != about(*upper) => {
            format!(" ({} to {})", about(*lower), about(*upper))
        }
        Way { lower, upper: None, .. } => format!(" ({} at least)", about(*lower)),
        _ => String::new(),
    };
    match &way.label {
        None => format!("run it out, about {} h{span}", about(way.hours)),
        Some(label) => {
            let what = label.split(',').next().unwrap_or(label); // else: a label without a comma is told whole
            format!("{what}, {}, about {} h{span}", whole(way.cost), about(way.hours))
        }
    }
}

/// What was read says of work that gives a part its life once more
pub(super) fn judged(turns: &[Turn], job: &Job) -> Option<String> {
    let turn = turns.iter().find(|turn| job.gives_life_again && turn.named.place == job.named.place)?;
    match turn.verdict {
        Verdict::Turn => Some(format!("{}, so it pays.{}", balance(turn), hour(turn))),
        Verdict::Either => Some(either(turn)),
        Verdict::Open => Some(format!("{}not yet; below stands what to read first.", lasting(turn))),
        Verdict::RunOut | Verdict::TooLate | Verdict::Needless => None,
    }
}

/// The work, where it is not the turn
fn which(turn: &Turn) -> String {
    if turn.turns { String::new() } else { format!("{}: ", turn.named.label) }
}

fn decision(turns: &[Turn], turn: &Turn) -> String {
    let face = turn
        .face
        .as_ref()
        .map_or_else(String::new, |face| format!("The {} is {:.0} % worn. ", face.term.label, face.percent));
    match turn.verdict {
        Verdict::Turn => {
            let what = if turn.turns { "turn" } else { "do it" };
            let when = match turn.due {
                Some(hours) if hours > 0.0 => format!("{what}, not now but in about {} h", about(hours)),
                _ => format!("{what}, it is due"),
            };
            format!("{}{when}. {face}{}, so it pays.{}", which(turn), balance(turn), hour(turn))
        }
        Verdict::Either => format!("{}either way is defensible. {face}{}", which(turn), either(turn)),
        Verdict::RunOut => format!(
            "{}{}. {face}{}. It pays only where at least {} of that is left.",
            which(turn),
            if turn.turns { "do not turn; run it out" } else { "it does not pay" },
            balance(turn),
            percent(turn.share.hold("a turn that does not pay says what it would need"))
        ),
        Verdict::TooLate => {
            let other = |it: &&Turn| it.named.place == turn.named.place && !it.turns;
            let pays = |it: &Turn| matches!(it.verdict, Verdict::Turn | Verdict::Either);
            let run =
                if turns.iter().filter(other).any(pays) { "" } else { "; run it out, and look for cracks" };
            format!("too late to turn{run}. {face}Past that walls are too thin to be turned.")
        }
        Verdict::Needless => {
            let by = turn.instead.as_ref().map_or_else(String::new, |by| format!(" (\"{}\")", by.label));
            format!("do not turn: what is planned makes it needless{by}. {face}").trim_end().to_owned()
        }
        Verdict::Open => open(turn, &face),
    }
}

/// What must last, against what is won
fn balance(turn: &Turn) -> String {
    let (Some(lasts), Some(left), Some(won)) = (&turn.lasts, turn.left, turn.won) else {
        return String::new();
    };
    let then = if left > 0.0 {
        format!("then has about {} h left", about(left))
    } else {
        "is used up by then".to_owned()
    };
    format!(
        "The {} is {:.0} % worn and {then}; {} about {} h",
        lasts.term.label,
        lasts.percent,
        if turn.turns { "a turn gives" } else { "new ones give" },
        about(won)
    )
}

/// Whether a turn pays is within the errors of what was read
fn either(turn: &Turn) -> String {
    let chance =
        turn.chance.map_or_else(String::new, |chance| format!(" with a chance of {}", percent(chance)));
    let reading = turn
        .deciding
        .as_ref()
        .map_or_else(String::new, |own| format!(" Reading {} once more would decide.", reading(own)));
    format!(
        "{}. By the errors of what was read it pays{chance}, so that either is defensible.{reading}{}",
        balance(turn),
        hour(turn)
    )
}

/// What an hour costs that it wins
fn hour(turn: &Turn) -> String {
    turn.per_hour.map_or_else(String::new, |cost| {
        format!(" An hour won so costs about {}.", figure((cost * 10.0).round() / 10.0))
    })
}

/// How far what must last has gone, where it was read and no more is known
fn lasting(turn: &Turn) -> String {
    let lasts = turn.lasts.as_ref();
    lasts.map_or_else(String::new, |it| format!("The {} is {:.0} % worn. ", it.term.label, it.percent))
}

fn open(turn: &Turn, face: &str) -> String {
    let balance = match balance(turn) {
        balance if balance.is_empty() => lasting(turn),
        balance => format!("{balance}. "),
    };
    format!("cannot be said yet. {face}{balance}To decide, {}.", wanted(turn))
}

/// What would have to be read or told to decide
fn wanted(turn: &Turn) -> String {
    let mut wanted: Vec<String> = Vec::new();
    if !turn.unread.is_empty() {
        wanted.push(format!("read {}", listed(&turn.unread.iter().map(reading).collect::<Vec<_>>())));
    }
    if !turn.untold.is_empty() {
        wanted.push(format!("find out {}", listed(&turn.untold)));
    }
    if wanted.is_empty() {
        wanted.push("note the hours on the chain".to_owned());
    }
    wanted.join(", and ")
}

fn reading(unread: &Unread) -> String {
    match (&unread.check, unread.minutes) {
        (Some(check), Some(minutes)) => {
            format!("the {} (\"{check}\", {} min)", unread.term.label, figure(minutes))
        }
        _ => format!("the {}", unread.term.label),
    }
}
