//! Checks in words: cautions first, then what to do, then what each outcome would mean.

use super::place;
use crate::plan::standstill::Standstill;
use crate::report::extent::{MOST_OUTCOMES, MOST_SHIFTS};
use crate::report::prose::Prose;
use crate::report::record::diagnosis::Report;
use crate::report::record::evidence::{self, NextCheck, Outcome, Then};
use crate::report::words::{capital, listed, minutes, percent, plain};

/// Before checks that are likely to decide nothing
const ONLY_FIRMS_UP: &str =
    "What follows is not likely to bring up a cause, or to clear one; it only firms up the figures.";

/// The checks to do, cautions before the check they belong to, and from where on they are likely to decide nothing
pub(super) fn checks(prose: &mut Prose, checks: &[NextCheck], stands: Option<&Standstill>, most: usize) {
    prose.heading("What to look at next");
    stands.iter().for_each(|stands| standing(prose, stands));
    let deciding = evidence::deciding(checks);
    if checks.is_empty() {
        prose.say(2, "Nothing that is left to look at would change what is said above.");
    } else if deciding == 0 {
        prose.say(2, &format!("Enough has been seen to go by. {ONLY_FIRMS_UP}"));
    }
    let mut before: Option<&NextCheck> = None;
    for (number, check) in checks.iter().take(most).enumerate() {
        prose.gap();
        if number == deciding && number > 0 {
            prose.say(2, ONLY_FIRMS_UP);
            prose.gap();
        }
        match before.filter(|before| before.id == check.id) {
            Some(before) => twin(prose, number + 1, check, before),
            None => whole(prose, number + 1, check),
        }
        before = Some(check);
    }
    if checks.len() > most {
        prose.gap();
        prose.say(4, &more(deciding.saturating_sub(most), checks.len() - most.max(deciding)));
    }
}

/// Why the machine must stand, and what may not be done on it meanwhile
fn standing(prose: &mut Prose, stands: &Standstill) {
    let because: Vec<String> =
        stands.because.iter().map(|own| format!("{}{}", place(&own.place), own.label)).collect();
    prose.caution(2, &format!("The machine is not to be moved: {}.", listed(&because)));
    if !stands.taken_off.is_empty() {
        let off: Vec<String> = stands.taken_off.iter().map(|label| format!("\"{label}\"")).collect();
        prose.say(
            2,
            &format!("So what takes a moving machine is left out until that is mended: {}.", listed(&off)),
        );
    }
    if !stands.too_near.is_empty() {
        let off: Vec<String> = stands.too_near.iter().map(|label| format!("\"{label}\"")).collect();
        prose.say(2, &format!("Nor does anybody go near it for a look: {} waits as well.", listed(&off)));
    }
}

/// How many checks are not listed: those that may decide something, and the others
fn more(deciding: usize, others: usize) -> String {
    let counts =
        [(deciding, "may bring up a cause or clear one"), (others, "would only firm up the figures")];
    let phrases = counts
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, do_what)| format!("{count} more {do_what}"));
    format!("{}. `pinboss next --all` lists all.", phrases.collect::<Vec<_>>().join("; "))
}

/// What helps where checks cannot be ranked
pub(super) fn untangle(prose: &mut Prose, report: &Report) {
    prose.heading("What to look at next");
    prose
        .say(2, "So many signs share so many causes that checks cannot be ranked. This untangles them most:");
    for fact in &report.not_given {
        prose.item(2, &format!("Find out: {}{}.", place(&fact.place), fact.label));
    }
    prose.item(2, "Note under `looked` every check that was done, so that what was sound counts too.");
}

/// The same check as the one before, at another place
fn twin(prose: &mut Prose, number: usize, check: &NextCheck, before: &NextCheck) {
    prose.cautions_as_before(4, &check.cautions);
    let title = format!(
        "{}The same as on the {} ({})",
        place_first(check),
        plain(&before.place),
        minutes(check.minutes)
    );
    prose.entry(4, number, &title);
}

fn place_first(check: &NextCheck) -> String {
    capital(&place(&check.place))
}

/// What to beware of, and what must be done before a check
pub(super) fn before(prose: &mut Prose, depth: usize, check: &NextCheck) {
    if let Some(set_up) = &check.set_up {
        for caution in &set_up.cautions {
            prose.caution(depth, caution);
        }
        let first =
            format!("{} ({}), unless it is done already.", set_up.term.label, minutes(set_up.minutes));
        prose.named(depth, "First", &first);
    }
    for caution in &check.cautions {
        prose.caution(depth, caution);
    }
}

fn whole(prose: &mut Prose, number: usize, check: &NextCheck) {
    before(prose, 4, check);
    let title = format!("{}{} ({})", place_first(check), check.label, conditions_of(check));
    prose.entry(4, number, &title);
    if let Some(first) = &check.first {
        prose.say(4, &format!("Do it {first}."));
    }
    if let Some(how) = &check.how {
        prose.say(4, how);
    }
    outcomes(prose, check);
}

/// What its outcomes would mean
fn outcomes(prose: &mut Prose, check: &NextCheck) {
    for outcome in check.outcomes.iter().take(MOST_OUTCOMES) {
        prose.say(4, &come_out(check, outcome));
    }
    let normal = check.all_normal.as_ref().filter(|normal| !normal.then.is_empty());
    if let Some(normal) = normal {
        let sentence =
            format!("If all is normal (chance {}), then {}.", percent(normal.chance), moved(&normal.then));
        prose.say(4, &sentence);
    }
    if check.outcomes.is_empty() && normal.is_none() {
        prose.say(4, "Whatever comes out changes no single cause much, but many causes a little.");
    }
}

/// What an outcome would mean
fn come_out(check: &NextCheck, outcome: &Outcome) -> String {
    let grade = plain(&outcome.grade);
    let shown = if check.sort == "fact" {
        format!("If the answer is {grade}")
    } else {
        let elsewhere = outcome.place != check.place && outcome.place != "machine";
        let at = if elsewhere { format!(", {}", plain(&outcome.place)) } else { String::new() };
        format!("If it shows {}{at}: {grade}", outcome.label)
    };
    format!("{shown} (chance {}), then {}.", percent(outcome.chance), moved(&outcome.then))
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
    let shifts: Vec<String> = then
        .iter()
        .take(MOST_SHIFTS)
        .map(|then| {
            format!(
                "{}{} goes from {} to {}",
                place(&then.named.place),
                then.named.label,
                percent(then.from),
                percent(then.to)
            )
        })
        .collect();
    shifts.join("; ")
}
