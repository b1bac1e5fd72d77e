//! What could stand in a test behind `where`.

use crate::editor::Rules;
use crate::editor::complete::Offer;
use crate::editor::complete::offers::{fixed, grades, keywords, names, numbered_parts, plurals};
use crate::editor::mention::is_numbered;
use crate::invariant::Hold;
use crate::syntax::tree::{Attribute, Declaration, Sort};

/// What could stand behind these words of a test
pub(super) fn offers(rules: &Rules, block: &Declaration, words: &[&str]) -> Vec<Offer> {
    let asked = |word: &str| ["is", "are", "over", "under"].contains(&word);
    let term = words.rsplit(|word| *word == "and").next().hold("a split has a last piece");
    match term.last().copied() {
        None => subjects(rules, block),
        Some("is" | "are" | "not" | "or") => {
            let subject = term.first().map_or_else(Vec::new, |subject| values(rules, subject));
            if term.len() == 2 { [subject, keywords(&["not"])].concat() } else { subject }
        }
        Some("over" | "under") => Vec::new(),
        Some(_) if term.iter().any(|word| asked(word)) => keywords(&["or", "and"]),
        Some("hours") => keywords(&["over", "under"]),
        Some(_) => keywords(&["is", "is not", "are", "over", "under"]),
    }
}

fn subjects(rules: &Rules, block: &Declaration) -> Vec<Offer> {
    let mut offers = [names(rules, &[Sort::Fact]), keywords(&["side", "hours"]), plurals(rules)].concat();
    let each = block.attributes.iter().find_map(|attribute| match &attribute.value {
        Attribute::Each(word) => Some(word.value.as_str()),
        _ => None,
    });
    offers.extend(numbered_parts(rules).into_iter().filter(|part| Some(part.word.as_str()) == each));
    offers
}

/// What a subject can be
fn values(rules: &Rules, subject: &str) -> Vec<Offer> {
    if subject == "side" {
        return fixed(&["left", "right"]);
    }
    match rules.block(subject) {
        Some(part) if is_numbered(part) => fixed(&["first", "last", "in front half", "in rear half"]),
        Some(fact) => grades(fact, true),
        None => Vec::new(),
    }
}
