//! Cases tried against rules, in words.

use super::causes::step;
use crate::report::extent::{MOST_STEPS_ASTRAY, STEP_ASTRAY_FROM};
use crate::report::prose::Prose;
use crate::report::record::trial::{Astray, Case, Failure, Share, Trials, TrueCauses};
use crate::report::words::percent;

/// What came of all cases; `all` lists every rule that none of them exercises
pub fn trial(trials: &Trials, all: bool) -> Prose {
    let mut prose = Prose::new();
    let claims: usize = trials.cases.iter().map(|case| case.claims).sum();
    let failures: usize = trials.cases.iter().map(|case| case.failures.len()).sum();
    prose.say(
        0,
        &format!(
            "Cases that hold: {} of {}. Claims that hold: {} of {claims}.",
            trials.hold,
            trials.cases.len(),
            claims - failures
        ),
    );
    true_causes(&mut prose, &trials.true_causes);
    for file in &trials.not_tried {
        prose.say(2, &format!("{file}: not tried; what is wrong with it is told among the problems."));
    }
    if !trials.nothing_claimed.is_empty() {
        let files = trials.nothing_claimed.join(", ");
        prose.say(2, &format!("Without `truth` or `expect`, so that nothing can be tried: {files}."));
    }
    for case in trials.cases.iter().filter(|case| !case.failures.is_empty()) {
        failing(&mut prose, case);
    }
    prose.heading("What of the rules these cases exercise");
    for share in &trials.exercised {
        let alone = match share.by_author_alone {
            0 => String::new(),
            1 => "; 1 of the others names no published source either".to_owned(),
            more => format!("; {more} of the others name no published source either"),
        };
        prose.say(2, &format!("{} of {}{alone}", share.exercised, count(share.rules, share.sort)));
    }
    if all {
        not_exercised(&mut prose, &trials.exercised);
    } else if trials.exercised.iter().any(|share| share.exercised < share.rules) {
        prose.say(2, "A change to the others goes unnoticed: `--all` lists them.");
    }
    prose
}

fn true_causes(prose: &mut Prose, true_causes: &TrueCauses) {
    let TrueCauses { cases, first, among_three } = true_causes;
    let which = match cases {
        0 => return,
        1 => "1 case that has one".to_owned(),
        _ => format!("{cases} cases that have one"),
    };
    prose.say(
        0,
        &format!("A true cause came first in {first} of {which}, among the first three in {among_three}."),
    );
}

/// `1 case`, `2 cases`
fn count(number: usize, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}

fn failing(prose: &mut Prose, case: &Case) {
    prose.passage(&format!("{}: {}", case.file, case.title));
    for failure in &case.failures {
        self::failure(prose, failure);
    }
}

fn failure(prose: &mut Prose, failure: &Failure) {
    prose.say(2, &format!("Line {}, `{}`: expected {}.", failure.line, failure.by, failure.expected));
    prose.say(2, &format!("Came out: {}.", failure.came_out));
    for astray in &failure.astray {
        led_astray(prose, astray);
    }
}

fn led_astray(prose: &mut Prose, astray: &Astray) {
    let cause = &astray.cause;
    let name =
        if cause.place == "machine" { cause.id.clone() } else { format!("{} {}", cause.id, cause.place) };
    let mut steps: Vec<_> = cause
        .reasons
        .iter()
        .filter(|reason| {
            (reason.decibans > 0.0) == astray.too_high && reason.decibans.abs() >= STEP_ASTRAY_FROM
        })
        .collect();
    steps.sort_by(|a, b| b.decibans.abs().total_cmp(&a.decibans.abs()));
    let way = if astray.too_high { "for" } else { "against" };
    if steps.is_empty() {
        let moved = format!("from {} to {}", percent(cause.prior), percent(cause.chance.upper));
        prose.say(2, &format!("No single finding speaks much {way} `{name}`, which goes {moved}."));
        return;
    }
    prose.say(2, &format!("What speaks {way} `{name}`, the strongest first; `pinboss why` tells the rest:"));
    for reason in steps.into_iter().take(MOST_STEPS_ASTRAY) {
        prose.step(4, astray.too_high, "it", &step(reason));
    }
}

fn not_exercised(prose: &mut Prose, shares: &[Share]) {
    for share in shares.iter().filter(|share| !share.not_exercised.is_empty()) {
        prose.heading(&format!("No case exercises: {}", count(share.not_exercised.len(), share.sort)));
        for rule in &share.not_exercised {
            let text = if rule.text.is_empty() { String::new() } else { format!(": {}", rule.text) };
            let sourced = if rule.sourced { " (of a published source)" } else { "" };
            prose.say(2, &format!("{}:{} {}{text}{sourced}", rule.file, rule.line, rule.name));
        }
    }
}
