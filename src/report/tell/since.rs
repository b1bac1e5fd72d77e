//! What moved from one set of rules to another, in words.

use crate::report::page::Page;
use crate::report::record::since::{Case, Changed, Pair, Shift, Since};
use crate::report::words::{bound, percent};
use crate::trial::since::MOVED_FROM;

/// Causes told of one case
const MOST_MOVES: usize = 6;

/// What differs between two sets of rules and what that moved, filled to a width
pub fn since(told: &Since, width: usize) -> String {
    let mut page = Page::new(width);
    page.heading("WHAT DIFFERS IN THE RULES");
    if told.changes.is_empty() {
        page.item("  ", "Nothing: the rules say the same, however they are laid out.");
        return page.finish();
    }
    for change in &told.changes {
        changed(&mut page, change);
    }
    page.heading(&format!("WHAT THAT MOVED (CAUSES BY {} OR MORE)", bound(MOVED_FROM)));
    if told.too_many_to_tell_apart {
        page.item(
            "  ",
            "Too many blocks differ for each to be tried by itself: what moved what is not told.",
        );
    }
    for case in &told.cases {
        moved(&mut page, case, told.too_many_to_tell_apart);
    }
    let still = told.cases.iter().filter(|case| is_still(case)).count();
    if still > 0 {
        let (noun, of) = if still == 1 { ("case", "it") } else { ("cases", "them") };
        page.item("  ", &format!("{still} {noun} in which nothing moved: these changes do not touch {of}."));
    }
    page.finish()
}

fn changed(page: &mut Page, change: &Changed) {
    let name = if change.name == change.sort { String::new() } else { format!(" {}", change.name) };
    page.item("  ", &format!("{}: {}{name} ({}:{})", change.how, change.sort, change.file, change.line));
    for clause in &change.clauses_gone {
        page.item("    - ", clause);
    }
    for clause in &change.clauses_added {
        page.item("    + ", clause);
    }
}

fn is_still(case: &Case) -> bool {
    case.not_before.is_none()
        && case.moves.is_empty()
        && case.order.is_none()
        && case.broken.is_empty()
        && case.mended.is_empty()
        && case.next_checks.is_none()
}

fn moved(page: &mut Page, case: &Case, untold: bool) {
    if is_still(case) {
        return;
    }
    page.item("  ", &format!("{}:", case.file));
    if let Some(why) = &case.not_before {
        page.item("    ", &format!("The old rules cannot weigh it: {why}."));
    }
    for claim in &case.broken {
        page.item("    ", &format!("No longer holds (line {}): {}.", claim.line, claim.expected));
    }
    for claim in &case.mended {
        page.item("    ", &format!("Now holds (line {}): {}.", claim.line, claim.expected));
    }
    for shift in case.moves.iter().take(MOST_MOVES) {
        page.item("    ", &format!("{}{}.", moves(shift), because(shift, untold)));
    }
    if case.moves.len() > MOST_MOVES {
        page.item("    ", &format!("{} more causes moved less.", case.moves.len() - MOST_MOVES));
    }
    if let Some(pair) = &case.order {
        page.item("    ", &format!("First causes: {}.", was_and_is(pair)));
    }
    if let Some(pair) = &case.next_checks {
        page.item("    ", &format!("Next checks: {}.", was_and_is(pair)));
    }
}

fn moves(shift: &Shift) -> String {
    format!("{}: from {} to {}", shift.cause, percent(shift.before), percent(shift.after))
}

fn because(shift: &Shift, untold: bool) -> String {
    if untold {
        return String::new();
    }
    let parts: Vec<String> = shift
        .because
        .iter()
        .map(|part| match part.alone {
            Some(to) => format!("{} (alone it makes {})", part.rule, percent(to)),
            None => part.rule.clone(),
        })
        .collect();
    match parts.as_slice() {
        [] => "; no one change accounts for it".to_owned(),
        [one] => format!(", because of {one}"),
        parts if shift.together => format!(", because of {}, which move it only together", parts.join(", ")),
        parts => format!(", because of {}", parts.join(", ")),
    }
}

fn was_and_is(pair: &Pair) -> String {
    let list = |names: &[String]| if names.is_empty() { "none".to_owned() } else { names.join(", ") };
    format!("were {}; are {}", list(&pair.before), list(&pair.after))
}
