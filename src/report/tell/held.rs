//! What does not count in words: each reason once, with all that it keeps from counting.

use super::place;
use crate::report::page::Page;
use crate::report::record::diagnosis::Held;
use crate::report::words::capital;

/// What does not count, and why
pub(super) fn held(page: &mut Page, all: &[Held]) {
    if !all.is_empty() {
        page.heading("NOT COUNTED");
    }
    reasons(page, "  ", &all.iter().collect::<Vec<_>>());
}

/// Each reason behind a mark, with all that it keeps from counting
pub(super) fn reasons(page: &mut Page, mark: &str, all: &[&Held]) {
    for (number, first) in all.iter().enumerate() {
        if all.iter().take(number).any(|before| before.why == first.why) {
            continue;
        }
        let alike = all.iter().skip(number).filter(|own| own.why == first.why);
        let named: Vec<String> = alike.map(|own| format!("{}{}", place(&own.place), own.label)).collect();
        let told = match named.as_slice() {
            [only] => format!("{}: {}.", capital(only), first.why),
            _ => format!("{}. So these do not count: {}.", capital(&first.why), named.join("; ")),
        };
        page.item(mark, &told);
    }
}
