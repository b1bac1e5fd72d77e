//! A file in short: one basis for its blocks, mirrored lines, and a size class as a multiple of another.

mod multiple;

use super::comments::Comment;
use super::edit::Edits;
use crate::source::{Span, Spanned};
use crate::syntax::short::{Opposites, default_basis};
use crate::syntax::tree::{Basis, Clause, Declaration, File, Line, Sort, Statement};
use multiple::{Multiple, multiple};

/// Fewest blocks of a file with one basis for which it is said once
const LEAST_OF_FILE: usize = 3;
/// The same for the blocks of some sorts beside the rest
const LEAST_OF_SORT: usize = 2;

/// The text of a file in short; none where there is nothing to shorten
pub(super) fn shortened(
    text: &str,
    file: &File,
    opposites: &Opposites<'_>,
    comments: &[Comment<'_>],
) -> Option<String> {
    let mut edits = Edits::default();
    let shorten = Shorten { text, comments };
    shorten.bases(file, &mut edits);
    for declaration in &file.declarations {
        if matches!(declaration.sort.value, Sort::Condition | Sort::Symptom) {
            shorten.mirrored(declaration, opposites, &mut edits);
        }
    }
    for sort in [Sort::Dimensions, Sort::Life] {
        shorten.classes(file, sort, &mut edits);
    }
    if edits.is_empty() { None } else { edits.applied(text) }
}

struct Shorten<'a> {
    text: &'a str,
    comments: &'a [Comment<'a>],
}

impl Shorten<'_> {
    /// Whether no comment stands between two bytes, or behind the second on its line
    fn is_bare(&self, start: usize, end: usize) -> bool {
        let line =
            self.text.get(end..).and_then(|rest| rest.find('\n')).map_or(self.text.len(), |at| end + at);
        !self.comments.iter().any(|comment| start <= comment.start && comment.start < line)
    }

    /// Says once what most blocks say of their basis, and takes it out of these
    fn bases(&self, file: &File, edits: &mut Edits) {
        let mut with_bases = File { statements: file.statements.clone(), ..File::default() };
        let said = file.statements.iter().any(|own| matches!(own.value, Statement::Basis { .. }));
        let added = if said { Vec::new() } else { common_bases(file) };
        let words: String = added.iter().map(|own| in_words(own) + "\n").collect();
        with_bases.statements.extend(added.into_iter().map(|own| Spanned::new(own, Span::default())));
        if !words.is_empty() {
            let start = self.top();
            edits.replace(start, start, words + "\n");
        }
        for declaration in &file.declarations {
            let default = default_basis(&with_bases, declaration.sort.value).map(|basis| basis.value);
            let mut own = declaration.clauses.iter().filter_map(own_basis);
            if let (Some((basis, at)), None) = (own.next(), own.next())
                && Some(basis) == default
                && self.is_bare(at.start, at.end)
            {
                edits.take_out(self.text, at.start, at.end);
            }
        }
    }

    /// Where the first line can stand that is about the whole file: behind the comment about it
    fn top(&self) -> usize {
        let mut end = 0;
        for line in self.text.split_inclusive('\n') {
            if line.trim().is_empty() && end > 0 {
                return end + line.len();
            }
            if !line.starts_with('#') {
                return 0;
            }
            end += line.len();
        }
        0
    }

    /// Two lines of which one is the other with opposites swapped become one
    fn mirrored(&self, declaration: &Declaration, opposites: &Opposites<'_>, edits: &mut Edits) {
        let mut before: Option<(&Line, Span)> = None;
        for clause in &declaration.clauses {
            let Clause::With(line) = &clause.value else {
                before = None;
                continue;
            };
            let end = line.because.as_ref().map_or(clause.at.end, |because| because.at.end);
            let twin = before.filter(|(first, at)| {
                opposites.twin(first).as_ref() == Some(line) && self.is_bare(at.start, end)
            });
            before = match twin {
                Some((_, at)) => {
                    edits.replace(at.start, at.start + "with".len(), "mirror");
                    edits.take_out(self.text, clause.at.start, end);
                    None
                }
                None => Some((line, clause.at)),
            };
        }
    }

    /// The classes that are multiples of one other are written as such
    fn classes(&self, file: &File, sort: Sort, edits: &mut Edits) {
        let tables: Vec<&Declaration> =
            file.declarations.iter().filter(|own| own.sort.value == sort).collect();
        let bare = |own: &Declaration| {
            own.clauses.last().is_some_and(|last| self.is_bare(own.head().end, last.at.end))
        };
        let is_as = |own: &Declaration| own.clauses.iter().any(|it| matches!(it.value, Clause::As(_)));
        let mut whole: Vec<&Declaration> = tables.iter().copied().filter(|own| !is_as(own)).collect();
        let gone = |all: &[Multiple]| all.iter().map(|own| own.gone.len()).sum::<usize>();
        loop {
            let multiples = |base: &Declaration| -> Vec<Multiple> {
                let others = whole.iter().filter(|own| own.name.value != base.name.value && bare(own));
                others.filter_map(|own| multiple(base, own)).collect()
            };
            let found = whole.iter().map(|base| multiples(base));
            let most = found.reduce(|most, other| if gone(&other) > gone(&most) { other } else { most });
            let most = most.unwrap_or_default(); // else: no size class is a multiple of another
            if most.is_empty() {
                return;
            }
            whole.retain(|own| !most.iter().any(|multiple| multiple.class == own.name.value));
            most.into_iter().for_each(|multiple| self.multiply(&multiple, edits));
        }
    }

    /// Puts what a class is a multiple of in the place of its rows
    fn multiply(&self, multiple: &Multiple, edits: &mut Edits) {
        let mut gone = multiple.gone.iter();
        if let Some(at) = gone.next() {
            edits.replace(at.start, at.end, multiple.words.clone());
        }
        gone.for_each(|at| edits.take_out(self.text, at.start, at.end));
    }
}

fn own_basis(clause: &Spanned<Clause>) -> Option<(&Basis, Span)> {
    match &clause.value {
        Clause::Basis(basis) => Some((basis, clause.at)),
        _ => None,
    }
}

/// What could be said once of the bases of a file: nothing where a block has none, which must not be given one
fn common_bases(file: &File) -> Vec<Statement> {
    let mut own: Vec<(Sort, &Basis)> = Vec::new();
    for declaration in file.declarations.iter().filter(|own| own.sort.value.has_basis()) {
        let Some((basis, _)) = declaration.clauses.iter().find_map(own_basis) else {
            return Vec::new();
        };
        own.push((declaration.sort.value, basis));
    }
    let Some((of_file, times)) = commonest(own.iter().map(|(_, basis)| *basis)) else {
        return Vec::new();
    };
    if times < LEAST_OF_FILE {
        return Vec::new();
    }
    let mut others: Vec<(&Basis, Vec<Spanned<Sort>>)> = Vec::new();
    for sort in Sort::ALL {
        let of_sort = own.iter().filter(|(own, _)| *own == sort).map(|(_, basis)| *basis);
        let Some((basis, times)) = commonest(of_sort) else { continue };
        if basis == of_file || times < LEAST_OF_SORT {
            continue;
        }
        let sort = Spanned::new(sort, Span::default());
        match others.iter_mut().find(|(known, _)| *known == basis) {
            Some((_, sorts)) => sorts.push(sort),
            None => others.push((basis, vec![sort])),
        }
    }
    let all = std::iter::once((of_file, Vec::new())).chain(others);
    all.map(|(basis, sorts)| Statement::Basis { basis: basis.clone(), sorts }).collect()
}

/// What stands most often among some bases, and how often; of several the first
fn commonest<'t>(all: impl Iterator<Item = &'t Basis>) -> Option<(&'t Basis, usize)> {
    let mut counted: Vec<(&Basis, usize)> = Vec::new();
    for basis in all {
        match counted.iter_mut().find(|(known, _)| *known == basis) {
            Some((_, times)) => *times += 1,
            None => counted.push((basis, 1)),
        }
    }
    counted.into_iter().reduce(|most, other| if other.1 > most.1 { other } else { most })
}

/// A basis as it is written
pub(super) fn basis_in_words(basis: &Basis) -> String {
    match basis {
        Basis::CommonPractice => "basis common practice".to_owned(),
        Basis::Estimate => "basis estimate".to_owned(),
        Basis::Source(source) => format!("basis \"{}\"", source.value),
    }
}

fn in_words(statement: &Statement) -> String {
    let Statement::Basis { basis, sorts } = statement else { return String::new() };
    let sorts: Vec<&str> = sorts.iter().map(|sort| sort.value.word()).collect();
    let whose = if sorts.is_empty() { String::new() } else { format!(" for {}", sorts.join(", ")) };
    basis_in_words(basis) + &whose
}
