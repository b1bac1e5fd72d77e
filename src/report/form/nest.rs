//! What is told in a row, nested for forms that show what belongs to what by more than columns: chapters, entries, lists.

use crate::report::prose::{Level, Piece, Prose};

/// What stands under one heading
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// How much stands beneath it
    pub level: Level,
    /// Its heading; empty for what is told before the first
    pub heading: String,
    /// What stands beneath, in order
    pub entries: Vec<Entry>,
}

/// Pieces that belong together
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Entry {
    /// What it is about; its cautions come right after
    pub title: Option<String>,
    /// Its paragraphs and lists
    pub blocks: Vec<Block>,
}

/// A paragraph or a list
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A paragraph
    Plain(String),
    /// A paragraph with a name before it
    Named(&'static str, String),
    /// A caution
    Caution(String),
    /// A list, with what it is a list of where that is not plain
    List(String, Vec<String>),
    /// Lines as they are
    Lines(Vec<String>),
}

/// The sections of what is told; a heading with nothing beneath it is left out
pub fn sections(prose: Prose) -> Vec<Section> {
    let mut all: Vec<Section> = Vec::new();
    let mut open = Section { level: Level::Chapter, heading: String::new(), entries: Vec::new() };
    for piece in prose.pieces {
        match piece {
            Piece::Heading { level, words, beside } => {
                all.push(open);
                open = Section { level, heading: words + &beside, entries: Vec::new() };
            }
            Piece::Gap => open.entries.push(Entry::default()),
            piece => {
                if open.entries.is_empty() {
                    open.entries.push(Entry::default());
                }
                if let Some(entry) = open.entries.last_mut() {
                    put(entry, piece);
                }
            }
        }
    }
    all.push(open);
    for section in &mut all {
        section.entries.retain(|entry| *entry != Entry::default());
    }
    all.retain(|section| !section.entries.is_empty());
    all
}

fn put(entry: &mut Entry, piece: Piece) {
    match piece {
        Piece::Heading { .. } | Piece::Gap => {}
        Piece::Entry { number, words, .. } => entry.title = Some(format!("{number}. {words}")),
        Piece::Paragraph { words, .. } => entry.blocks.push(Block::Plain(words)),
        Piece::Named { name, words, .. } => entry.blocks.push(Block::Named(name, words)),
        Piece::Caution { words, .. } => entry.blocks.push(Block::Caution(words)),
        Piece::CautionsAsBefore { cautions, .. } => {
            entry.blocks.extend(cautions.into_iter().map(Block::Caution));
        }
        Piece::Item { words, .. } => list(entry, String::new(), words),
        Piece::Step { speaks_for, of, words, .. } => {
            let sense = if speaks_for { "for" } else { "against" };
            list(entry, format!("Speaks {sense} {of}:"), words);
        }
        Piece::Change { added, words, .. } => {
            let lead = if added { "Said now:" } else { "No longer said:" };
            list(entry, lead.to_owned(), words);
        }
        Piece::Line { words, .. } => match entry.blocks.last_mut() {
            Some(Block::Lines(lines)) => lines.push(words),
            _ => entry.blocks.push(Block::Lines(vec![words])),
        },
    }
}

/// A line more in the list that is open, or a new one: what comes in an order is never put out of it
fn list(entry: &mut Entry, lead: String, words: String) {
    match entry.blocks.last_mut() {
        Some(Block::List(own, items)) if *own == lead => items.push(words),
        _ => entry.blocks.push(Block::List(lead, vec![words])),
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// A check that begins a chapter, with its caution before its number as it is told
    pub(crate) fn a_check() -> Prose {
        let mut prose = Prose::new();
        prose.heading("What to look at next");
        prose.gap();
        prose.caution(4, "Keep clear.");
        prose.entry(4, 1, "Look at it");
        prose.say(4, "How.");
        prose
    }

    fn blocks(prose: Prose) -> Vec<Block> {
        sections(prose).remove(0).entries.remove(0).blocks
    }

    #[test]
    fn a_caution_before_a_number_comes_right_after_its_title() {
        let found = sections(a_check());
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].heading, "What to look at next");
        let [entry] = found[0].entries.as_slice() else { panic!("{found:?}") };
        assert_eq!(entry.title.as_deref(), Some("1. Look at it"));
        assert_eq!(entry.blocks, [Block::Caution("Keep clear.".into()), Block::Plain("How.".into())]);
    }

    #[test]
    fn steps_for_and_against_are_lists() {
        let mut prose = Prose::new();
        prose.entry(4, 1, "One");
        prose.step(4, false, "it", "c");
        prose.step(4, true, "it", "a");
        prose.step(4, true, "it", "b");
        prose.named(4, "To do", "mend it");
        let list = |lead: &str, words: &[&str]| {
            Block::List(lead.into(), words.iter().map(|it| (*it).into()).collect())
        };
        let told = [
            list("Speaks against it:", &["c"]),
            list("Speaks for it:", &["a", "b"]),
            Block::Named("To do", "mend it".into()),
        ];
        assert_eq!(blocks(prose), told);
    }

    /// Each step begins where the one before it ended
    #[test]
    fn steps_stay_in_their_order() {
        let mut prose = Prose::new();
        for (speaks_for, words) in [(true, "2 to 8"), (false, "8 to 4"), (true, "4 to 6")] {
            prose.step(4, speaks_for, "it", words);
        }
        let list = |lead: &str, words: &str| Block::List(lead.into(), vec![words.into()]);
        let [one, two] = ["Speaks for it:", "Speaks against it:"];
        assert_eq!(blocks(prose), [list(one, "2 to 8"), list(two, "8 to 4"), list(one, "4 to 6")]);
    }

    /// On paper nobody turns back for it; on a screen it stands just above
    #[test]
    fn a_caution_told_before_is_told_again() {
        let mut prose = Prose::new();
        prose.cautions_as_before(4, &["Keep clear.".to_owned()]);
        prose.entry(4, 2, "The same on the left");
        assert_eq!(blocks(prose), [Block::Caution("Keep clear.".into())]);
    }

    #[test]
    fn a_heading_with_nothing_beneath_is_left_out() {
        let mut prose = Prose::new();
        prose.heading("Nothing");
        prose.heading("Something");
        prose.lines(4, "a\nb");
        let found = sections(prose);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].entries[0].blocks, [Block::Lines(vec!["a".into(), "b".into()])]);
    }
}
