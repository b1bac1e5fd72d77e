//! The one layout of a rule file: the author's words and comments, none of his spacing.
//!
//! The layout moves words, it does not print the tree: what the author wrote between two places of the tree is spaced anew, so
//! that `is` and `are`, figures and comments stay as written. What it gives is read again before it is given: a layout with
//! another tree or other comments is refused.

mod comments;
mod edit;
mod join;
mod shorten;
mod spacing;
mod write_out;

use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{self, SourceId, Sources, Span};
use crate::syntax::parse;
use crate::syntax::short::{self, Opposites};
use crate::syntax::tree::{Clause, Declaration, File, Line, Sort, Statement};
use comments::Comment;
use spacing::{Spacing, spaced};

/// Columns before a clause
const INDENT: usize = 4;
/// Columns before the sentence of a line, under what the line says
const SENTENCE_INDENT: usize = 12;
/// Columns between the first word of a clause and what follows: the longest common word, `without`, and a space
const WORD_WIDTH: usize = 8;

/// A rule file in its canonical layout: words aligned, at most one empty line together, and in short: what most blocks
/// say of their basis once, mirrored lines and multiples of a size class as such. `set` holds the files it belongs with.
///
/// Laying out twice is laying out once. All comments stay, each at what it stood at, and the file means the same.
///
/// # Errors
/// The problems of a file that cannot be read to its end, or whose layout would not mean the same; such a file is best
/// left as it is.
pub fn format(sources: &Sources, id: SourceId, set: &[File]) -> Result<String, Problems> {
    let file = read(sources, id)?;
    let text = sources.text(id);
    let others = others(id, set);
    let comments = comments::comments(text);
    let all = [others.as_slice(), std::slice::from_ref(&file)].concat();
    let opposites = Opposites::of(&all, &mut Problems::default());
    let short = shorten::shortened(text, &file, &opposites, &comments);
    let short = short.and_then(|short| {
        let laid_out = laid_out(&short)?;
        means_the_same(&laid_out, &file, &others, &comments).then_some(laid_out)
    });
    let laid_out = short.or_else(|| laid_out(text));
    laid_out
        .filter(|laid_out| means_the_same(laid_out, &file, &others, &comments))
        .ok_or_else(|| changes_meaning(sources, id))
}

/// The same layout with everything that is said in short written out
///
/// # Errors
/// As for [`format`](fn@format), and the problems of short forms that cannot be written out.
pub fn long(sources: &Sources, id: SourceId, set: &[File]) -> Result<String, Problems> {
    let file = read(sources, id)?;
    let text = sources.text(id);
    let others = others(id, set);
    let comments = comments::comments(text);
    let mut all = vec![file.clone()];
    all.extend(others.iter().cloned());
    let (whole, problems) = short::written_out(&all);
    if problems.any_error() {
        return Err(problems);
    }
    let opposites = Opposites::of(&all, &mut Problems::default());
    let declarations = whole.first().map_or(&[][..], |file| &file.declarations);
    let long = write_out::written_out(text, &file, declarations, &opposites);
    laid_out(long.as_deref().unwrap_or(text)) // else: nothing is in short
        .filter(|laid_out| means_the_same(laid_out, &file, &others, &comments))
        .ok_or_else(|| changes_meaning(sources, id))
}

fn read(sources: &Sources, id: SourceId) -> Result<File, Problems> {
    let (file, problems) = parse(sources, id);
    if problems.any_error() { Err(problems) } else { Ok(file) }
}

/// What the other files of a set have to say about the short forms of one
fn others(id: SourceId, set: &[File]) -> Vec<File> {
    let of_use = |file: &File| File {
        statements: file
            .statements
            .iter()
            .filter(|own| own.at.source != id && matches!(own.value, Statement::Opposites(_)))
            .cloned()
            .collect(),
        declarations: file
            .declarations
            .iter()
            .filter(|own| own.sort.at.source != id && matches!(own.sort.value, Sort::Dimensions | Sort::Life))
            .cloned()
            .collect(),
        unread: Vec::new(),
    };
    set.iter().map(of_use).collect()
}

/// A text in its layout, which must read without a mistake
fn laid_out(text: &str) -> Option<String> {
    let mut sources = Sources::default();
    let id = sources.add("", text);
    let file = read(&sources, id).ok()?;
    let comments = comments::comments(text);
    let page = Page { text, comments: &comments, out: String::with_capacity(text.len()), last: None };
    Some(page.lay_out(&file))
}

/// Whether a layout has the same meaning, all short forms written out, and the same comments
fn means_the_same(laid_out: &str, file: &File, others: &[File], comments: &[Comment<'_>]) -> bool {
    let mut sources = Sources::default();
    let id = sources.add("", laid_out);
    let (again, problems) = parse(&sources, id);
    let kept = comments::comments(laid_out);
    let whole = |file: File| {
        let mut all = vec![file];
        all.extend(others.iter().cloned());
        short::written_out(&all).0
    };
    let for_all = |file: &File| -> Vec<Statement> {
        let said = file.statements.iter().map(|own| &own.value);
        said.filter(|own| !matches!(own, Statement::Basis { .. })).cloned().collect()
    };
    !problems.any_error()
        && for_all(&again) == for_all(file)
        && whole(again) == whole(file.clone())
        && kept.iter().map(|it| it.text).eq(comments.iter().map(|it| it.text))
}

fn changes_meaning(sources: &Sources, id: SourceId) -> Problems {
    let mut problems = Problems::default();
    problems.push(
        Problem::new(
            Code::Syntax,
            sources.whole(id),
            "this file cannot be laid out without changing what it says",
        )
        .help("leave it as it is, and tell whoever looks after this program"),
    );
    problems
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
        let statements =
            file.statements.iter().map(|own| (own.at.start, vec![self.piece(own.at, Spacing::Plain, 0)]));
        let blocks = file.declarations.iter().map(|own| (own.sort.at.start, self.pieces(own)));
        let mut all: Vec<(usize, Vec<Piece>)> = statements.chain(blocks).collect();
        all.sort_by_key(|(start, _)| *start);
        for (start, pieces) in all {
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
        let columns = |at: Span| self.piece(at, Spacing::Plain, 0).text.chars().count();
        let of_clauses = declaration.clauses.iter().map(|clause| columns(clause.at)).sum();
        let mut line = join::Line::of(declaration, columns(declaration.head()), of_clauses);
        for clause in &declaration.clauses {
            let spacing = match &clause.value {
                Clause::Entry(_) if sort == Sort::Scale => Spacing::Plain,
                Clause::Entry(_) => Spacing::Row(row_width),
                Clause::From { .. } | Clause::Is { .. } | Clause::Against { .. } => Spacing::Reckoned,
                _ => Spacing::Plain,
            };
            let mut piece = self.piece(clause.at, spacing, INDENT);
            piece.joined_by = line.joins(&clause.value, &piece.text);
            piece.padded = !matches!(
                clause.value,
                Clause::Entry(_)
                    | Clause::OnlyWhere(_)
                    | Clause::GivesWay(_)
                    | Clause::FindsOut
                    | Clause::OnSite
                    | Clause::SetsRight(_)
            );
            pieces.push(piece);
            if let Clause::With(Line { because: Some(because), .. })
            | Clause::Mirror(Line { because: Some(because), .. })
            | Clause::Without(Line { because: Some(because), .. }) = &clause.value
            {
                pieces.push(self.piece(because.at, Spacing::Plain, SENTENCE_INDENT));
            }
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
