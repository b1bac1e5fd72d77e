//! The one layout of a rule file: the author's words and comments, none of his spacing.
//!
//! The layout moves words, it does not print the tree: what the author wrote between two places of the tree is spaced anew, so
//! that `is` and `are`, figures and comments stay as written. What it gives is read again before it is given: a layout with
//! another tree or other comments is refused.

mod comments;
mod spacing;

use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{self, SourceId, Sources, Span};
use crate::syntax::parse;
use crate::syntax::tree::{Clause, Declaration, File, Line, Sort};
use comments::Comment;
use spacing::{Spacing, spaced};

/// Columns before a clause
const INDENT: usize = 4;
/// Columns before the sentence of a line, under what the line says
const SENTENCE_INDENT: usize = 12;
/// Columns between the first word of a clause and what follows: the longest common word, `without`, and a space
const WORD_WIDTH: usize = 8;

/// A rule file in its canonical layout: a clause a line, words aligned, at most one empty line together.
///
/// Laying out twice is laying out once. All comments stay, each at what it stood at, and the tree stays the same.
///
/// # Errors
/// The problems of a file that cannot be read to its end, or whose layout would not read back as the same tree;
/// such a file is best left as it is.
pub fn format(sources: &Sources, id: SourceId) -> Result<String, Problems> {
    let (file, problems) = parse(sources, id);
    if problems.any_error() {
        return Err(problems);
    }
    let text = sources.text(id);
    let comments = comments::comments(text);
    let laid_out =
        Page { text, comments: &comments, out: String::with_capacity(text.len()), last: None }.lay_out(&file);
    if reads_back(&laid_out, &file, &comments) {
        return Ok(laid_out);
    }
    let mut problems = Problems::default();
    problems.push(
        Problem::new(
            Code::Syntax,
            sources.whole(id),
            "this file cannot be laid out without changing what it says",
        )
        .help("leave it as it is, and tell whoever looks after this program"),
    );
    Err(problems)
}

/// Whether a layout has the same tree and the same comments
fn reads_back(laid_out: &str, file: &File, comments: &[Comment<'_>]) -> bool {
    let mut sources = Sources::default();
    let id = sources.add("", laid_out);
    let (again, problems) = parse(&sources, id);
    let kept = comments::comments(laid_out);
    !problems.any_error()
        && again == *file
        && kept.iter().map(|it| it.text).eq(comments.iter().map(|it| it.text))
}

/// What stands on a line, or on a part of it
struct Piece {
    /// Byte it starts at
    start: usize,
    /// Byte after its last
    end: usize,
    text: String,
    /// Columns before it when it starts a line
    indent: usize,
    /// What goes between it and the piece before, when it may stand on the same line
    joined_by: Option<&'static str>,
    /// Whether its first word is filled up to the width of words when it starts a line
    padded: bool,
}

/// The layout as it grows
struct Page<'a> {
    text: &'a str,
    /// Comments not yet written
    comments: &'a [Comment<'a>],
    out: String,
    /// Where the last thing written ends in the text, and whether it was a block of several lines
    last: Option<(usize, bool)>,
}

impl<'a> Page<'a> {
    fn lay_out(mut self, file: &File) -> String {
        for declaration in &file.declarations {
            let pieces = self.pieces(declaration);
            let start = declaration.sort.at.start;
            let tall = pieces.iter().skip(1).any(|piece| piece.joined_by.is_none());
            while let Some(comment) = self.next_comment(start) {
                self.between(comment.start, false);
                self.line(0, comment.text);
                self.last = Some((comment.end(), false));
            }
            self.between(start, tall);
            let end = self.block(&pieces);
            self.last = Some((end, tall));
        }
        while let Some(comment) = self.next_comment(usize::MAX) {
            self.between(comment.start, false);
            self.line(0, comment.text);
            self.last = Some((comment.end(), false));
        }
        self.out
    }

    /// An empty line before what starts at `start`, where the author left one or a tall block asks for it
    fn between(&mut self, start: usize, tall: bool) {
        let Some((end, was_tall)) = self.last else { return };
        let left_empty = self.text.get(end..start).is_some_and(|gap| gap.matches('\n').count() > 1);
        let after_comment = self.out.lines().next_back().is_some_and(|line| line.starts_with('#'));
        if left_empty || was_tall || (tall && !after_comment) {
            self.out.push('\n');
        }
    }

    /// Writes the pieces of a block with the comments among them, and gives the byte it ended at
    fn block(&mut self, pieces: &[Piece]) -> usize {
        let mut end = 0;
        for (number, piece) in pieces.iter().enumerate() {
            let mut alone = number == 0;
            while let Some(comment) = self.next_comment(piece.start) {
                self.comment(&comment);
                end = comment.end();
                alone = true;
            }
            match piece.joined_by.filter(|_| !alone) {
                Some(between) => {
                    self.out.truncate(self.out.trim_end().len());
                    self.out.push_str(between);
                    self.out.push_str(&piece.text);
                    self.out.push('\n');
                }
                None => self.line(piece.indent, &piece.at_line_start()),
            }
            end = end.max(piece.end);
        }
        while let Some(comment) =
            self.comments.first().copied().filter(|comment| comment.belongs_above(self.text, end))
        {
            self.next_comment(usize::MAX);
            self.comment(&comment);
            end = comment.end();
        }
        end
    }

    /// Writes a comment among the clauses of a block: behind what it stood behind, or on a line of its own
    fn comment(&mut self, comment: &Comment<'_>) {
        if comment.own_line {
            self.line(INDENT, comment.text);
        } else {
            self.out.truncate(self.out.trim_end().len());
            self.out.push_str("  ");
            self.out.push_str(comment.text);
            self.out.push('\n');
        }
    }

    fn line(&mut self, indent: usize, text: &str) {
        self.out.extend(std::iter::repeat_n(' ', indent));
        self.out.push_str(text);
        self.out.push('\n');
    }

    /// Takes the next comment that starts before `start`
    fn next_comment(&mut self, start: usize) -> Option<Comment<'a>> {
        let (first, rest) = self.comments.split_first()?;
        if first.start >= start {
            return None;
        }
        self.comments = rest;
        Some(*first)
    }

    /// The head of a declaration, its clauses and their sentences, in order
    fn pieces(&self, declaration: &Declaration) -> Vec<Piece> {
        let sort = declaration.sort.value;
        let mut pieces = vec![self.piece(declaration.head(), Spacing::Plain, 0)];
        let row_width = row_width(declaration);
        let mut before: Option<&Clause> = None;
        for clause in &declaration.clauses {
            let spacing = match &clause.value {
                Clause::Entry(_) if sort == Sort::Scale => Spacing::Plain,
                Clause::Entry(_) => Spacing::Row(row_width),
                Clause::From { .. } | Clause::Is { .. } | Clause::Against { .. } => Spacing::Reckoned,
                _ => Spacing::Plain,
            };
            let mut piece = self.piece(clause.at, spacing, INDENT);
            piece.joined_by = joined_by(sort, before, &clause.value);
            piece.padded = !matches!(
                clause.value,
                Clause::Entry(_) | Clause::OnlyWhere(_) | Clause::GivesWay(_) | Clause::FindsOut
            );
            pieces.push(piece);
            if let Clause::With(Line { because: Some(because), .. })
            | Clause::Without(Line { because: Some(because), .. }) = &clause.value
            {
                pieces.push(self.piece(because.at, Spacing::Plain, SENTENCE_INDENT));
            }
            before = Some(&clause.value);
        }
        pieces
    }

    fn piece(&self, at: Span, spacing: Spacing, indent: usize) -> Piece {
        let Span { start, end, .. } = at;
        let text = spaced(source::piece(self.text, start..end), spacing);
        Piece { start, end, text, indent, joined_by: None, padded: false }
    }
}

impl Piece {
    /// Its text as it starts a line
    fn at_line_start(&self) -> String {
        match self.text.split_once(' ') {
            Some((word, rest)) if self.padded => format!("{word:<width$} {rest}", width = WORD_WIDTH - 1),
            _ => self.text.clone(),
        }
    }
}

/// Columns of the first word of a row: the longest name and two more
fn row_width(declaration: &Declaration) -> usize {
    let names = declaration.clauses.iter().filter_map(|clause| match &clause.value {
        Clause::Entry(entry) => Some(entry.name.value.len()),
        _ => None,
    });
    names.fold(0, usize::max) + 2
}

/// What goes between a clause and the one before, where the two belong on one line
fn joined_by(sort: Sort, before: Option<&Clause>, clause: &Clause) -> Option<&'static str> {
    match (sort, before, clause) {
        (Sort::Part, None | Some(Clause::Rubs(_)), Clause::Rubs(_) | Clause::OnlyWhere(_)) => Some("  "),
        (Sort::Life, None, Clause::Spread(_)) | (Sort::Fact, Some(Clause::Tell(_)), Clause::Takes(_)) => {
            Some("  ")
        }
        (Sort::Scale, Some(Clause::Entry(_)), Clause::Entry(_)) => Some("   "),
        (Sort::Measure, Some(Clause::Unit(_)), Clause::Range(_))
        | (Sort::Measure, Some(Clause::Unit(_) | Clause::Range(_)), Clause::Error(_)) => Some("   "),
        _ => None,
    }
}
