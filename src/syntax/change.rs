//! What differs between two sets of rule files, declaration by declaration: layout, comments and places count for nothing.

use crate::source::Spanned;
use crate::syntax::tree::{Clause, Declaration, File, Sort};
use std::collections::BTreeMap;

/// A declaration that differs
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// What is declared
    pub sort: Sort,
    /// Its name; the keyword itself for the scale
    pub name: String,
    /// As it was; none when it was added
    pub before: Option<Declaration>,
    /// As it is; none when it is gone
    pub after: Option<Declaration>,
}

/// What differs inside a declaration that stands in both sets
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Inside {
    /// The head line differs: label, places or the party it counts against
    pub head: bool,
    /// Clauses that are gone, in order
    pub gone: Vec<Spanned<Clause>>,
    /// Clauses that were added, in order
    pub added: Vec<Spanned<Clause>>,
}

/// Declarations that differ, in the order of the new set, those that are gone last
pub fn changes(before: &[File], after: &[File]) -> Vec<Change> {
    let old: BTreeMap<(Sort, &str), &Declaration> = all(before).map(|own| (key(own), own)).collect();
    let new: BTreeMap<(Sort, &str), &Declaration> = all(after).map(|own| (key(own), own)).collect();
    let change = |before: Option<&Declaration>, after: Option<&Declaration>| {
        let (sort, name) = before.or(after).map(key)?;
        Some(Change { sort, name: name.to_owned(), before: before.cloned(), after: after.cloned() })
    };
    let now = all(after).filter(|own| old.get(&key(own)) != Some(own));
    let now = now.filter_map(|own| change(old.get(&key(own)).copied(), Some(own)));
    let gone = all(before).filter(|own| !new.contains_key(&key(own)));
    now.chain(gone.filter_map(|own| change(Some(own), None))).collect()
}

/// The first set with one change taken over
pub fn with(before: &[File], change: &Change) -> Vec<File> {
    replaced(before, change, change.after.as_ref())
}

/// The second set with one change taken back
pub fn without(after: &[File], change: &Change) -> Vec<File> {
    replaced(after, change, change.before.as_ref())
}

/// What differs inside; empty for what was added or is gone
pub fn inside(change: &Change) -> Inside {
    let (Some(before), Some(after)) = (&change.before, &change.after) else {
        return Inside::default();
    };
    let missing = |from: &Declaration, other: &Declaration| -> Vec<Spanned<Clause>> {
        let mut left: Vec<&Spanned<Clause>> = other.clauses.iter().collect();
        let mut missing = Vec::new();
        for clause in &from.clauses {
            match left.iter().position(|other| *other == clause) {
                Some(at) => {
                    left.remove(at);
                }
                None => missing.push(clause.clone()),
            }
        }
        missing
    };
    let head = before.attributes != after.attributes
        || before.label != after.label
        || before.against != after.against;
    Inside { head, gone: missing(before, after), added: missing(after, before) }
}

fn all(files: &[File]) -> impl Iterator<Item = &Declaration> {
    files.iter().flat_map(|file| &file.declarations)
}

fn key(declaration: &Declaration) -> (Sort, &str) {
    (declaration.sort.value, &declaration.name.value)
}

/// A set with one declaration in another form: in its place, at the end where it had none, or nowhere
fn replaced(files: &[File], change: &Change, form: Option<&Declaration>) -> Vec<File> {
    let mut files = files.to_vec();
    let mut form = form;
    for file in &mut files {
        let at = file.declarations.iter().position(|own| key(own) == (change.sort, change.name.as_str()));
        if let Some(slot) = at.and_then(|at| file.declarations.get_mut(at))
            && let Some(form) = form.take()
        {
            *slot = form.clone();
        } else if let Some(at) = at {
            file.declarations.remove(at);
        }
    }
    if let (Some(form), Some(last)) = (form, files.last_mut()) {
        last.declarations.push(form.clone());
    }
    files
}
