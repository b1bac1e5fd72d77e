//! Cases tried against rules, in words.

use super::causes::step;
use crate::report::page::Page;
use crate::report::record::trial::{Astray, Case, Failure, Share, Trials, TrueCauses};
use crate::report::words::percent;

/// Steps told of what led astray
const MOST_STEPS: usize = 3;
/// Decibans under which a step is not told
const TELLING: f64 = 0.5;

/// What came of all cases, filled to a width; `all` lists every rule that none of them exercises
pub fn trial(told: &Trials, all: bool, width: usize) -> String {
    let mut page = Page::new(width);
    let claims: usize = told.cases.iter().map(|case| case.claims).sum();
    let failures: usize = told.cases.iter().map(|case| case.failures.len()).sum();
    page.item(
        "",
        &format!(
            "Cases that hold: {} of {}. Claims that hold: {} of {claims}.",
            told.hold,
            told.cases.len(),
            claims - failures
        ),
    );
    true_causes(&mut page, &told.true_causes);
    for file in &told.not_tried {
        page.item("  ", &format!("{file}: not tried; what is wrong with it is told among the problems."));
    }
    if !told.nothing_claimed.is_empty() {
        let files = told.nothing_claimed.join(", ");
        page.item("  ", &format!("Without `truth` or `expect`, so that nothing can be tried: {files}."));
    }
    for case in told.cases.iter().filter(|case| !case.failures.is_empty()) {
        failing(&mut page, case);
    }
    page.heading("WHAT OF THE RULES THESE CASES EXERCISE");
    for share in &told.exercised {
        page.item("  ", &format!("{} of {}", share.exercised, count(share.rules, share.sort)));
    }
    if all {
        not_exercised(&mut page, &told.exercised);
    } else if told.exercised.iter().any(|share| share.exercised < share.rules) {
        page.item("  ", "A change to the others goes unnoticed: `--all` lists them.");
    }
    page.finish()
}

fn true_causes(page: &mut Page, told: &TrueCauses) {
    let TrueCauses { cases, first, among_three } = told;
    let which = match cases {
        0 => return,
        1 => "1 case that has one".to_owned(),
        _ => format!("{cases} cases that have one"),
    };
    page.item(
        "",
        &format!("A true cause came first in {first} of {which}, among the first three in {among_three}."),
    );
}

/// `1 case`, `2 cases`
fn count(number: usize, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}

fn failing(page: &mut Page, case: &Case) {
    page.heading(&format!("{}: {}", case.file, case.title));
    for failure in &case.failures {
        told(page, failure);
    }
}

fn told(page: &mut Page, failure: &Failure) {
    page.item("  ", &format!("Line {}, `{}`: expected {}.", failure.line, failure.by, failure.expected));
    page.item("  ", &format!("Came out: {}.", failure.came_out));
    for astray in &failure.astray {
        led_astray(page, astray);
    }
}

fn led_astray(page: &mut Page, astray: &Astray) {
    let cause = &astray.cause;
    let name =
        if cause.place == "machine" { cause.id.clone() } else { format!("{} {}", cause.id, cause.place) };
    let mut steps: Vec<_> = cause
        .reasons
        .iter()
        .filter(|reason| (reason.decibans > 0.0) == astray.too_high && reason.decibans.abs() >= TELLING)
        .collect();
    steps.sort_by(|a, b| b.decibans.abs().total_cmp(&a.decibans.abs()));
    let (way, sign) = if astray.too_high { ("for", "    + ") } else { ("against", "    - ") };
    if steps.is_empty() {
        let moved = format!("from {} to {}", percent(cause.prior), percent(cause.chance.upper));
        page.item("  ", &format!("No single finding speaks much {way} `{name}`, which goes {moved}."));
        return;
    }
    page.item(
        "  ",
        &format!("What speaks {way} `{name}`, the strongest first; `pinboss why` tells the rest:"),
    );
    for reason in steps.into_iter().take(MOST_STEPS) {
        page.item(sign, &step(reason));
    }
}

fn not_exercised(page: &mut Page, shares: &[Share]) {
    for share in shares.iter().filter(|share| !share.not_exercised.is_empty()) {
        page.heading(&format!(
            "NO CASE EXERCISES: {}",
            count(share.not_exercised.len(), share.sort).to_uppercase()
        ));
        for rule in &share.not_exercised {
            let text = if rule.text.is_empty() { String::new() } else { format!(": {}", rule.text) };
            page.item("  ", &format!("{}:{} {}{text}", rule.file, rule.line, rule.name));
        }
    }
}
