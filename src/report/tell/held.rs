//! What does not count in words: each reason once, with all that it keeps from counting.

use crate::ground::Held;
use crate::place::Place;
use crate::report::prose::Prose;
use crate::report::words::{capital, listed, plain};

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
        let named = by_label(alike);
        let text = match named.as_slice() {
            [only] => format!("{}: {}.", capital(only), first.why),
            _ => format!("{}. So these do not count: {}.", capital(&first.why), named.join("; ")),
        };
        if listed { prose.item(2, &text) } else { prose.say(2, &text) }
    }
}

/// What does not count, each label once with all its places before it
fn by_label<'h>(held: impl Iterator<Item = &'h &'h Held>) -> Vec<String> {
    let mut all: Vec<(&str, Vec<String>)> = Vec::new();
    for Held { named, .. } in held {
        let at = if named.place == Place::Machine { None } else { Some(plain(&named.place.to_string())) };
        match all.iter_mut().find(|(label, _)| *label == named.label) {
            Some((_, places)) => places.extend(at),
            None => all.push((&named.label, at.into_iter().collect())),
        }
    }
    let with_places = |(label, places): &(&str, Vec<String>)| match places.as_slice() {
        [] => (*label).to_owned(),
        places => format!("{}: {label}", listed(places)),
    };
    all.iter().map(with_places).collect()
}
