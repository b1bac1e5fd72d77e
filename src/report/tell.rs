//! A diagnosis as a mechanic reads it.

mod assess;
mod causes;
mod checks;
mod held;
mod robust;
mod contradictions;
mod outdated;
mod overall;
mod plan;
mod since;
mod trend;
mod trial;
mod wear;

pub use assess::{assess, everything as whole_assessment, sign};
pub use causes::{title, told_causes, told_conditions, told_steps};
pub use plan::{everything as whole_plan, plan};
pub use robust::firm;
pub use since::since;
pub use trend::{in_words as trend_in_words, outlook, trend};
pub use trial::trial;
pub use wear::hours_left;

use crate::place::Place;
use crate::report::page::Page;
use crate::report::record::diagnosis::{Hardly, Report};
use crate::report::record::told::{NextCheck, in_words};
use crate::report::record::why::{Explained, Why};
use crate::report::words::{capital, percent, plain, several, whole};
use std::collections::BTreeSet;

/// Checks told
const MOST_CHECKS: usize = 5;

/// The whole report, filled to a width
pub fn diagnosis(report: &Report, width: usize) -> String {
    let mut page = Page::new(width);
    head(&mut page, report);
    counts(&mut page, report);
    causes_and_states(&mut page, report);
    plan::short(&mut page, &report.plan);
    what_next(&mut page, report, MOST_CHECKS);
    wear::wear(&mut page, report);
    to_mind(&mut page, report);
    doubts(&mut page, report);
    page.heading("BEWARE");
    page.item("  ", report.notice);
    page.finish()
}

fn head(page: &mut Page, report: &Report) {
    let hours =
        report.hours.map_or_else(|| "hours not told".to_owned(), |hours| format!("{} h", whole(hours)));
    page.item("", &format!("{}: {} ({hours})", report.machine, report.case));
}

/// What to mind about single readings
pub(super) fn to_mind(page: &mut Page, report: &Report) {
    if !report.advice.is_empty() {
        page.heading("TO MIND");
        contradictions::advice(page, &report.advice);
    }
}

/// One figure for the whole, where one can be had
pub(super) fn as_a_whole(page: &mut Page, report: &Report) {
    if let Some(told) = &report.overall {
        overall::overall(page, told);
    }
}

/// How much counts, and what that is worth
pub(super) fn counts(page: &mut Page, report: &Report) {
    let sides = "Left and right are the operator's, facing forward.";
    page.item(
        "",
        &format!(
            "{} and {} count. {sides}",
            several(report.abnormal, "sign of trouble", "signs of trouble"),
            several(report.normal, "normal look or reading", "normal looks or readings")
        ),
    );
    if report.causes.iter().any(|cause| !cause.chance.exact) {
        page.item("", "So many signs that share so many causes cannot be weighed one against the other in the time \
             allowed. Each figure below is a range that is certain to hold the true one; more time narrows the \
             ranges: `--budget 10` allows ten seconds.");
    }
    if report.abnormal > 0 && report.normal < report.abnormal {
        page.item("", "Few normal looks are noted. What was looked at and sound is worth as much as what was wrong: note the \
             checks that were done under `looked`, or too much gets the blame.");
    }
}

/// What probably made it wear, and the state that left it in; what mends something is told once
pub(super) fn causes_and_states(page: &mut Page, report: &Report) {
    let mut mended = BTreeSet::new();
    causes::causes(page, report, &mut mended);
    causes::conditions(page, report, &mut mended);
}

/// The next checks, at most so many, or what helps where they cannot be ranked
pub(super) fn what_next(page: &mut Page, report: &Report, most: usize) {
    if report.entangled {
        checks::untangle(page, report);
    } else {
        checks::checks(page, &report.next_checks, most);
    }
}

/// `left: `, `left roller 3: `, or nothing for the machine
fn place(place: &str) -> String {
    if place.is_empty() || place == Place::Machine.to_string() {
        String::new()
    } else {
        format!("{}: ", plain(place))
    }
}

/// The next checks alone, filled to a width
pub fn next_checks(checks: &[NextCheck], most: usize, width: usize) -> String {
    let mut page = Page::new(width);
    checks::checks(&mut page, checks, most);
    page.heading("BEWARE");
    page.item("  ", crate::report::record::diagnosis::NOTICE);
    page.finish()
}

/// Everything for and against one cause or condition, at each place asked about
pub fn why(told: &Why, width: usize) -> String {
    let mut page = Page::new(width);
    let mut mended = BTreeSet::new();
    if let Some(supposed) = &told.supposed {
        page.item("", &format!("Supposing that {}:", in_words(supposed)));
    }
    for (number, cause) in told.causes.iter().enumerate() {
        if number > 0 {
            page.gap();
        }
        causes::whole(&mut page, cause, &mut mended);
        if let Some(before) = told.before.get(number).filter(|_| told.supposed.is_some()) {
            page.item("", &format!("Without that it is {}.", percent(*before)));
        }
    }
    for finding in &told.findings {
        explained(&mut page, finding);
    }
    if let Some(robust) = &told.robust {
        robust::robust(&mut page, robust);
    }
    page.finish()
}

/// What explains one finding
fn explained(page: &mut Page, finding: &Explained) {
    page.item(
        "",
        &format!("{}. What can bring it about, likeliest first:", capital(&in_words(&finding.told))),
    );
    for source in &finding.sources {
        let own = &source.cause;
        let moved = match source.left_out {
            weight if weight >= 0.5 => "this finding speaks for it",
            weight if weight <= -0.5 => "this finding speaks against it",
            _ => "this finding hardly moves it",
        };
        page.item(
            "  ",
            &format!(
                "{}{}: {}; {moved}. {}",
                place(&own.place),
                own.label,
                percent(own.probability),
                source.because
            ),
        );
    }
    if finding.sources.is_empty() {
        page.item("  ", "Nothing in these rules.");
    }
    if let Some(by_chance) = finding.unexplained {
        page.item("  ", &format!("None of these: {}.", percent(by_chance)));
    }
}

/// Findings that hardly go together, and what to do about them
fn hardly_together(hardly: &Hardly) -> String {
    let findings: Vec<String> = hardly.findings.iter().map(in_words).collect();
    let (go, of) = match findings.len() {
        2 => ("these two hardly go together", "both"),
        _ => ("these hardly go together", "each of them"),
    };
    format!(
        "{}: {go}, and no cause in these rules accounts for it. Look again at {of}; if they stand, a rule is missing.",
        capital(&findings.join("; "))
    )
}

/// What to look at again, and what does not count
pub(super) fn doubts(page: &mut Page, report: &Report) {
    let agreed = report.clashes.is_empty() && report.unexplained.is_empty();
    if !agreed || report.hardly_together.is_some() || !report.contradictions.is_empty() {
        page.heading("LOOK AGAIN");
    }
    contradictions::contradictions(page, &report.contradictions);
    for clash in &report.clashes {
        page.item(
            "  ",
            &format!(
                "{}{} was seen as \"{}\", the readings say \"{}\"; the readings count.",
                capital(&place(&clash.place)),
                clash.label,
                clash.seen,
                clash.read
            ),
        );
    }
    if let Some(hardly) = &report.hardly_together {
        page.item("  ", &hardly_together(hardly));
    }
    for finding in &report.unexplained {
        page.item("  ", &format!(
            "{}: nothing in these rules explains it well ({} likely that it came about otherwise). Look again, or a rule is missing.",
            capital(&in_words(&finding.told)), percent(finding.probability)
        ));
    }
    held::held(page, &report.held);
}
