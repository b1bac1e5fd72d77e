//! What moved from one set of rules to another, in words.

use crate::report::extent::MOST_MOVES;
use crate::report::prose::Prose;
use crate::report::record::since::{Case, Changed, Pair, Shift, Since};
use crate::report::words::{bound, percent};
use crate::trial::since::MOVED_FROM;

/// What differs between two sets of rules and what that moved
pub fn since(since: &Since) -> Prose {
    let mut prose = Prose::new();
    prose.heading("What differs in the rules");
    if since.changes.is_empty() {
        prose.say(2, "Nothing: the rules say the same, however they are laid out.");
        return prose;
    }
    for change in &since.changes {
        changed(&mut prose, change);
    }
    prose.heading(&format!("What that moved (causes by {} or more)", bound(MOVED_FROM)));
    if since.too_many_to_tell_apart {
        prose.say(2, "Too many blocks differ for each to be tried by itself: what moved what is not told.");
    }
    for case in &since.cases {
        moved(&mut prose, case, since.too_many_to_tell_apart);
    }
    let still = since.cases.iter().filter(|case| is_still(case)).count();
    if still > 0 {
        let (noun, of) = if still == 1 { ("case", "it") } else { ("cases", "them") };
        prose.say(2, &format!("{still} {noun} in which nothing moved: these changes do not touch {of}."));
    }
    prose
}

fn changed(prose: &mut Prose, change: &Changed) {
    let name = if change.name == change.sort { String::new() } else { format!(" {}", change.name) };
    prose.say(2, &format!("{}: {}{name} ({}:{})", change.how, change.sort, change.file, change.line));
    for clause in &change.clauses_gone {
        prose.change(4, false, clause);
    }
    for clause in &change.clauses_added {
        prose.change(4, true, clause);
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

fn moved(prose: &mut Prose, case: &Case, too_many: bool) {
    if is_still(case) {
        return;
    }
    prose.say(2, &format!("{}:", case.file));
    if let Some(why) = &case.not_before {
        prose.say(4, &format!("The old rules cannot weigh it: {why}."));
    }
    for claim in &case.broken {
        prose.say(4, &format!("No longer holds (line {}): {}.", claim.line, claim.expected));
    }
    for claim in &case.mended {
        prose.say(4, &format!("Now holds (line {}): {}.", claim.line, claim.expected));
    }
    for shift in case.moves.iter().take(MOST_MOVES) {
        prose.say(4, &format!("{}{}.", moves(shift), because(shift, too_many)));
    }
    if case.moves.len() > MOST_MOVES {
        prose.say(4, &format!("{} more causes moved less.", case.moves.len() - MOST_MOVES));
    }
    if let Some(pair) = &case.order {
        prose.say(4, &format!("First causes: {}.", was_and_is(pair)));
    }
    if let Some(pair) = &case.next_checks {
        prose.say(4, &format!("Next checks: {}.", was_and_is(pair)));
    }
}

fn moves(shift: &Shift) -> String {
    format!("{}: from {} to {}", shift.cause, percent(shift.before), percent(shift.after))
}

fn because(shift: &Shift, too_many: bool) -> String {
    if too_many {
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
