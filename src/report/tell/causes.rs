//! Causes and conditions in words: how likely, what speaks for and against, what mends it.

use super::place;
use crate::reason::is_spoken_for;
use crate::report::extent::{CAUSE_FROM, MEND_FROM, MOST_CAUSES, MOST_RIVALS, says_nothing};
use crate::report::prose::Prose;
use crate::report::record::diagnosis::{Cause, Condition, Form, Reason, Report, Unclaimed};
use crate::report::record::evidence::{Finding, Then, in_words};
use crate::report::record::mending::Remedy;
use crate::report::words::{capital, figure, listed, percent, plain, several};
use std::collections::BTreeSet;

/// Probability from which it is told since when a cause has been at work
const CLEARLY: f64 = 0.85;

/// What is said of a state that is as likely as on any machine of its kind
const NOTHING_SPEAKS: &str = "So it is on most machines of this kind and age; nothing that was seen speaks for it, so it calls for no work yet.";

/// Remedies already told, by name and place: each is told once
pub(super) type Mended = BTreeSet<(String, String)>;

pub(super) fn causes(prose: &mut Prose, report: &Report, mended: &mut Mended) {
    prose.heading("What probably made it wear");
    let shown: Vec<&Cause> = report.shown_causes().collect();
    let open =
        report.causes.iter().filter(|cause| says_nothing(cause.chance.lower, cause.chance.upper)).count();
    if open > 0 {
        prose.say(
            2,
            &format!("Of {} nothing can be said in the time allowed.", several(open, "cause", "causes")),
        );
    }
    if open == 0 && shown.iter().all(|cause| cause.chance.upper < MEND_FROM) {
        prose.say(2, &no_cause(report));
    }
    for (number, cause) in shown.iter().enumerate() {
        prose.gap();
        let title = title(cause);
        prose.entry(4, number + 1, &format!("{title}: {}", cause.chance.in_words()));
        if cause.order_open {
            prose.say(4, "Whether this or the next stands first is not settled.");
        }
        prose.say(
            4,
            &format!(
                "{}. Before anything was seen: {}.{}",
                capital(&cause.kind_label),
                percent(cause.prior),
                since_when(cause)
            ),
        );
        steps(prose, cause);
        rivals(prose, cause);
        if cause.chance.lower >= MEND_FROM {
            mending(prose, &cause.remedies, &cause.place, mended);
        }
    }
    others(prose, report, &shown);
    unclaimed(prose, &report.unclaimed);
}

/// Signs of trouble that no likely cause accounts for, each with its work and the look that would find its cause
fn unclaimed(prose: &mut Prose, all: &[Unclaimed]) {
    if all.is_empty() {
        return;
    }
    prose.heading("A fault whatever made it");
    prose.say(2, "No likely cause accounts for these; they are there all the same:");
    for own in all {
        let work = match own.work.as_slice() {
            [] => String::new(),
            work => format!(" To do: {}.", listed(work)),
        };
        let look = own.look.as_ref().map_or_else(String::new, |look| format!(" To find its cause: {look}."));
        prose.item(2, &format!("{}.{work}{look}", capital(&in_words(&own.finding))));
    }
}

/// What is said where no cause is likely: nothing stands out only where all that was noted counts and is normal
fn no_cause(report: &Report) -> String {
    let held = match report.held.len() {
        0 if report.abnormal > 0 => {
            return "No cause is more than a possibility on what was seen.".to_owned();
        }
        0 => String::new(),
        1 => " One thing that was noted does not count; why stands under \"Not counted\".".to_owned(),
        count => format!(" {count} things that were noted do not count; why stands under \"Not counted\"."),
    };
    let (what, is) = match (held.is_empty(), report.abnormal) {
        (false, 0) => ("Of what counts nothing stands out", ": "),
        (false, _) => ("", ""),
        (true, _) => ("Nothing stands out", ": "),
    };
    capital(&format!("{what}{is}no cause is more than a possibility on what was seen.{held}"))
}

/// The causes not told one by one: in a line each of those that nothing speaks for and that are likely all the same, and the
/// count of the rest
fn others(prose: &mut Prose, report: &Report, shown: &[&Cause]) {
    let (unmoved, others): (Vec<&Cause>, Vec<&Cause>) = (report.causes.iter())
        .filter(|cause| !cause.shown && !says_nothing(cause.chance.lower, cause.chance.upper))
        .partition(|cause| cause.chance.upper >= CAUSE_FROM && shown.len() < MOST_CAUSES);
    if !unmoved.is_empty() {
        prose.gap();
        prose.say(4, "As likely as before anything was seen, or less:");
    }
    for cause in unmoved.iter().take(MOST_CAUSES) {
        let (now, before) = (cause.chance.in_words(), percent(cause.prior));
        prose.item(4, &format!("{}: {now}, before {before}.", title(cause)));
    }
    let rest = others.len() + unmoved.len().saturating_sub(MOST_CAUSES);
    if rest > 0 {
        prose.gap();
        let not_shown = others.iter().chain(unmoved.iter().skip(MOST_CAUSES));
        let next = not_shown.map(|cause| cause.chance.upper).fold(CAUSE_FROM, f64::max);
        let next = (next * 100.0).ceil() / 100.0;
        let which = match (shown.is_empty() && unmoved.is_empty(), rest) {
            (true, _) => format!("All {rest} causes were weighed; none of them reaches"),
            (false, 1) => "1 other cause was weighed; it does not reach".to_owned(),
            (false, _) => format!("{rest} other causes were weighed; none of them reaches"),
        };
        prose.say(4, &format!("{which} {}.", percent(next)));
    }
}

/// Label with place and likeliest form
pub fn title(cause: &Cause) -> String {
    let place = capital(&place(&cause.place));
    let form = match &cause.form {
        Some(form) => format!(" ({}: {})", plain(&form.name), percent(form.probability)),
        None => String::new(),
    };
    format!("{place}{}{form}", if place.is_empty() { capital(&cause.label) } else { cause.label.clone() })
}

/// How long it has been at work, where the findings tell
fn since_when(cause: &Cause) -> String {
    match cause.lately {
        Some(lately) if lately >= CLEARLY => " It has most likely begun only lately.".to_owned(),
        Some(lately) if lately <= 1.0 - CLEARLY => " It has most likely been at work for long.".to_owned(),
        _ => String::new(),
    }
}

/// One cause or condition with all that speaks for and against it
pub(super) fn whole(prose: &mut Prose, cause: &Cause, mended: &mut Mended) {
    prose.say(0, &format!("{}: {}", title(cause), cause.chance.in_words()));
    let kind =
        if cause.kind_label.is_empty() { String::new() } else { format!("{}. ", capital(&cause.kind_label)) };
    prose.say(2, &format!("{kind}Before anything was seen: {}.{}", percent(cause.prior), since_when(cause)));
    let stays = |to: f64| percent(cause.prior) == percent(to);
    if cause.reasons.is_empty() && cause.chance.probability.is_some_and(stays) {
        prose.say(2, "Nothing that was seen or read bears on it.");
    }
    for reason in &cause.reasons {
        prose.step(2, reason.decibans >= 0.0, "it", &step(reason));
    }
    all_else(prose, 2, cause, &cause.reasons);
    rivals(prose, cause);
    if cause.chance.upper >= CAUSE_FROM {
        mending(prose, &cause.remedies, &cause.place, mended);
    }
}

fn steps(prose: &mut Prose, cause: &Cause) {
    let shown = cause.shown_steps();
    for reason in shown {
        prose.step(4, reason.decibans > 0.0, "it", &step(reason));
    }
    all_else(prose, 4, cause, shown);
}

/// What the findings do together that no step tells of; nothing where the steps end at the probability
fn all_else(prose: &mut Prose, depth: usize, cause: &Cause, shown: &[Reason]) {
    let Some(to) = cause.chance.probability else { return };
    let (from, words) = match shown.last() {
        Some(last) => (last.to, "All else that was seen, together"),
        None => (cause.prior, "All that was seen, together"),
    };
    if percent(from) != percent(to) {
        prose.step(depth, to > from, "it", &format!("{words}: {}.", moved(from, to)));
    }
}

/// The finding that speaks loudest in a step, with those taken in together with it
pub(super) fn together(loudest: &Finding, others: &[Finding]) -> String {
    let loudest = in_words(loudest);
    match others {
        [] => loudest,
        [one] => format!("{loudest}; {}", in_words(one)),
        [one, more @ ..] => {
            let more = several(more.len(), "more finding", "more findings");
            format!("{loudest}; {}; and {more}", in_words(one))
        }
    }
}

pub(super) fn step(reason: &Reason) -> String {
    let findings = together(&reason.finding, &reason.together_with);
    if reason.rest {
        let count = several(reason.together_with.len() + 1, "smaller finding", "smaller findings together");
        return format!("{count}: {}.", moved(reason.from, reason.to));
    }
    let why = if !reason.direct {
        through_rivals(reason.decibans >= 0.0, &rivals_moved(&reason.rivals))
    } else if reason.decibans < 0.0 && reason.finding.normal {
        " If this were the cause, it should have shown.".to_owned()
    } else if reason.decibans < 0.0 {
        " If this were the cause, it would mostly have shown otherwise.".to_owned()
    } else if reason.because.is_empty() {
        String::new()
    } else {
        format!(" {}", reason.because)
    };
    format!("{}. {}.{why}", capital(&findings), capital(&moved(reason.from, reason.to)))
}

/// `from 2 % to 57 %`, or `still 98 %`
fn moved(from: f64, to: f64) -> String {
    match (percent(from), percent(to)) {
        (from, to) if from == to => format!("still {to}"),
        (from, to) => format!("from {from} to {to}"),
    }
}

/// The words before the other causes that a finding moves most
pub(super) const OTHERS: &str = "other causes of the same signs, most of all";

/// What a finding does that the causes in question do not bring about: it speaks for them by speaking against others, or
/// the other way; nothing where no other is moved enough to be shown
pub(super) fn through_rivals(speaks_for: bool, rivals: &str) -> String {
    let speaks = if speaks_for { "against" } else { "for" };
    if rivals.is_empty() { String::new() } else { format!(" This speaks {speaks} {rivals}.") }
}

/// The other causes that a finding moves
fn rivals_moved(rivals: &[Then]) -> String {
    let phrase = |rival: &Then| {
        format!("{}{} ({})", place(&rival.named.place), rival.named.label, moved(rival.from, rival.to))
    };
    match rivals {
        [] => String::new(),
        [one] => format!("another cause of the same signs: {}", phrase(one)),
        more => format!("{OTHERS} {}", listed(&more.iter().map(phrase).collect::<Vec<_>>())),
    }
}

fn rivals(prose: &mut Prose, cause: &Cause) {
    let rivals: Vec<String> = cause
        .rivals
        .iter()
        .take(MOST_RIVALS)
        .map(|rival| {
            format!("{}{} ({})", place(&rival.named.place), rival.named.label, percent(rival.probability))
        })
        .collect();
    if !rivals.is_empty() {
        prose.say(4, &format!("The first sign could also come from: {}.", rivals.join("; ")));
    }
}

/// What mends it, its cautions first
fn mending(prose: &mut Prose, remedies: &[Remedy], place: &str, mended: &mut Mended) {
    for remedy in remedies {
        if !mended.insert((remedy.id.clone(), place.to_owned())) {
            continue;
        }
        for caution in &remedy.cautions {
            prose.caution(4, caution);
        }
        let within = match remedy.within {
            Some(hours) if hours <= 0.0 => ", before the machine works again".to_owned(),
            Some(hours) => format!(", within {} working hours", figure(hours)),
            None => String::new(),
        };
        let left = remedy.left.as_ref().map_or_else(String::new, |left| format!(" If not done: {left}"));
        prose.named(
            4,
            "To do",
            &format!("{} (about {} h of work{within}).{left}", remedy.label, figure(remedy.hours)),
        );
    }
}

pub(super) fn conditions(prose: &mut Prose, report: &Report, heading: &str, mended: &mut Mended) {
    let shown: Vec<&Condition> = report.shown_conditions().collect();
    if shown.is_empty() {
        return;
    }
    prose.heading(heading);
    for condition in shown {
        let abnormal = condition.grades.iter().skip(1);
        let grade = abnormal.fold(None, |best: Option<&Form>, next| {
            if best.is_none_or(|best| next.probability > best.probability) { Some(next) } else { best }
        });
        let grade = match grade {
            Some(grade) if condition.grades.len() > 2 => format!(" (most likely: {})", plain(&grade.name)),
            _ => String::new(),
        };
        prose.say(
            2,
            &format!(
                "{}{}{grade}: {}",
                capital(&place(&condition.place)),
                condition.label,
                condition.chance.in_words()
            ),
        );
        if is_spoken_for(condition.prior, condition.chance.upper) {
            mending(prose, &condition.remedies, &condition.place, mended);
        } else {
            prose.say(4, NOTHING_SPEAKS);
        }
    }
}
