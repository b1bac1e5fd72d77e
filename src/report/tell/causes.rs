//! Causes and conditions in words: how likely, what speaks for and against, what mends it.

use super::place;
use crate::report::page::Page;
use crate::report::record::diagnosis::{Cause, Chance, Condition, Form, Reason, Report};
use crate::report::record::told::{Remedy, Then, in_words};
use crate::report::words::{capital, chance, figure, listed, percent, plain, several};
use std::collections::BTreeSet;

/// Causes under this are not told one by one
const TOLD_FROM: f64 = 0.05;
/// Causes told one by one at the most
const MOST_CAUSES: usize = 8;
/// Steps told of each cause
const MOST_STEPS: usize = 6;
/// Decibans under which a step is not told unless asked for
const TELLING: f64 = 1.0;
/// Probability from which what mends it is told
const MEND_FROM: f64 = 0.3;
/// Conditions told from this probability on although nothing seen speaks for them
const CERTAIN_FROM: f64 = 0.8;
/// Conditions told from this probability on
const CONDITION_FROM: f64 = 0.5;

/// How many times its prior a small probability must be to be told
const MOVED_OVER: f64 = 1.2;

/// Distance of bounds over which they say nothing
const OPEN_FROM: f64 = 0.98;

/// Remedies already told, by name and place: each is told once
pub(super) type Mended = BTreeSet<(String, String)>;

pub(super) fn causes(page: &mut Page, report: &Report, mended: &mut Mended) {
    page.heading("WHAT PROBABLY MADE IT WEAR");
    let told = told_causes(report);
    let open = report.causes.iter().filter(|cause| says_nothing(&cause.chance)).count();
    if open > 0 {
        page.item(
            "  ",
            &format!("Of {} nothing can be said in the time allowed.", several(open, "cause", "causes")),
        );
    }
    if open == 0 && told.iter().all(|cause| cause.chance.upper < MEND_FROM) {
        page.item("  ", "Nothing stands out: no cause is more than a possibility on what was seen.");
    }
    for (number, cause) in told.iter().enumerate() {
        page.gap();
        let title = title(cause);
        page.item(&format!("{:>2}. ", number + 1), &format!("{title}: {}", chance(&cause.chance)));
        if cause.order_open {
            page.item("    ", "Whether this or the next stands first is not settled.");
        }
        page.item(
            "    ",
            &format!("{}. Before anything was seen: {}.", capital(&cause.kind_label), percent(cause.prior)),
        );
        steps(page, cause);
        rivals(page, cause);
        if cause.chance.lower >= MEND_FROM {
            mending(page, &cause.remedies, &cause.place, mended);
        }
    }
    others(page, report, &told);
}

/// The causes not told one by one: in a line each of those that nothing speaks for and that are likely all the same, and the
/// count of the rest
fn others(page: &mut Page, report: &Report, told: &[&Cause]) {
    let is_told = |cause: &&Cause| told.iter().any(|told| std::ptr::eq(*told, *cause));
    let (unmoved, others): (Vec<&Cause>, Vec<&Cause>) = (report.causes.iter())
        .filter(|cause| !is_told(cause) && !says_nothing(&cause.chance))
        .partition(|cause| cause.chance.upper >= TOLD_FROM && told.len() < MOST_CAUSES);
    if !unmoved.is_empty() {
        page.gap();
        page.item("    ", "As likely as before anything was seen, or less:");
    }
    for cause in unmoved.iter().take(MOST_CAUSES) {
        let (now, before) = (chance(&cause.chance), percent(cause.prior));
        page.item("    - ", &format!("{}: {now}, before {before}.", title(cause)));
    }
    let rest = others.len() + unmoved.len().saturating_sub(MOST_CAUSES);
    if rest > 0 {
        page.gap();
        let untold = others.iter().chain(unmoved.iter().skip(MOST_CAUSES));
        let next = untold.map(|cause| cause.chance.upper).fold(TOLD_FROM, f64::max);
        let next = (next * 100.0).ceil() / 100.0;
        let which = match (told.is_empty() && unmoved.is_empty(), rest) {
            (true, _) => format!("All {rest} causes were weighed; none of them reaches"),
            (false, 1) => "1 other cause was weighed; it does not reach".to_owned(),
            (false, _) => format!("{rest} other causes were weighed; none of them reaches"),
        };
        page.item("    ", &format!("{which} {}.", percent(next)));
    }
}

/// The causes told one by one
pub fn told_causes(report: &Report) -> Vec<&Cause> {
    report.causes.iter().filter(|cause| is_worth_telling(cause)).take(MOST_CAUSES).collect()
}

/// Bounds that leave all open
fn says_nothing(chance: &Chance) -> bool {
    chance.upper - chance.lower > OPEN_FROM
}

/// Not what stands where it stood before anything was seen, unless that is high
fn is_worth_telling(cause: &Cause) -> bool {
    let upper = cause.chance.upper;
    let moved = upper >= MEND_FROM || upper > MOVED_OVER * cause.prior;
    upper >= TOLD_FROM && moved && !says_nothing(&cause.chance)
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

/// One cause or condition with all that speaks for and against it
pub(super) fn whole(page: &mut Page, cause: &Cause, mended: &mut Mended) {
    page.item("", &format!("{}: {}", title(cause), chance(&cause.chance)));
    let kind =
        if cause.kind_label.is_empty() { String::new() } else { format!("{}. ", capital(&cause.kind_label)) };
    page.item("  ", &format!("{kind}Before anything was seen: {}.", percent(cause.prior)));
    let stays = |to: f64| percent(cause.prior) == percent(to);
    if cause.reasons.is_empty() && cause.chance.probability.is_some_and(stays) {
        page.item("  ", "Nothing that was seen or read bears on it.");
    }
    for reason in &cause.reasons {
        page.step("  ", reason.decibans >= 0.0, "it", &step(reason));
    }
    all_else(page, "  ", cause, &cause.reasons);
    rivals(page, cause);
    if cause.chance.upper >= TOLD_FROM {
        mending(page, &cause.remedies, &cause.place, mended);
    }
}

/// The steps told of a cause: the first ones, in the order in which they were taken in, so that each begins where the one
/// before it ended; up to the last that is worth telling
pub fn told_steps(cause: &Cause) -> &[Reason] {
    let shown = |reason: &Reason| percent(reason.from) != percent(reason.to);
    let telling = |reason: &Reason| !reason.rest && reason.decibans.abs() >= TELLING && shown(reason);
    let first = cause.reasons.get(..MOST_STEPS).unwrap_or(&cause.reasons);
    let count = first.iter().rposition(telling).map_or(0, |last| last + 1);
    first.get(..count).unwrap_or_default()
}

fn steps(page: &mut Page, cause: &Cause) {
    let told = told_steps(cause);
    for reason in told {
        page.step("    ", reason.decibans > 0.0, "it", &step(reason));
    }
    all_else(page, "    ", cause, told);
}

/// What the findings do together that no step tells of; nothing where the steps end at the probability
fn all_else(page: &mut Page, indent: &str, cause: &Cause, told: &[Reason]) {
    let Some(to) = cause.chance.probability else { return };
    let (from, words) = match told.last() {
        Some(last) => (last.to, "All else that was seen, together"),
        None => (cause.prior, "All that was seen, together"),
    };
    if percent(from) != percent(to) {
        page.step(indent, to > from, "it", &format!("{words}: {}.", moved(from, to)));
    }
}

pub(super) fn step(reason: &Reason) -> String {
    let findings = match reason.together_with.as_slice() {
        [] => in_words(&reason.told),
        [one] => format!("{}; {}", in_words(&reason.told), in_words(one)),
        [one, more @ ..] => {
            let more = several(more.len(), "more finding", "more findings");
            format!("{}; {}; and {more}", in_words(&reason.told), in_words(one))
        }
    };
    if reason.rest {
        let count = several(reason.together_with.len() + 1, "smaller finding", "smaller findings together");
        return format!("{count}: {}.", moved(reason.from, reason.to));
    }
    let why = if !reason.direct {
        through_rivals(reason)
    } else if reason.decibans < 0.0 && reason.told.normal {
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

/// What a finding does that the cause does not bring about; nothing where no other cause is moved enough to be told
fn through_rivals(reason: &Reason) -> String {
    let speaks = if reason.decibans >= 0.0 { "against" } else { "for" };
    let told =
        |rival: &Then| format!("{}{} ({})", place(&rival.place), rival.label, moved(rival.from, rival.to));
    match reason.rivals.as_slice() {
        [] => String::new(),
        [one] => format!(" This speaks {speaks} another cause of the same signs: {}.", told(one)),
        more => {
            let most = listed(&more.iter().map(told).collect::<Vec<_>>());
            format!(" This speaks {speaks} other causes of the same signs, most of all {most}.")
        }
    }
}

fn rivals(page: &mut Page, cause: &Cause) {
    let rivals: Vec<String> = cause
        .rivals
        .iter()
        .take(3)
        .map(|rival| format!("{}{} ({})", place(&rival.place), rival.label, percent(rival.probability)))
        .collect();
    if !rivals.is_empty() {
        page.item("    ", &format!("The first sign could also come from: {}.", rivals.join("; ")));
    }
}

/// What mends it, its cautions first
fn mending(page: &mut Page, remedies: &[Remedy], place: &str, mended: &mut Mended) {
    for remedy in remedies {
        if !mended.insert((remedy.id.clone(), place.to_owned())) {
            continue;
        }
        for caution in &remedy.cautions {
            page.item("    CAUTION: ", caution);
        }
        let within = match remedy.within {
            Some(hours) if hours <= 0.0 => ", before the machine works again".to_owned(),
            Some(hours) => format!(", within {} working hours", figure(hours)),
            None => String::new(),
        };
        let left = remedy.left.as_ref().map_or_else(String::new, |left| format!(" If left: {left}"));
        page.item(
            "    To do: ",
            &format!("{} (about {} h of work{within}).{left}", remedy.label, figure(remedy.hours)),
        );
    }
}

/// The conditions told: likely ones that what was found made likelier, and all but certain ones
pub fn told_conditions(report: &Report) -> Vec<&Condition> {
    let moved = |it: &&Condition| it.chance.upper > MOVED_OVER * it.prior || it.chance.lower >= CERTAIN_FROM;
    report.conditions.iter().filter(|it| it.chance.lower >= CONDITION_FROM).filter(moved).collect()
}

pub(super) fn conditions(page: &mut Page, report: &Report, mended: &mut Mended) {
    let told = told_conditions(report);
    if told.is_empty() {
        return;
    }
    page.heading("WHAT STATE THAT LEFT IT IN");
    for condition in told {
        let abnormal = condition.grades.iter().skip(1);
        let grade = abnormal.fold(None, |best: Option<&Form>, next| {
            if best.is_none_or(|best| next.probability > best.probability) { Some(next) } else { best }
        });
        let grade = match grade {
            Some(grade) if condition.grades.len() > 2 => format!(" (most likely: {})", plain(&grade.name)),
            _ => String::new(),
        };
        page.item(
            "  ",
            &format!(
                "{}{}{grade}: {}",
                capital(&place(&condition.place)),
                condition.label,
                chance(&condition.chance)
            ),
        );
        mending(page, &condition.remedies, &condition.place, mended);
    }
}
