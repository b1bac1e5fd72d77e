//! What could stand on the line that starts a declaration.

use super::Offer;
use super::line::Line;
use super::offers::{fixed, keywords, names, numbered_parts, sorts};
use crate::editor::Rules;
use crate::syntax::language::{PARTIES, Sort};

/// What could stand behind these words of a head line
pub(super) fn offers(rules: &Rules, line: &Line<'_>) -> Vec<Offer> {
    let words = line.words.as_slice();
    let Some((sort, rest)) = words.split_first() else {
        return [sorts(), keywords(&["basis", "opposites", "hazard"])].concat();
    };
    if *sort == "basis" {
        return of_file(rest);
    }
    let Some(sort) = Sort::of(sort) else {
        return Vec::new();
    };
    let labelled = rest.iter().any(|word| word.starts_with('"'));
    match rest.last().copied() {
        Some("against") => fixed(&PARTIES),
        Some("each") => [fixed(&["side"]), numbered_parts(rules)].concat(),
        Some("of" | "rubs") => names(rules, &[Sort::Part]),
        Some(",") if !labelled => attributes(rules, sort),
        Some(_) if labelled && sort == Sort::Kind => keywords(&["counts against"]),
        Some(_) if labelled && sort == Sort::Part => keywords(&["rubs", "drawn", "only where"]),
        _ => Vec::new(),
    }
}

/// What could stand behind these words of the basis of a file
fn of_file(words: &[&str]) -> Vec<Offer> {
    match words.last().copied() {
        None => keywords(&["common practice", "estimate"]),
        Some("common") => keywords(&["practice"]),
        Some("for" | ",") => {
            let based: Vec<&str> =
                Sort::ALL.into_iter().filter(|sort| sort.has_basis()).map(Sort::word).collect();
            keywords(&based)
        }
        Some(_) if words.contains(&"for") => Vec::new(),
        Some(_) => keywords(&["for"]),
    }
}

/// What could stand behind the comma after a name
fn attributes(rules: &Rules, sort: Sort) -> Vec<Offer> {
    let mut offers = keywords(&["each side"]);
    if sort == Sort::Part {
        return [offers, keywords(&["numbered"])].concat();
    }
    for mut part in numbered_parts(rules) {
        part.word.insert_str(0, "each ");
        offers.push(part);
    }
    if matches!(sort, Sort::Condition | Sort::Symptom | Sort::Measure | Sort::Cause) {
        for mut part in names(rules, &[Sort::Part]) {
            part.word.insert_str(0, "of ");
            offers.push(part);
        }
    }
    offers
}
