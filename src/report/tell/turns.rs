//! Whether what can be given its life once more is: one decision, told alike by the diagnosis, the wear and the plan.

use super::place;
use crate::invariant::Hold;
use crate::plan::record::{Job, TurnDecision, Unread, Verdict, Way};
use crate::report::prose::Prose;
use crate::report::words::{about, capital, figure, listed, percent, whole};

/// The decision for each part that can be given its life once more
pub(super) fn turns(prose: &mut Prose, turns: &[TurnDecision]) {
    if turns.is_empty() {
        return;
    }
    prose.heading("To turn, or not to turn");
    for turn in turns {
        prose.say(2, &format!("{}{}", capital(&place(&turn.named.place)), decision(turns, turn)));
        if turn.ways.len() > 1 {
            let ways: Vec<String> = turn.ways.iter().map(way).collect();
            prose.say(4, &format!("Ways, with cost and hours: {}.{}", ways.join("; "), cheaper(turn)));
        }
    }
}

/// Part of what an hour of a turn costs, under which something new costs clearly less
const CLEARLY_LESS: f64 = 0.8;

/// What is new costs less an hour than to give its life again to what is there, for whoever keeps the machine so long
fn cheaper(turn: &TurnDecision) -> String {
    let news = turn.ways.iter().filter(|way| turn.pays() && way.from_new && way.hours > 0.0);
    let least = news.min_by(|a, b| (a.cost / a.hours).total_cmp(&(b.cost / b.hours)));
    match (least, turn.per_hour, turn.left) {
        (Some(way), Some(per_hour), Some(left)) if way.cost / way.hours < CLEARLY_LESS * per_hour => format!(
            " New costs less by the hour, about {} against {}: better where the machine is to work much longer than {} h.",
            tenths(way.cost / way.hours),
            tenths(per_hour),
            about(left)
        ),
        _ => String::new(),
    }
}

/// A cost an hour, to a tenth
fn tenths(cost: f64) -> String {
    figure((cost * 10.0).round() / 10.0)
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
            let turned = if way.turned { " and turn it once" } else { "" };
            format!("{what}{turned}, {}, about {} h{span}", whole(way.cost), about(way.hours))
        }
    }
}

/// What was read says of work that gives a part its life once more
pub(super) fn judged(turns: &[TurnDecision], job: &Job) -> Option<String> {
    let here = |turn: &&TurnDecision| turn.named.place == job.named.place;
    if job.undecided {
        let turn = turns.iter().filter(here).find(|turn| turn.waits_for_a_reading())?;
        return Some(format!(
            "{} before you order it: \"{}\", {}, may do instead.",
            capital(&wanted(turn)),
            turn.named.label,
            whole(turn.cost)
        ));
    }
    let turn = turns.iter().filter(here).find(|_| job.gives_life_again)?;
    match turn.verdict {
        Verdict::Turn => Some(format!("{}, so it pays.{}", balance(turn), hour(turn))),
        Verdict::Either => {
            Some(format!("{} It is planned; to run out what is there is as sound.", either(turn)))
        }
        Verdict::Open => Some(format!(
            "{}{} before you order it: whether it pays hangs on that.",
            lasting(turn),
            capital(&wanted(turn))
        )),
        Verdict::RunOut | Verdict::TooLate | Verdict::Needless => None,
    }
}

/// The work, where it is not the turn
fn which(turn: &TurnDecision) -> String {
    if turn.turns { String::new() } else { format!("{}: ", turn.named.label) }
}

fn decision(turns: &[TurnDecision], turn: &TurnDecision) -> String {
    let face = turn
        .face
        .as_ref()
        .map_or_else(String::new, |face| format!("The {} is {:.0} % worn. ", face.term.label, face.percent));
    match turn.verdict {
        Verdict::Turn => {
            let what = if turn.turns { "turn" } else { "do it" };
            let when = match turn.due {
                Some(hours) if hours > 0.0 => format!("{what}, not now but from about {} h on", about(hours)),
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
            let other = |it: &&TurnDecision| it.named.place == turn.named.place && !it.turns;
            let run = if turns.iter().filter(other).any(TurnDecision::pays) {
                ""
            } else {
                "; run it out, and look for cracks"
            };
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
fn balance(turn: &TurnDecision) -> String {
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
fn either(turn: &TurnDecision) -> String {
    let chance =
        turn.chance.map_or_else(String::new, |chance| format!(" with a chance of {}", percent(chance)));
    let reading = turn.deciding.as_ref().map_or_else(String::new, |own| {
        let again = readings(std::slice::from_ref(own), listed);
        format!(" Reading {} once more would decide.", again.concat())
    });
    format!(
        "{}. By the errors of what was read it pays{chance}, so that either is defensible.{reading}{}",
        balance(turn),
        hour(turn)
    )
}

/// What an hour costs that it wins
fn hour(turn: &TurnDecision) -> String {
    turn.per_hour.map_or_else(String::new, |cost| format!(" An hour won so costs about {}.", tenths(cost)))
}

/// How far what must last has gone, where it was read and no more is known
fn lasting(turn: &TurnDecision) -> String {
    let lasts = turn.lasts.as_ref();
    lasts.map_or_else(String::new, |it| format!("The {} is {:.0} % worn. ", it.term.label, it.percent))
}

fn open(turn: &TurnDecision, face: &str) -> String {
    let balance = match balance(turn) {
        balance if balance.is_empty() => lasting(turn),
        balance => format!("{balance}. "),
    };
    format!("{}cannot be said yet. {face}{balance}To decide, {}.", which(turn), wanted(turn))
}

/// What would have to be read or told to decide
fn wanted(turn: &TurnDecision) -> String {
    let mut wanted: Vec<String> = Vec::new();
    if !turn.unread.is_empty() {
        wanted.push(format!("read {}", listed(&readings(&turn.unread, listed))));
    }
    if !turn.unknown.is_empty() {
        wanted.push(format!("find out {}", listed(&turn.unknown)));
    }
    if wanted.is_empty() {
        wanted.push("note the hours on the chain".to_owned());
    }
    wanted.join(", and ")
}

/// What would have to be read, each check once behind all that it reads, joined as told
pub(super) fn readings(unread: &[Unread], joined: fn(&[String]) -> String) -> Vec<String> {
    let mut by_check: Vec<(&Unread, Vec<String>)> = Vec::new();
    for own in unread {
        let label = format!("the {}", own.term.label);
        match by_check.iter_mut().find(|(first, _)| first.check.is_some() && first.check == own.check) {
            Some((_, labels)) => labels.push(label),
            None => by_check.push((own, vec![label])),
        }
    }
    let told = by_check.iter().map(|(first, labels)| match (&first.check, first.minutes) {
        (Some(check), Some(minutes)) => {
            format!("{} (\"{check}\", {} min)", joined(labels), figure(minutes))
        }
        _ => joined(labels),
    });
    told.collect()
}
