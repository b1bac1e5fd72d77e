//! What is told as plain text, filled to the width of a screen: depth is indent, and every sort of piece has its mark.

use crate::report::prose::{Level, Piece, Prose};

/// The text, with a line end behind it
pub fn text(prose: &Prose, width: usize) -> String {
    let mut text = String::new();
    for piece in &prose.pieces {
        if matches!(piece, Piece::Heading { .. }) && !text.is_empty() {
            text.push('\n');
        }
        text.push_str(&laid_out(piece, width));
        text.push('\n');
    }
    text
}

fn laid_out(piece: &Piece, width: usize) -> String {
    let filled = |depth: usize, mark: &str, words: &str| fill(&format!("{:depth$}{mark}", ""), words, width);
    match piece {
        Piece::Heading { level: Level::Chapter, words, beside } => words.to_uppercase() + beside,
        Piece::Heading { level: Level::Passage, words, beside } => format!("{words}{beside}"),
        Piece::Entry { depth, number, words } => {
            let column = depth.saturating_sub(". ".len());
            fill(&format!("{number:>column$}. "), words, width)
        }
        Piece::Paragraph { depth, words } => filled(*depth, "", words),
        Piece::Named { depth, name, words } => filled(*depth, &format!("{name}: "), words),
        Piece::Item { depth, words } => filled(*depth, "- ", words),
        Piece::Step { depth, speaks_for: true, words, .. } => filled(*depth, "+ ", words),
        Piece::Step { depth, speaks_for: false, words, .. } => filled(*depth, "- ", words),
        Piece::Change { depth, added, words } => filled(*depth, if *added { "+ " } else { "- " }, words),
        Piece::Caution { depth, words } => filled(*depth, "CAUTION: ", words),
        Piece::CautionsAsBefore { depth, .. } => {
            filled(*depth, "CAUTION: ", "the same as for the check before.")
        }
        Piece::Line { depth, words } => format!("{:depth$}{words}", "").trim_end().to_owned(),
        Piece::Gap => String::new(),
    }
}

/// Words behind what their first line begins with, the other lines as far in
fn fill(first: &str, words: &str, width: usize) -> String {
    let indent = " ".repeat(first.chars().count());
    let options =
        textwrap::Options::new(width).initial_indent(first).subsequent_indent(&indent).break_words(false);
    textwrap::fill(words, options)
}
