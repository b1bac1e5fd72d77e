//! What could stand on an indented line.

mod test;

use super::Offer;
use super::line::{Clause, Line};
use super::offers::{fixed, grades, keywords, names, numbered_parts, plurals, shares};
use crate::check::{ACCESS, clauses};
use crate::editor::words::words;
use crate::editor::{Cursor, Rules};
use crate::invariant::Hold;
use crate::syntax::tree::{Declaration, Sort};
use crate::units::Unit;

/// What could stand behind these words of a line of a block
pub(super) fn offers(rules: &Rules, block: &Declaration, cursor: Cursor, line: &Line<'_>) -> Vec<Offer> {
    if line.words.is_empty() {
        return starts(rules, block, cursor);
    }
    let mut offers = going_on(rules, block, &line.clause(0));
    if line.ends_in_gap && line.words.len() > 1 {
        offers.extend(starts(rules, block, cursor));
    }
    offers
}

/// The clauses that a block can still take, and the names its rows start with
fn starts(rules: &Rules, block: &Declaration, cursor: Cursor) -> Vec<Offer> {
    let (once, often) = clauses::taken(block.sort.value);
    let elsewhere = |word: &str| {
        let here = |start: usize, end: usize| start <= cursor.at && cursor.at <= end;
        block.clauses.iter().any(|it| clauses::word(&it.value) == word && !here(it.at.start, it.at.end))
    };
    let words = often.iter().chain(once.iter().filter(|word| !elsewhere(word)));
    let spelled: Vec<&str> = words
        .filter(|word| **word != clauses::ROW)
        .map(|word| if *word == "gives way" { "gives way to" } else { word })
        .collect();
    let rows = match block.sort.value {
        Sort::Dimensions | Sort::Life => names(rules, &[Sort::Measure]),
        _ => Vec::new(),
    };
    [rows, keywords(&spelled)].concat()
}

fn going_on(rules: &Rules, block: &Declaration, clause: &Clause<'_, '_>) -> Vec<Offer> {
    if let Some(words) = clause.test {
        return test::offers(rules, block, words);
    }
    let last = clause.rest.last().copied();
    let listing = matches!(last, None | Some(","));
    match clause.word {
        "with" => with(rules, block, clause.rest),
        "without" => effects(rules, block, clause.rest),
        "chance" => chance(rules, clause.rest),
        "seen" if last == Some("of") => nouns(rules),
        "seen" if last == Some("%") => keywords(&["of"]),
        "only" if last.is_none() => keywords(&["where"]),
        "choices" | "counts" if listing => grades(block, true),
        "choices" => keywords(&["where"]),
        "from" => from(rules, block, clause.rest),
        "is" | "against" => sum(rules, clause.rest),
        "advice" if last.is_some() => keywords(&["where"]),
        "kind" if last.is_none() => names(rules, &[Sort::Kind]),
        "basis" if last.is_none() => keywords(&["common practice", "estimate"]),
        "basis" if last == Some("common") => keywords(&["practice"]),
        "finds" if last.is_none() => keywords(&["out"]),
        "gives" => match last {
            None => keywords(&["way to"]),
            Some("to") => names(rules, &[Sort::Symptom]),
            _ => Vec::new(),
        },
        "unit" if last.is_none() => fixed(&Unit::all().map(Unit::word).collect::<Vec<_>>()),
        "takes" => fixed(&["min", "h"]),
        "within" => fixed(&["h"]),
        "shows" if listing => names(rules, &[Sort::Symptom]),
        "reads" | "renews" if listing => names(rules, &[Sort::Measure]),
        "renews" if last == Some("%") => keywords(&["to"]),
        "renews" => keywords(&["from"]),
        "spares" if listing => names(rules, &[Sort::Remedy]),
        "lasts" if last.is_none() => names(rules, &[Sort::Measure]),
        "lasts" if last == Some("%") => keywords(&["of", "where"]),
        "fixes" if listing => names(rules, &[Sort::Cause, Sort::Condition]),
        "while" | "makes" if last.is_none() => names(rules, &[Sort::State]),
        "ends" if listing => names(rules, &[Sort::State]),
        "access" if last.is_none() => fixed(&ACCESS),
        "rubs" if last.is_none() => names(rules, &[Sort::Part]),
        "left" if last.is_some() => keywords(&["loses"]),
        _ if matches!(block.sort.value, Sort::Dimensions | Sort::Life) => {
            keywords(&["where", "after that", "tolerance"])
        }
        _ => Vec::new(),
    }
}

/// Behind `with`: parents with their grades and places up to the colon, then what they bring about
fn with(rules: &Rules, block: &Declaration, rest: &[&str]) -> Vec<Offer> {
    if let Some(colon) = rest.iter().position(|word| *word == ":") {
        return effects(rules, block, rest.get(colon + 1..).hold("the colon is one of them"));
    }
    match rest.last().copied() {
        None | Some("and") => names(rules, &[Sort::Cause, Sort::Condition]),
        Some("on") => [keywords(&["either side"]), of_any(rules)].concat(),
        Some("either" | "this" | "other") => fixed(&["side"]),
        Some("any") => numbered_parts(rules),
        Some("toward") => fixed(&["this side", "the other side"]),
        Some(word) => {
            let own = rules.block(word).map_or_else(Vec::new, |parent| grades(parent, false));
            [own, keywords(&["and", "on", "toward"])].concat()
        }
    }
}

fn of_any(rules: &Rules) -> Vec<Offer> {
    let mut parts = numbered_parts(rules);
    for part in &mut parts {
        part.word.insert_str(0, "any ");
    }
    parts
}

/// Shares with the grades of the block
fn effects(rules: &Rules, block: &Declaration, rest: &[&str]) -> Vec<Offer> {
    let shares = shares(rules);
    match rest.last().copied() {
        None | Some(",") => shares,
        Some(word) if word == "%" || shares.iter().any(|share| share.word == word) => {
            [grades(block, false), keywords(&["where"])].concat()
        }
        Some(_) => keywords(&["where"]),
    }
}

fn chance(rules: &Rules, rest: &[&str]) -> Vec<Offer> {
    match rest.last().copied() {
        None => shares(rules),
        Some("of") => nouns(rules),
        Some(",") => keywords(&["toward one side"]),
        Some(_) if rest.contains(&"of") => keywords(&["where"]),
        Some(_) => keywords(&["of", "where"]),
    }
}

/// Among what a share is counted
fn nouns(rules: &Rules) -> Vec<Offer> {
    [fixed(&["machines", "sides"]), plurals(rules)].concat()
}

/// Behind `from`: what is reckoned up to the colon, then grades or choices with their bounds
fn from(rules: &Rules, block: &Declaration, rest: &[&str]) -> Vec<Offer> {
    if !rest.contains(&":") {
        return sum(rules, rest);
    }
    let own = words(block).map_or_else(Vec::new, |words| words.all);
    match rest.last().copied() {
        Some(":" | ",") => grades(block, true),
        Some(word) if own.contains(&word) => keywords(&["over", "under"]),
        _ => Vec::new(),
    }
}

/// What could go on an expression
fn sum(rules: &Rules, rest: &[&str]) -> Vec<Offer> {
    let measures = || names(rules, &[Sort::Measure]);
    let operands = || {
        let words = ["worn", "loss", "new", "limit", "pace", "life", "hours of", "turn of", "half of"];
        let gathers = ["mean of", "largest of", "smallest of", "spread of"];
        [measures(), keywords(&words), keywords(&gathers)].concat()
    };
    let (last, before) = match rest {
        [] => return operands(),
        [only] => (*only, ""),
        [.., before, last] => (*last, *before),
    };
    match last {
        "+" | "-" | "*" | "/" | "(" => operands(),
        "worn" | "loss" | "new" | "limit" | "pace" | "life" => measures(),
        "of" if ["hours", "turn"].contains(&before) => names(rules, &[Sort::Part]),
        "of" if rest.contains(&"across") => plurals(rules),
        "of" => operands(),
        "across" => [fixed(&["sides"]), plurals(rules), fixed(&["front half of", "rear half of"])].concat(),
        _ => keywords(&["across", "since turned"]),
    }
}
