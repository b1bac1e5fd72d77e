//! A diagnosis as a mechanic reads it: its head, what counts, what is in doubt, and `why`; the chapters stand beneath, and the page
//! uses them too.

mod assess;
mod causes;
mod checks;
mod figures;
mod held;
mod robust;
mod contradictions;
mod outdated;
mod overall;
mod plan;
#[cfg(feature = "page")]
mod short;
mod since;
mod trend;
mod trial;
mod turns;
mod watch;
mod wear;

pub use assess::{assess, everything as whole_assessment};
pub use plan::{everything as whole_plan, plan};
pub use robust::firm;
#[cfg(feature = "page")]
pub use short::in_short;
pub use since::since;
pub use trend::{outlook, trend};
pub use trial::trial;
pub use wear::{SCALE, hours_left};

use crate::ground::Outlier;
use crate::plan::standstill::Standstill;
use crate::report::extent::{Extent, SHORT};
use crate::report::prose::Prose;
use crate::report::record::diagnosis::{Hardly, Report, Unexplained};
use crate::report::record::evidence::{NextCheck, in_words};
use crate::report::record::why::{Explained, Why};
use crate::report::words::{capital, figure, percent, place, several, whole};
use std::collections::BTreeSet;

/// Whose left and right
const SIDES: &str = "Left and right are the operator's, facing forward.";
/// What the pictures of wear show
pub const CURVES: &str = "What was read, with the span in which nine of ten such readings lie; what lies ahead if ground, work and \
care stay as they were, and the band in which nine of ten parts go on. One line across is where a part is worn out, another \
from where the work is to be planned; curves of one measure have one scale.";

/// The whole report
pub fn diagnosis(report: &Report) -> Prose {
    let mut prose = Prose::new();
    head(&mut prose, &report.machine, &report.case, report.hours);
    counts(&mut prose, report);
    causes_and_states(&mut prose, report);
    plan::short(&mut prose, &report.plan);
    turns::turns(&mut prose, &report.plan.turns);
    what_next(&mut prose, report, SHORT);
    wear::wear(&mut prose, report);
    to_mind(&mut prose, report);
    doubts(&mut prose, report);
    prose.heading("Beware");
    prose.say(2, report.notice);
    prose
}

/// The machine, the case, and the hours on the meter
fn head(prose: &mut Prose, machine: &str, case: &str, hours: Option<f64>) {
    prose.say(0, &format!("{machine}: {case} ({})", meter(hours)));
}

/// Hours on the meter
fn meter(hours: Option<f64>) -> String {
    hours.map_or_else(|| "hours not told".to_owned(), |hours| format!("{} h", whole(hours)))
}

/// What to mind about single readings
pub(super) fn to_mind(prose: &mut Prose, report: &Report) {
    if !report.advice.is_empty() {
        prose.heading("To mind");
        contradictions::advice(prose, &report.advice);
    }
}

/// One figure for the whole, where one can be had
pub(super) fn as_a_whole(prose: &mut Prose, report: &Report) {
    if let Some(overall) = &report.overall {
        overall::overall(prose, overall);
    }
}

/// How much counts, and what that is worth
pub(super) fn counts(prose: &mut Prose, report: &Report) {
    prose.say(
        0,
        &format!(
            "{} and {} count. {SIDES}",
            several(report.abnormal, "sign of trouble", "signs of trouble"),
            several(report.normal, "normal look or reading", "normal looks or readings")
        ),
    );
    if report.causes.iter().any(|cause| !cause.chance.exact) {
        prose.say(0, "So many signs that share so many causes cannot be weighed one against the other in the time \
             allowed. Each figure below is a range that is certain to hold the true one; more time narrows the \
             ranges: `--budget 10` allows ten seconds.");
    }
    if report.abnormal > 0 && report.normal < report.abnormal {
        prose.say(0, "Few normal looks are noted. What was looked at and sound is worth as much as what was wrong: note the \
             checks that were done under `looked`, or too much gets the blame.");
    }
}

/// What probably made it wear, and the state that left it in; what mends something is told once
///
/// Where a state is surer than any cause of it, as an idler that stands off the middle whatever moved it there, it comes first.
pub(super) fn causes_and_states(prose: &mut Prose, report: &Report) {
    let mut mended = BTreeSet::new();
    if report.state_answers() {
        causes::conditions(prose, report, "What state it is in, whatever made it so", &mut mended);
        causes::causes(prose, report, &mut mended);
    } else {
        causes::causes(prose, report, &mut mended);
        causes::conditions(prose, report, "What state that left it in", &mut mended);
    }
}

/// The next checks, so many of them, or what helps where they cannot be ranked
pub(super) fn what_next(prose: &mut Prose, report: &Report, extent: Extent) {
    if report.entangled {
        checks::untangle(prose, report);
    } else {
        checks::checks(prose, &report.next_checks, report.stands.as_ref(), extent.checks);
    }
}

/// The next checks alone
pub fn next_checks(checks: &[NextCheck], stands: Option<&Standstill>, most: usize) -> Prose {
    let mut prose = Prose::new();
    checks::checks(&mut prose, checks, stands, most);
    prose.heading("Beware");
    prose.say(2, crate::report::record::diagnosis::NOTICE);
    prose
}

/// Everything for and against one cause or condition, at each place asked about
pub fn why(why: &Why) -> Prose {
    let mut prose = Prose::new();
    let mut mended = BTreeSet::new();
    if let Some(supposed) = &why.supposed {
        prose.say(0, &format!("Supposing that {}:", in_words(supposed)));
    }
    for (number, cause) in why.causes.iter().enumerate() {
        if number > 0 {
            prose.gap();
        }
        causes::whole(&mut prose, cause, &mut mended);
        if let Some(before) = why.before.get(number).filter(|_| why.supposed.is_some()) {
            prose.say(0, &format!("Without that it is {}.", percent(*before)));
        }
    }
    for finding in &why.findings {
        explained(&mut prose, finding);
    }
    if let Some(robust) = &why.robust {
        robust::robust(&mut prose, robust);
    }
    prose
}

/// What explains one finding
fn explained(prose: &mut Prose, finding: &Explained) {
    prose.say(
        0,
        &format!("{}. What can bring it about, likeliest first:", capital(&in_words(&finding.finding))),
    );
    for source in &finding.sources {
        let own = &source.cause;
        let moved = match source.left_out {
            weight if weight >= 0.5 => "this finding speaks for it",
            weight if weight <= -0.5 => "this finding speaks against it",
            _ => "this finding hardly moves it",
        };
        prose.say(
            2,
            &format!(
                "{}{}: {}; {moved}. {}",
                place(&own.named.place),
                own.named.label,
                percent(own.probability),
                source.because
            ),
        );
    }
    if finding.sources.is_empty() {
        prose.say(2, "Nothing in these rules.");
    }
    if let Some(by_chance) = finding.unexplained {
        prose.say(2, &format!("None of these: {}.", percent(by_chance)));
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

/// A value that lies far from the others of its place
fn outlier(own: &Outlier) -> String {
    let counts = if own.counts {
        "it counts as read, the worst of them"
    } else {
        "their mean counts, with the scatter as its error"
    };
    let shown = |value: f64| format!("{} {}", figure(value), own.unit.word());
    format!(
        "{}{}: one of {} reads {}, the others {} on the mean; {counts}. Read that one again.",
        capital(&place(own.named.place.to_string())),
        own.named.label,
        own.of,
        shown(own.read),
        shown(own.others)
    )
}

/// What to look at again, and what does not count
pub(super) fn doubts(prose: &mut Prose, report: &Report) {
    // What no likely cause accounts for has been told with what to do about it.
    let open = |own: &&Unexplained| !report.unclaimed.iter().any(|it| it.finding == own.finding);
    let unexplained: Vec<&Unexplained> = report.unexplained.iter().filter(open).collect();
    let agreed = report.clashes.is_empty() && unexplained.is_empty();
    let agreed = agreed && report.outliers.is_empty();
    if !agreed || report.hardly_together.is_some() || !report.contradictions.is_empty() {
        prose.heading("Look again");
    }
    contradictions::contradictions(prose, &report.contradictions);
    for own in &report.outliers {
        prose.say(2, &outlier(own));
    }
    for clash in &report.clashes {
        prose.say(
            2,
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
        prose.say(2, &hardly_together(hardly));
    }
    for finding in unexplained {
        prose.say(2, &format!(
            "{}: nothing in these rules explains it well ({} likely that it came about otherwise). Look again, or a rule is missing.",
            capital(&in_words(&finding.finding)), percent(finding.probability)
        ));
    }
    held::held(prose, &report.held);
}
