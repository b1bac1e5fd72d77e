//! A file with its short forms written out.

use super::edit::Edits;
use super::shorten::basis_in_words;
use crate::source::{Span, Spanned};
use crate::syntax::short::{Opposites, default_basis};
use crate::syntax::tree::{Clause, Declaration, Entry, File, Line, Reach, Relation, Statement, Term, Value};

/// The text of a file with its short forms written out; none where it has none. `whole` holds the same declarations with all
/// rows that they have from other classes.
pub(super) fn written_out(
    text: &str,
    file: &File,
    whole: &[Declaration],
    opposites: &Opposites<'_>,
) -> Option<String> {
    let mut edits = Edits::default();
    for statement in &file.statements {
        if matches!(statement.value, Statement::Basis { .. }) {
            edits.take_out(text, statement.at.start, statement.at.end);
        }
    }
    for (number, declaration) in file.declarations.iter().enumerate() {
        let is_as = |clause: &Spanned<Clause>| matches!(clause.value, Clause::As(_));
        if declaration.clauses.iter().any(is_as) {
            rows(text, declaration, whole.get(number)?, &mut edits);
        }
        let lines = declaration.clauses.iter().filter_map(|clause| match &clause.value {
            Clause::Mirror(line) => Some((line, clause.at)),
            _ => None,
        });
        for (line, at) in lines {
            twin(text, line, at, opposites, &mut edits);
        }
        let has_basis = declaration.clauses.iter().any(|clause| matches!(clause.value, Clause::Basis(_)));
        if let Some(basis) = default_basis(file, declaration.sort.value).filter(|_| !has_basis) {
            let end = line_end(text, end(declaration));
            edits.replace(end, end, format!("\n    {}", basis_in_words(basis.value)));
        }
    }
    if edits.is_empty() { None } else { edits.applied(text) }
}

/// Byte after the last clause of a declaration, its sentence among it
fn end(declaration: &Declaration) -> usize {
    let ends = declaration.clauses.iter().map(|clause| match &clause.value {
        Clause::With(line) | Clause::Mirror(line) | Clause::Without(line) => end_of(line, clause.at),
        _ => clause.at.end,
    });
    ends.max().unwrap_or(0).max(declaration.head().end) // else: the block has no clause
}

fn end_of(line: &Line, at: Span) -> usize {
    line.because.as_ref().map_or(at.end, |because| because.at.end)
}

/// Byte at which a line ends
fn line_end(text: &str, at: usize) -> usize {
    let rest = text.get(at..).unwrap_or(""); // else: the text ends there
    at + rest.find(['\r', '\n']).unwrap_or(rest.len()) // else: the text ends there
}

/// The words of a mirrored line that its twin has others for, with their places
fn swapped<'t>(line: &Line, opposites: &Opposites<'t>) -> Vec<(&'t str, Span)> {
    let mut swapped = Vec::new();
    let grades = line.parents.iter().filter_map(|parent| parent.grade.as_ref());
    let grades = grades.chain(line.effects.iter().filter_map(|effect| effect.grade.as_ref()));
    swapped.extend(grades.filter_map(|grade| Some((opposites.of_word(&grade.value)?, grade.at))));
    for reach in line.parents.iter().filter_map(|parent| parent.reach.as_ref()) {
        match reach.value {
            Reach::ThisSide => swapped.push(("toward the other side", reach.at)),
            Reach::OtherSide => swapped.push(("toward this side", reach.at)),
            Reach::EitherSide | Reach::Any(_) => {}
        }
    }
    for term in &line.test {
        let Relation::Is { values, .. } = &term.relation else { continue };
        for value in values {
            if let Value::Word(word) = &value.value {
                swapped.extend(opposites.of_word(word).map(|opposite| (opposite, value.at)));
            }
        }
    }
    swapped
}

/// A mirrored line as two
fn twin(text: &str, line: &Line, at: Span, opposites: &Opposites<'_>, edits: &mut Edits) {
    let mut swaps = Edits::default();
    let words = text.get(at.start..at.end).unwrap_or(""); // else: the line was written in another text, of which nothing is taken
    for (words, place) in swapped(line, opposites) {
        swaps.replace(place.start - at.start, place.end - at.start, words);
    }
    let Some(twin_words) = swaps.applied(words) else { return };
    edits.replace(at.start, at.start + "mirror".len(), "with");
    let mut twin = format!("\n    {}", twin_words.replacen("mirror", "with", 1));
    if let Some(because) = &line.because {
        twin += &format!("\n            \"{}\"", opposites.sentence(&because.value));
    }
    let end = end_of(line, at);
    let rest = text.get(end..line_end(text, end)).unwrap_or("").trim_start(); // else: the text ends there
    if !rest.is_empty() && !rest.starts_with('#') {
        twin += "\n    ";
    }
    edits.replace(end, end, twin);
}

/// The rows of a class in the place of its `as`
fn rows(text: &str, declaration: &Declaration, whole: &Declaration, edits: &mut Edits) {
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::Entry(_) => edits.take_out(text, clause.at.start, clause.at.end),
            Clause::As(_) => {
                let all = whole.clauses.iter().filter_map(|row| match &row.value {
                    Clause::Entry(row) => Some(entry(row)),
                    _ => None,
                });
                let all: Vec<String> = all.collect();
                edits.replace(clause.at.start, clause.at.end, all.join("\n    "));
            }
            _ => {}
        }
    }
}

fn entry(row: &Entry) -> String {
    let quantity = |it: &crate::syntax::tree::Quantity| match &it.unit {
        Some(unit) => format!("{} {}", it.value, unit.value),
        None => it.value.to_string(),
    };
    let point = |(size, percent): &(Spanned<crate::syntax::tree::Quantity>, Option<Spanned<f64>>)| {
        let percent = percent.as_ref().map(|percent| format!(" {}%", percent.value));
        quantity(&size.value) + &percent.unwrap_or_default() // else: a point without a figure is written without one
    };
    let points: Vec<String> = row.points.iter().map(point).collect();
    let mut words = format!("{} {}", row.name.value, points.join(", "));
    if let Some(after) = &row.after {
        words += &format!(", after that {} times as fast", after.value);
    }
    if let Some(tolerance) = &row.tolerance {
        words += &format!("  tolerance {}", quantity(&tolerance.value));
    }
    let terms: Vec<String> = row.test.iter().map(term).collect();
    if terms.is_empty() { words } else { words + "  where " + &terms.join(" and ") }
}

fn term(term: &Term) -> String {
    let quantity = |it: &crate::syntax::tree::Quantity| match &it.unit {
        Some(unit) => format!("{} {}", it.value, unit.value),
        None => it.value.to_string(),
    };
    let relation = match &term.relation {
        Relation::Over(bound) => format!("over {}", quantity(&bound.value)),
        Relation::Under(bound) => format!("under {}", quantity(&bound.value)),
        Relation::Is { negated, values } => {
            let values: Vec<&str> = values
                .iter()
                .map(|value| match &value.value {
                    Value::Word(word) => word.as_str(),
                    Value::FrontHalf => "in front half",
                    Value::RearHalf => "in rear half",
                })
                .collect();
            format!("is {}{}", if *negated { "not " } else { "" }, values.join(" or "))
        }
    };
    format!("{} {relation}", term.subject.value)
}
