//! Pieces that stand in a row, nested for forms that show what belongs to what by more than columns: chapters, entries, lists.

use crate::report::prose::{Level, Piece, Prose};

/// What stands under one heading
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// How much stands beneath it
    pub level: Level,
    /// Its heading; empty for what stands before the first
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

/// The pieces by their headings; a heading with nothing beneath it is left out
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
