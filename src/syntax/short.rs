//! What files say in short, written out: the basis of a whole file, mirrored lines, rows of another size class.
//!
//! In a set written out each block gives its basis last. It has no statements, no `mirror` and no `as`, but for those
//! that cannot be written out and belong to what is wrong with it. What comes of a short form has the place of that form.

mod class;
mod opposites;

use super::tree::{Basis, Clause, Declaration, File, Line, Sort, Statement};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{Span, Spanned};
pub use class::rows;
pub use opposites::Opposites;

/// The same rules without any short form, and what is wrong with the short forms
pub fn written_out(files: &[File]) -> (Vec<File>, Problems) {
    let mut problems = Problems::default();
    let opposites = Opposites::of(files, &mut problems);
    let mut whole = Vec::with_capacity(files.len());
    for file in files {
        bases(file, &mut problems);
        let declarations = file.declarations.iter().map(|declaration| {
            let mut out = declaration.clone();
            match out.sort.value {
                Sort::Condition | Sort::Symptom => {
                    out.clauses = lines(declaration, &opposites, &mut problems)
                }
                Sort::Dimensions | Sort::Life => {
                    out.clauses = class::clauses(declaration, files, &mut problems);
                }
                _ => {}
            }
            out.clauses.extend(default_of(file, declaration));
            // Where among its clauses a block gives its basis means nothing.
            out.clauses.sort_by_key(|clause| matches!(clause.value, Clause::Basis(_)));
            out
        });
        let declarations = declarations.collect();
        whole.push(File { statements: Vec::new(), declarations, unread: file.unread.clone() });
    }
    (whole, problems)
}

/// Where blocks of a sort in a file come from when they do not say so themselves: what is said for that sort, else for all
pub fn default_basis(file: &File, sort: Sort) -> Option<Spanned<&Basis>> {
    if !sort.has_basis() {
        return None;
    }
    let bases = || {
        file.statements.iter().filter_map(|statement| match &statement.value {
            Statement::Basis { basis, sorts } => Some((Spanned::new(basis, statement.at), sorts)),
            Statement::Opposites(_) | Statement::Hazard { .. } => None,
        })
    };
    let of_sort = bases().find(|(_, sorts)| sorts.iter().any(|own| own.value == sort));
    of_sort.or_else(|| bases().find(|(_, sorts)| sorts.is_empty())).map(|(basis, _)| basis)
}

/// The basis that a declaration has from its file
fn default_of(file: &File, declaration: &Declaration) -> Option<Spanned<Clause>> {
    if declaration.clauses.iter().any(|clause| matches!(clause.value, Clause::Basis(_))) {
        return None;
    }
    let basis = default_basis(file, declaration.sort.value)?;
    Some(Spanned::new(Clause::Basis(basis.value.clone()), basis.at))
}

/// Says which bases of a file are given twice, or to what has none
fn bases(file: &File, problems: &mut Problems) {
    let mut seen: Vec<(Option<Sort>, Span)> = Vec::new();
    for statement in &file.statements {
        let Statement::Basis { sorts, .. } = &statement.value else { continue };
        let named: Vec<(Option<Sort>, Span)> = if sorts.is_empty() {
            vec![(None, statement.at)]
        } else {
            sorts.iter().map(|sort| (Some(sort.value), sort.at)).collect()
        };
        for (sort, at) in named {
            let whose = sort.map_or_else(|| "all blocks".to_owned(), |sort| format!("`{}`", sort.word()));
            if sort.is_some_and(|sort| !sort.has_basis()) {
                problems.push(
                    Problem::new(Code::WrongClause, at, format!("{whose} takes no basis"))
                        .help("take it out"),
                );
            }
            match seen.iter().find(|(known, _)| *known == sort) {
                Some(&(_, first)) => problems.push(
                    Problem::new(
                        Code::RepeatedClause,
                        at,
                        format!("a basis for {whose} stands twice in this file"),
                    )
                    .also(first, "first given here")
                    .help("keep one of the two"),
                ),
                None => seen.push((sort, at)),
            }
        }
    }
}

/// The clauses of a condition or symptom, each mirrored line followed by its twin
fn lines(
    declaration: &Declaration,
    opposites: &Opposites<'_>,
    problems: &mut Problems,
) -> Vec<Spanned<Clause>> {
    let mut clauses = Vec::with_capacity(declaration.clauses.len());
    for clause in &declaration.clauses {
        let Clause::Mirror(line) = &clause.value else {
            clauses.push(clause.clone());
            continue;
        };
        clauses.push(Spanned::new(Clause::With(line.clone()), clause.at));
        match opposites.twin(line) {
            Some(twin) => clauses.push(Spanned::new(Clause::With(twin), behind_keyword(line, clause.at))),
            None => problems.push(nothing_to_swap(clause.at, line, opposites)),
        }
    }
    clauses
}

/// Where the twin of a line stands: a place of its own, so that the two are told apart
fn behind_keyword(line: &Line, at: Span) -> Span {
    line.parents.first().map_or(at, |parent| Span { start: parent.name.at.start, ..at })
}

fn nothing_to_swap(at: Span, line: &Line, opposites: &Opposites<'_>) -> Problem {
    let keyword = Span { end: at.end.min(at.start + "mirror".len()), ..at };
    let grades = line.parents.iter().filter_map(|parent| parent.grade.as_ref());
    let mut grades = grades.chain(line.effects.iter().filter_map(|effect| effect.grade.as_ref()));
    let help = match grades.next() {
        None => "write `with`: a line without a grade or form is its own mirror image".to_owned(),
        Some(grade) if opposites.is_empty() => {
            format!(
                "declare what is swapped, as in `opposites \"{}\" and \"…\"`, or write `with`",
                grade.value
            )
        }
        Some(grade) => {
            format!("`{}` has no opposite among `opposites`: add the pair, or write `with`", grade.value)
        }
    };
    Problem::new(Code::NothingToMirror, keyword, "no grade of this line has an opposite").help(help)
}
