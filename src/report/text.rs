//! A diagnosis as a mechanic reads it.

use super::diagnosis::{Cause, Reason, Report};
use super::page::Page;
use super::told::{NextCheck, Remedy, Then, in_words};
use super::words::{capital, figure, likely, minutes, percent, plain};
use crate::place::Place;

/// Causes under this are not told one by one
const TOLD_FROM: f64 = 0.05;
/// Causes told one by one at the most
const MOST_CAUSES: usize = 8;
/// Steps told of each cause, for and against
const MOST_STEPS: (usize, usize) = (4, 3);
/// Checks told
const MOST_CHECKS: usize = 5;
/// Outcomes told of each check
const MOST_OUTCOMES: usize = 2;
/// Probability from which what mends it is told
const MEND_FROM: f64 = 0.3;
/// Conditions told from this probability on
const CONDITION_FROM: f64 = 0.5;

/// The whole report, filled to a width
pub fn diagnosis(report: &Report, width: usize) -> String {
    let mut page = Page::new(width);
    head(&mut page, report);
    causes(&mut page, report);
    conditions(&mut page, report);
    next_checks(&mut page, &report.next_checks, MOST_CHECKS);
    wear(&mut page, report);
    doubts(&mut page, report);
    page.heading("BEWARE");
    page.item("  ", report.notice);
    page.finish()
}

fn head(page: &mut Page, report: &Report) {
    let hours = report.hours.map_or_else(|| "hours not told".to_owned(), |hours| format!("{hours:.0} h"));
    page.item("", &format!("{}: {} ({hours})", report.machine, report.case));
    let sides = "Left and right are the operator's, facing forward.";
    page.item(
        "",
        &format!(
            "{} signs of trouble and {} normal looks or readings count. {sides}",
            report.abnormal, report.normal
        ),
    );
    if report.abnormal > 0 && report.normal < report.abnormal {
        page.item("", "Few normal looks are noted. What was looked at and sound is worth as much as what was wrong: note the \
             checks that were done under `looked`, or too much gets the blame.");
    }
}

fn causes(page: &mut Page, report: &Report) {
    page.heading("WHAT PROBABLY MADE IT WEAR");
    let told: Vec<&Cause> =
        report.causes.iter().filter(|cause| cause.probability >= TOLD_FROM).take(MOST_CAUSES).collect();
    if told.iter().all(|cause| cause.probability < MEND_FROM) {
        page.item("  ", "Nothing stands out: no cause is more than a possibility on what was seen.");
    }
    for (number, cause) in told.iter().enumerate() {
        page.gap();
        let title = title(cause);
        page.item(
            &format!("{:>2}. ", number + 1),
            &format!("{title}: {}, {}", likely(cause.probability), percent(cause.probability)),
        );
        page.item(
            "    ",
            &format!("{}. Before anything was seen: {}.", capital(&cause.kind_label), percent(cause.prior)),
        );
        steps(page, cause, MOST_STEPS);
        rivals(page, cause);
        if cause.probability >= MEND_FROM {
            mending(page, &cause.remedies);
        }
    }
    let rest = report.causes.len() - told.len();
    if rest > 0 {
        page.gap();
        page.item(
            "    ",
            &format!(
                "{rest} other causes were weighed; none of them reaches {}.",
                percent(
                    report.causes.get(told.len()).map_or(TOLD_FROM, |next| next.probability.max(TOLD_FROM))
                )
            ),
        );
    }
}

/// Label with place and likeliest form
pub(super) fn title(cause: &Cause) -> String {
    let place = place(&cause.place);
    let form = match &cause.form {
        Some(form) => format!(" ({}: {})", plain(&form.name), percent(form.probability)),
        None => String::new(),
    };
    format!("{place}{}{form}", if place.is_empty() { capital(&cause.label) } else { cause.label.clone() })
}

/// `Left: `, `Left roller 3: `, or nothing for the machine
pub(super) fn place(place: &str) -> String {
    if place.is_empty() || place == Place::Machine.to_string() {
        String::new()
    } else {
        format!("{}: ", capital(&plain(place)))
    }
}

/// Steps for and against, the strongest of each
pub(super) fn steps(page: &mut Page, cause: &Cause, (most_for, most_against): (usize, usize)) {
    let speaks_for = cause.reasons.iter().filter(|reason| reason.decibans > 0.0 && !reason.rest);
    let against = cause.reasons.iter().filter(|reason| reason.decibans < 0.0 && !reason.rest);
    for reason in speaks_for.take(most_for) {
        page.item("    + ", &step(reason));
    }
    for reason in against.take(most_against) {
        page.item("    - ", &step(reason));
    }
}

fn step(reason: &Reason) -> String {
    let findings = match reason.together_with.as_slice() {
        [] => in_words(&reason.told),
        [one] => format!("{}; {}", in_words(&reason.told), in_words(one)),
        [one, more @ ..] => {
            format!("{}; {}; and {} more like it", in_words(&reason.told), in_words(one), more.len())
        }
    };
    let moved = format!("{} to {}", percent(reason.from), percent(reason.to));
    let why = if !reason.direct {
        " (it bears on this through what else could explain the findings)".to_owned()
    } else if reason.decibans < 0.0 && reason.told.normal {
        " If this were the cause, it should have shown.".to_owned()
    } else if reason.because.is_empty() {
        String::new()
    } else {
        format!(" {}", reason.because)
    };
    format!("{}. From {moved}.{why}", capital(&findings))
}

fn rivals(page: &mut Page, cause: &Cause) {
    let rivals: Vec<String> = cause
        .rivals
        .iter()
        .take(3)
        .map(|rival| {
            format!("{}{} ({})", place(&rival.place).to_lowercase(), rival.label, percent(rival.probability))
        })
        .collect();
    if !rivals.is_empty() {
        page.item("    ", &format!("The first sign could also come from: {}.", rivals.join("; ")));
    }
}

/// What mends it, its cautions first
pub(super) fn mending(page: &mut Page, remedies: &[Remedy]) {
    for remedy in remedies {
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

fn conditions(page: &mut Page, report: &Report) {
    let told: Vec<_> = report.conditions.iter().filter(|it| it.probability >= CONDITION_FROM).collect();
    if told.is_empty() {
        return;
    }
    page.heading("WHAT STATE THAT LEFT IT IN");
    for condition in told {
        let abnormal = condition.grades.iter().skip(1);
        let grade = abnormal.fold(None, |best: Option<&super::diagnosis::Form>, next| {
            if best.is_none_or(|best| next.probability > best.probability) { Some(next) } else { best }
        });
        let grade = match grade {
            Some(grade) if condition.grades.len() > 2 => format!(" (most likely: {})", plain(&grade.name)),
            _ => String::new(),
        };
        page.item(
            "  ",
            &format!(
                "{}{}{grade}: {}, {}",
                place(&condition.place),
                condition.label,
                likely(condition.probability),
                percent(condition.probability)
            ),
        );
        mending(page, &condition.remedies);
    }
}

/// The checks to do, cautions before the check they belong to
pub(super) fn next_checks(page: &mut Page, checks: &[NextCheck], most: usize) {
    page.heading("WHAT TO LOOK AT NEXT");
    if checks.is_empty() {
        page.item("  ", "Nothing that is left to look at would change what is said above.");
    }
    for (number, check) in checks.iter().take(most).enumerate() {
        page.gap();
        next_check(page, number + 1, check);
    }
    if checks.len() > most {
        page.gap();
        page.item(
            "    ",
            &format!("{} more checks would tell something: `pinboss next` lists them.", checks.len() - most),
        );
    }
}

fn next_check(page: &mut Page, number: usize, check: &NextCheck) {
    if let Some(set_up) = &check.set_up {
        for caution in &set_up.cautions {
            page.item("    CAUTION: ", caution);
        }
        page.item(
            "    First: ",
            &format!("{} ({}), unless it is done already.", set_up.label, minutes(set_up.minutes)),
        );
    }
    for caution in &check.cautions {
        page.item("    CAUTION: ", caution);
    }
    page.item(
        &format!("{number:>2}. "),
        &format!("{}{} ({})", place(&check.place), check.label, conditions_of(check)),
    );
    if let Some(first) = &check.first {
        page.item("    ", &format!("Do it {first}."));
    }
    if let Some(how) = &check.how {
        page.item("    ", how);
    }
    for outcome in check.outcomes.iter().take(MOST_OUTCOMES) {
        let place = if outcome.place == check.place || outcome.place.is_empty() || outcome.place == "machine"
        {
            String::new()
        } else {
            format!(", {}", plain(&outcome.place))
        };
        page.item(
            "    ",
            &format!(
                "If {}{place} is \"{}\" ({} likely): {}.",
                outcome.label,
                plain(&outcome.grade),
                percent(outcome.chance),
                moved(&outcome.then)
            ),
        );
    }
    if let Some(normal) = check.all_normal.as_ref().filter(|normal| !normal.then.is_empty()) {
        page.item(
            "    ",
            &format!("If all is normal ({} likely): {}.", percent(normal.chance), moved(&normal.then)),
        );
    }
}

fn conditions_of(check: &NextCheck) -> String {
    let mut parts = vec![minutes(check.minutes)];
    if !check.needs.is_empty() {
        parts.push(check.needs.join(", "));
    }
    parts.extend(check.access.as_deref().map(|access| match access {
        "parked" => "machine parked".to_owned(),
        "moved" => "machine rolled a little, with a spotter".to_owned(),
        "lifted" => "one side lifted and cribbed".to_owned(),
        "records" => "from records or people, no access needed".to_owned(),
        other => other.to_owned(),
    }));
    parts.extend(check.state.as_ref().map(|state| format!("machine {state}")));
    parts.join("; ")
}

fn moved(then: &[Then]) -> String {
    let told: Vec<String> = then
        .iter()
        .take(2)
        .map(|then| {
            format!(
                "{}{} goes from {} to {}",
                place(&then.place).to_lowercase(),
                then.label,
                percent(then.from),
                percent(then.to)
            )
        })
        .collect();
    told.join("; ")
}

fn wear(page: &mut Page, report: &Report) {
    if report.wear.is_empty() {
        return;
    }
    page.heading("HOW WORN WHAT WAS READ IS");
    page.item(
        "  ",
        "Per cent of the way from new to the size at which work is due, give or take one standard error.",
    );
    for worn in &report.wear {
        let left = match (worn.hours_left, worn.hours_by) {
            (Some(hours), Some("own pace")) => format!("; about {} h left at its own pace", round(hours)),
            (Some(hours), Some(_)) => {
                format!("; about {} h left by the usual life on such ground", round(hours))
            }
            _ => String::new(),
        };
        page.item(
            "  ",
            &format!(
                "{}{}: {} {}, {:.0} % worn, give or take {:.0}{left}",
                place(&worn.place),
                worn.label,
                figure(worn.read),
                worn.unit,
                worn.percent,
                worn.sigma.max(1.0)
            ),
        );
    }
}

/// Hours to two figures: nobody knows them better
fn round(hours: f64) -> String {
    let step = if hours >= 1000.0 { 100.0 } else { 10.0 };
    format!("{:.0}", (hours / step).round() * step)
}

fn doubts(page: &mut Page, report: &Report) {
    if !report.clashes.is_empty() || !report.unexplained.is_empty() {
        page.heading("LOOK AGAIN");
    }
    for clash in &report.clashes {
        page.item(
            "  ",
            &format!(
                "{}{} was seen as \"{}\", the readings say \"{}\"; the readings count.",
                place(&clash.place),
                clash.label,
                clash.seen,
                clash.read
            ),
        );
    }
    for finding in &report.unexplained {
        page.item("  ", &format!(
            "{}: nothing in these rules explains it well ({} likely that it came about otherwise). Look again, or a rule is missing.",
            capital(&in_words(&finding.told)), percent(finding.probability)
        ));
    }
    if !report.held.is_empty() {
        page.heading("NOT COUNTED");
    }
    for held in &report.held {
        page.item("  ", &format!("{}{}: {}.", place(&held.place), held.label, held.why));
    }
}
