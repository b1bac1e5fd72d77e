//! From the grammar's pairs to the tree: blocks, heads, and the sentence that belongs to the line above it.

mod clause;
mod statement;
mod sum;
mod test;

use super::expect;
use super::grammar::Rule;
use super::guess::{Guess, guess};
use super::language;
use super::piece::Piece;
use super::screen::CROSSED_OUT;
use super::tree::{Attribute, Clause, Declaration, File, Sort, Statement};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{SourceId, Spanned};
use pest::iterators::Pairs;

/// The declarations among the pairs of a whole file
pub(super) fn file(pairs: Pairs<'_, Rule>, id: SourceId, problems: &mut Problems) -> File {
    let mut file = File::default();
    for block in pairs.flat_map(|pair| Piece::new(pair, id).all(Rule::block)) {
        if let Some(stray) = block.get(Rule::stray_line) {
            let message = "an indented line with no declaration above it";
            problems.push(
                Problem::new(Code::Syntax, stray.line_span(), message)
                    .help("start a declaration at the first column, such as `cause` or `symptom`"),
            );
        }
        let head_line = block.get(Rule::head_line);
        if let Some(statement) = head_line.as_ref().and_then(|line| line.get(Rule::statement)) {
            state(&statement, &block, &mut file, problems);
            continue;
        }
        if let Some(broken) = head_line.as_ref().and_then(|line| line.get(Rule::broken)) {
            tell(&broken, problems, || expect::broken_head(&broken));
        }
        let mut declaration = head_line.and_then(|line| declare(&line, &mut file, problems));
        add_lines(&block, declaration.as_mut(), problems);
        file.declarations.extend(declaration);
    }
    file
}

/// Takes in a statement, which has no indented lines
fn state(statement: &Piece<'_>, block: &Piece<'_>, file: &mut File, problems: &mut Problems) {
    let read = statement::statement(statement);
    let at = statement.span();
    if let Some(Statement::Basis { .. }) = read
        && let Some(above) = file.declarations.last()
    {
        problems.push(
            Problem::new(Code::Syntax, at, "the basis of a whole file stands above its first declaration")
                .also(above.head(), "one that stands above it")
                .help("put it there, or indent the line if it belongs to the declaration above"),
        );
    }
    for line in block.all(Rule::clause_line) {
        let message = "an indented line below one that takes none";
        problems.push(
            Problem::new(Code::Syntax, line.line_span(), message)
                .also(at, "this stands alone on its line")
                .help("put it below the declaration that it belongs to"),
        );
    }
    file.statements.extend(read.map(|read| Spanned::new(read, at)));
}

/// The declaration that a head line is, or seems to be
fn declare(line: &Piece<'_>, file: &mut File, problems: &mut Problems) -> Option<Declaration> {
    if let Some(head) = line.get(Rule::head) {
        return read_head(&head, problems);
    }
    match guess(&line.get(Rule::broken)?) {
        Guess::Block(declaration) => Some(*declaration),
        Guess::Name(name) => {
            file.unread.push(name);
            None
        }
        Guess::Nothing => None,
    }
}

/// Adds the indented lines of a block to its declaration; those of an unread head are only looked over
fn add_lines(block: &Piece<'_>, declaration: Option<&mut Declaration>, problems: &mut Problems) {
    let mut nothing = Declaration::unread();
    let declaration = declaration.unwrap_or(&mut nothing); // else: its head could not be read
    let mut before = Before::Read;
    for line in block.all(Rule::clause_line) {
        if let Some(broken) = line.get(Rule::broken) {
            let read = !declaration.name.value.is_empty();
            let sort = read.then_some(declaration.sort.value);
            before = match before {
                Before::Unfinished if !expect::starts_clause(&broken) => Before::Unfinished,
                _ => tell(&broken, problems, || expect::broken_clause(&broken, sort)),
            };
            declaration.broken = true;
        }
        for clauses in line.all(Rule::clauses) {
            add_clauses(declaration, &clauses, before != Before::Read, problems);
            before = Before::Read;
        }
    }
}

/// How the line before the one in hand went
#[derive(Clone, Copy, PartialEq)]
enum Before {
    Read,
    /// It could not be read, and that has been told
    Broken,
    /// The same, and it broke off at its end, so that the next may go on with it
    Unfinished,
}

/// Tells what is wrong with a broken line, unless the look over the raw lines has told it
fn tell(line: &Piece<'_>, problems: &mut Problems, problem: impl FnOnce() -> Problem) -> Before {
    if line.as_str().contains(CROSSED_OUT) {
        return Before::Broken;
    }
    let problem = problem();
    let unfinished = problem.at.start == problem.at.end;
    problems.push(problem);
    if unfinished { Before::Unfinished } else { Before::Broken }
}

fn read_head(head: &Piece<'_>, problems: &mut Problems) -> Option<Declaration> {
    let (sort, name) = match head.get(Rule::kw_scale) {
        Some(scale) => (Spanned::new(Sort::Scale, scale.span()), scale.text()),
        None => (statement::sort(&head.get(Rule::sort)?)?, head.get(Rule::name)?.text()),
    };
    let mut declaration = Declaration {
        sort,
        name,
        attributes: head.all(Rule::attribute).filter_map(|piece| attribute(&piece)).collect(),
        label: head.get(Rule::text).map(|text| text.unquoted()),
        against: head
            .get(Rule::counts_against)
            .and_then(|against| against.get(Rule::name))
            .map(|name| name.text()),
        clauses: Vec::new(),
        broken: false,
    };
    add_clauses(&mut declaration, head, false, problems);
    Some(declaration)
}

fn attribute(piece: &Piece<'_>) -> Option<Spanned<Attribute>> {
    let attribute = if let Some(each) = piece.get(Rule::each) {
        Attribute::Each(each.get(Rule::place_word)?.text())
    } else if let Some(numbered) = piece.get(Rule::numbered) {
        let mut bounds = numbered.all(Rule::number).map(|number| number.figure());
        Attribute::Numbered(bounds.next().zip(bounds.next()))
    } else {
        Attribute::Of(piece.get(Rule::of_part)?.get(Rule::name)?.text())
    };
    Some(Spanned::new(attribute, piece.span()))
}

/// Adds the clauses of one line; a bare sentence goes to the `with` or `without` line before it
fn add_clauses(declaration: &mut Declaration, line: &Piece<'_>, after_broken: bool, problems: &mut Problems) {
    for piece in line.all(Rule::clause) {
        if let Some(sentence) = piece.get(Rule::sentence).and_then(|it| it.get(Rule::text)) {
            if !after_broken {
                attach(declaration, sentence.unquoted(), problems);
            }
        } else if let Some(entry) = piece.get(Rule::entry).filter(|_| !takes_rows(declaration)) {
            declaration.broken = true;
            if let Some(name) = entry.get(Rule::name) {
                problems.push(expect::no_clause(name.span(), name.as_str()));
            }
        } else if let Some(clause) = clause::clause(&piece) {
            declaration.clauses.push(Spanned::new(clause, piece.span()));
        }
    }
}

/// Whether rows belong in a block; where its head could not be read they may
fn takes_rows(declaration: &Declaration) -> bool {
    declaration.name.value.is_empty() || language::has_rows(declaration.sort.value)
}

fn attach(declaration: &mut Declaration, sentence: Spanned<String>, problems: &mut Problems) {
    match declaration.clauses.last_mut().map(|clause| &mut clause.value) {
        Some(Clause::With(line) | Clause::Mirror(line) | Clause::Without(line)) if line.because.is_none() => {
            line.because = Some(sentence);
        }
        _ => problems.push(
            Problem::new(Code::Syntax, sentence.at, "this sentence stands under no `with` or `without` line")
                .help("one sentence may follow such a line; for anything else write `text \"…\"`"),
        ),
    }
}
