//! What moved from one set of rules to another, as it is told.

use crate::place::Place;
use crate::report::record::trial::expected;
use crate::source::{Sources, Span};
use crate::syntax::change::{self, Change};
use crate::trial::claim::Claimed;
use crate::trial::since::{Because, Move, Moved, Named};
use serde::Serialize;

/// What differs between two sets of rules, and what that moved
#[derive(Debug, Serialize)]
pub struct Since {
    /// Declarations that differ
    pub changes: Vec<Changed>,
    /// There are too many of them for each to be tried by itself
    pub too_many_to_tell_apart: bool,
    /// The cases, in the order of their files
    pub cases: Vec<Case>,
}

/// A declaration that differs
#[derive(Debug, Serialize)]
pub struct Changed {
    /// `added`, `gone` or `changed`
    pub how: &'static str,
    /// Its keyword
    pub sort: &'static str,
    /// Its name; empty for the scale
    pub name: String,
    /// Its file, where it is gone the old one
    pub file: String,
    /// Its line, from 1
    pub line: usize,
    /// Its head line differs
    pub head: bool,
    /// Head and clauses that are gone, as they were written
    pub clauses_gone: Vec<String>,
    /// Head and clauses that were added, as they are written
    pub clauses_added: Vec<String>,
}

/// What moved in one case
#[derive(Debug, Serialize)]
pub struct Case {
    /// Its file
    pub file: String,
    /// Why the old rules could not weigh it; none when they could
    #[serde(skip_serializing_if = "Option::is_none")]
    pub not_before: Option<String>,
    /// Causes that moved, the one that moved most first
    pub moves: Vec<Shift>,
    /// The first causes, where their order changed
    #[serde(skip_serializing_if = "Option::is_none")]
    pub order: Option<Pair>,
    /// Claims that held and no longer do
    pub broken: Vec<Turned>,
    /// Claims that did not hold and now do
    pub mended: Vec<Turned>,
    /// The first next checks, where they changed
    #[serde(skip_serializing_if = "Option::is_none")]
    pub next_checks: Option<Pair>,
}

/// A cause that moved
#[derive(Debug, Serialize)]
pub struct Shift {
    /// Its name with its place
    pub cause: String,
    /// Its probability by the old rules
    pub before: f64,
    /// Its probability by the new rules
    pub after: f64,
    /// The declarations that moved it
    pub because: Vec<Part>,
    /// They move it only together
    pub together: bool,
}

/// A declaration that has a part in a move
#[derive(Debug, Serialize)]
pub struct Part {
    /// Its keyword and name
    pub rule: String,
    /// What it alone makes of the old probability; none where it moves it only with others
    #[serde(skip_serializing_if = "Option::is_none")]
    pub alone: Option<f64>,
}

/// Names with places, before and after
#[derive(Debug, Serialize)]
pub struct Pair {
    /// By the old rules
    pub before: Vec<String>,
    /// By the new rules
    pub after: Vec<String>,
}

/// A claim that turned
#[derive(Debug, Serialize)]
pub struct Turned {
    /// Its line in the case, from 1
    pub line: usize,
    /// What is expected
    pub expected: String,
}

/// What differs, and no case yet
pub fn since(changes: &[Change], sources: &Sources) -> Since {
    let changes = changes.iter().map(|own| changed(own, sources)).collect();
    Since { changes, too_many_to_tell_apart: false, cases: Vec::new() }
}

/// A case that the old rules could not weigh
pub fn not_before(file: &str, why: String) -> Case {
    Case {
        file: file.to_owned(),
        not_before: Some(why),
        moves: Vec::new(),
        order: None,
        broken: Vec::new(),
        mended: Vec::new(),
        next_checks: None,
    }
}

/// What moved in a case, with names
pub fn case(file: &str, claims: &[Claimed], moved: &Moved, changes: &[Change], sources: &Sources) -> Case {
    let turned = |numbers: &[usize]| {
        let claims = numbers.iter().filter_map(|&number| claims.get(number));
        claims.map(|own| Turned { line: sources.place(own.at).line, expected: expected(own) }).collect()
    };
    let pair = |pair: &Option<(Vec<Named>, Vec<Named>)>| {
        let names = |list: &[Named]| list.iter().map(called).collect();
        pair.as_ref().map(|(before, after)| Pair { before: names(before), after: names(after) })
    };
    Case {
        file: file.to_owned(),
        not_before: None,
        moves: moved.moves.iter().map(|own| shift(own, changes)).collect(),
        order: pair(&moved.order),
        broken: turned(&moved.broken),
        mended: turned(&moved.mended),
        next_checks: pair(&moved.next),
    }
}

fn shift(own: &Move, changes: &[Change]) -> Shift {
    let part = |number: usize, alone: Option<f64>| {
        let change = changes.get(number)?;
        let word = change.sort.word();
        let rule = if change.name == word { word.to_owned() } else { format!("{word} {}", change.name) };
        Some(Part { rule, alone })
    };
    let (because, together) = match &own.because {
        Because::Each(list) => {
            (list.iter().filter_map(|&(change, to)| part(change, Some(to))).collect(), false)
        }
        Because::Together(list) => (list.iter().filter_map(|&change| part(change, None)).collect(), true),
        Because::Unknown => (Vec::new(), false),
    };
    Shift { cause: called(&own.cause), before: own.before, after: own.after, because, together }
}

fn called((name, place): &Named) -> String {
    if *place == Place::Machine { name.clone() } else { format!("{name} {place}") }
}

fn changed(own: &Change, sources: &Sources) -> Changed {
    let how = match (&own.before, &own.after) {
        (None, _) => "added",
        (_, None) => "gone",
        _ => "changed",
    };
    let at = own.after.as_ref().or(own.before.as_ref()).map_or(Span::default(), |form| form.name.at);
    let place = sources.place(at);
    let inside = change::inside(own);
    let heads =
        [&own.before, &own.after].map(|form| form.as_ref().filter(|_| inside.head).map(|form| form.head()));
    let [head_before, head_after] = heads;
    let written = |at: Span| sources.slice(at).split_whitespace().collect::<Vec<_>>().join(" ");
    Changed {
        how,
        sort: own.sort.word(),
        name: own.name.clone(),
        file: place.file,
        line: place.line,
        head: inside.head,
        clauses_gone: head_before
            .into_iter()
            .chain(inside.gone.iter().map(|clause| clause.at))
            .map(written)
            .collect(),
        clauses_added: head_after
            .into_iter()
            .chain(inside.added.iter().map(|clause| clause.at))
            .map(written)
            .collect(),
    }
}
