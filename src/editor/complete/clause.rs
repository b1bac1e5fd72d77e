//! What could stand on an indented line.

mod test;

use super::Offer;
use super::line::{Clause, Line};
use super::offers::{fixed, grades, keywords, names, numbered_parts, plurals, shares};
use crate::editor::words::words;
use crate::editor::{Cursor, Rules};
use crate::syntax::language::{self, After, Next, Often, ROW};
use crate::syntax::tree::{About, Declaration, Gather, Sort};
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
    let elsewhere = |word: &str| {
        let here = |start: usize, end: usize| start <= cursor.at && cursor.at <= end;
        block.clauses.iter().any(|it| it.value.word() == word && !here(it.at.start, it.at.end))
    };
    let taken = language::taken(block.sort.value).filter(|(clause, _)| clause.word != ROW);
    let open = taken.filter(|(clause, often)| *often == Often::Often || !elsewhere(clause.word));
    let openings: Vec<String> = open.map(|(clause, _)| clause.opening()).collect();
    let spelled: Vec<&str> = openings.iter().map(String::as_str).collect();
    let rows = match block.sort.value {
        Sort::Dimensions | Sort::Life => names(rules, &[Sort::Measure]),
        _ => Vec::new(),
    };
    [rows, keywords(&spelled)].concat()
}

/// What could stand behind the words of a clause, by the table of the language
fn going_on(rules: &Rules, block: &Declaration, clause: &Clause<'_, '_>) -> Vec<Offer> {
    if let Some(words) = clause.test {
        return test::offers(rules, block, words);
    }
    let row = || language::taken(block.sort.value).map(|(clause, _)| clause).find(|it| it.word == ROW);
    let follow = language::starting_with(clause.word).or_else(row).map_or(&[][..], |clause| clause.follow);
    let fitting = follow.iter().find(|(after, _)| stands_after(*after, block, clause.rest));
    fitting.map_or_else(Vec::new, |(_, next)| offered(*next, rules, block, clause.rest))
}

/// Whether the words written of a clause, its first left out, end as is asked for
fn stands_after(after: After, block: &Declaration, rest: &[&str]) -> bool {
    let last = rest.last().copied();
    match after {
        After::Keyword => last.is_none(),
        After::Item => matches!(last, None | Some(",")),
        After::Later => last.is_some(),
        After::Word(word) => last == Some(word),
        After::Own => last.is_some_and(|last| words(block).is_some_and(|words| words.all.contains(&last))),
        After::Past(word) => rest.contains(&word),
        After::Until(word) => !rest.contains(&word),
        After::Any => true,
    }
}

fn offered(next: Next, rules: &Rules, block: &Declaration, rest: &[&str]) -> Vec<Offer> {
    match next {
        Next::Words(words) => keywords(words),
        Next::Fixed(words) | Next::Times(words) => fixed(words),
        Next::Units => fixed(&Unit::all().map(Unit::word).collect::<Vec<_>>()),
        Next::Names(sorts) => names(rules, sorts),
        Next::Grades => grades(block, true),
        Next::Shares => shares(rules),
        Next::Nouns => nouns(rules),
        Next::Parents => parents(rules, rest),
        Next::Effects(behind) => effects(rules, block, rest, behind),
        Next::Sum => sum(rules, rest),
    }
}

/// Parents with their grades and places
fn parents(rules: &Rules, rest: &[&str]) -> Vec<Offer> {
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
fn effects(rules: &Rules, block: &Declaration, rest: &[&str], behind: &'static [&'static str]) -> Vec<Offer> {
    let shares = shares(rules);
    match rest.last().copied() {
        None | Some(":" | ",") => shares,
        Some(word) if word == "%" || shares.iter().any(|share| share.word == word) => {
            [grades(block, false), keywords(behind)].concat()
        }
        Some(_) => keywords(behind),
    }
}

/// Among what a share is counted
fn nouns(rules: &Rules) -> Vec<Offer> {
    [fixed(&["machines", "sides"]), plurals(rules)].concat()
}

/// What could go on an expression
fn sum(rules: &Rules, rest: &[&str]) -> Vec<Offer> {
    let measures = || names(rules, &[Sort::Measure]);
    let operands = || {
        let gathers = Gather::ALL.map(|gather| format!("{} of", gather.word()));
        let gathers = gathers.each_ref().map(String::as_str);
        let others = ["hours of", "turn of", "half of"];
        [measures(), keywords(&About::ALL.map(About::word)), keywords(&others), keywords(&gathers)].concat()
    };
    let (last, before) = match rest {
        [] => return operands(),
        [only] => (*only, ""),
        [.., before, last] => (*last, *before),
    };
    match last {
        "+" | "-" | "*" | "/" | "(" => operands(),
        word if About::of(word).is_some() => measures(),
        "of" if ["hours", "turn"].contains(&before) => names(rules, &[Sort::Part]),
        "of" if rest.contains(&"across") => plurals(rules),
        "of" => operands(),
        "across" => [fixed(&["sides"]), plurals(rules), fixed(&["front half of", "rear half of"])].concat(),
        _ => keywords(&["across", "since turned"]),
    }
}
