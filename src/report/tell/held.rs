//! What does not count in words: each reason once, with all that it keeps from counting.

use super::place;
use crate::ground::Held;
use crate::report::prose::Prose;
use crate::report::words::capital;

/// What does not count, and why
pub(super) fn held(prose: &mut Prose, all: &[Held]) {
    if !all.is_empty() {
        prose.heading("Not counted");
    }
    reasons(prose, false, &all.iter().collect::<Vec<_>>());
}

/// Each reason with all that it keeps from counting, as lines of a list or as paragraphs
pub(super) fn reasons(prose: &mut Prose, listed: bool, all: &[&Held]) {
    for (number, first) in all.iter().enumerate() {
        if all.iter().take(number).any(|before| before.why == first.why) {
            continue;
        }
        let alike = all.iter().skip(number).filter(|own| own.why == first.why);
        let named: Vec<String> =
            alike.map(|own| format!("{}{}", place(&own.named.place), own.named.label)).collect();
        let text = match named.as_slice() {
            [only] => format!("{}: {}.", capital(only), first.why),
            _ => format!("{}. So these do not count: {}.", capital(&first.why), named.join("; ")),
        };
        if listed { prose.item(2, &text) } else { prose.say(2, &text) }
    }
}
