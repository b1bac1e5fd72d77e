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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sort_of_piece_has_its_mark() {
        let mut prose = Prose::new();
        prose.say(0, "A machine");
        prose.heading_beside("Visit within 250 h", " (meter 4,250)");
        prose.caution(4, "Keep clear.");
        prose.entry(4, 1, "Look at it, and then look at it once more");
        prose.step(4, true, "it", "for");
        prose.step(4, false, "it", "against");
        prose.named(4, "To do", "mend it");
        prose.gap();
        prose.cautions_as_before(4, &["Keep clear.".to_owned()]);
        prose.entry(4, 12, "The same");
        prose.item(2, "one of a list");
        prose.passage("Left as it is");
        prose.lines(4, "cause x\n\n  prior rare");
        let told = "\
A machine

VISIT WITHIN 250 H (meter 4,250)
    CAUTION: Keep clear.
 1. Look at it, and then look at it
    once more
    + for
    - against
    To do: mend it

    CAUTION: the same as for the
             check before.
12. The same
  - one of a list

Left as it is
    cause x

      prior rare
";
        assert_eq!(text(&prose, 36), told);
    }

    #[test]
    fn cautions_that_there_are_none_of_are_not_told_again() {
        let mut prose = Prose::new();
        prose.cautions_as_before(4, &[]);
        assert_eq!(text(&prose, 80), "");
    }
}
