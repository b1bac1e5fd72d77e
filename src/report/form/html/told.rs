//! What is told in text, taken apart into headings, entries and lists, word for word.

use crate::report::page::{Block, Page};
use crate::report::words::capital;

/// A part of the document under a heading
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// Its heading
    pub heading: String,
    /// What stands beneath, in order
    pub entries: Vec<Entry>,
}

/// Paragraphs that belong together
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Entry {
    /// What it is about; its cautions come right after
    pub title: Option<String>,
    /// Its paragraphs and lists
    pub pieces: Vec<Piece>,
}

/// A paragraph or a list
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// A paragraph
    Plain(String),
    /// A paragraph with a word of its own before it
    Named(String, String),
    /// A caution
    Caution(String),
    /// A list, with what it is a list of where that is not plain
    List(String, Vec<String>),
}

/// Sections of a page; what stands before its first heading is a section without one
pub fn sections(page: Page) -> Vec<Section> {
    let mut sections: Vec<Section> = Vec::new();
    let mut open = Section::default();
    for block in page.into_blocks() {
        match block {
            Block::Heading(words) => {
                sections.push(std::mem::take(&mut open));
                open.heading = capital(&words.to_lowercase());
            }
            Block::Gap => open.entries.push(Entry::default()),
            Block::Line(words) => put(&mut open, |entry| add(entry, "", words)),
            Block::Item { first, words } => put(&mut open, |entry| add(entry, first.trim(), words)),
            Block::Step { words, speaks_for, of, .. } => {
                let sense = if speaks_for { "for" } else { "against" };
                put(&mut open, |entry| list(entry, &format!("Speaks {sense} {of}:"), words));
            }
            Block::Again { cautions, .. } => {
                put(&mut open, |entry| entry.pieces.extend(cautions.into_iter().map(Piece::Caution)));
            }
        }
    }
    sections.push(open);
    for section in &mut sections {
        section.entries.retain(|entry| *entry != Entry::default());
    }
    sections.retain(|section| !section.entries.is_empty());
    sections
}

/// Puts something into the entry under way, or into a first one
fn put(section: &mut Section, put: impl FnOnce(&mut Entry)) {
    if section.entries.is_empty() {
        section.entries.push(Entry::default());
    }
    if let Some(entry) = section.entries.last_mut() {
        put(entry);
    }
}

fn add(entry: &mut Entry, mark: &str, words: String) {
    let number = mark.strip_suffix('.').filter(|number| number.bytes().all(|digit| digit.is_ascii_digit()));
    let piece = match mark {
        "" => Piece::Plain(words),
        "CAUTION:" => Piece::Caution(words),
        "-" => return list(entry, "", words),
        _ if number.is_some() => {
            entry.title = Some(format!("{mark} {words}"));
            return;
        }
        named => Piece::Named(named.to_owned(), words),
    };
    entry.pieces.push(piece);
}

/// A line more in the list that is open, or a new one: what comes in an order is never put out of it
fn list(entry: &mut Entry, lead: &str, words: String) {
    match entry.pieces.last_mut() {
        Some(Piece::List(own, items)) if own == lead => items.push(words),
        _ => entry.pieces.push(Piece::List(lead.to_owned(), vec![words])),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_caution_before_a_number_comes_right_after_its_title() {
        let mut page = Page::new(80);
        page.heading("WHAT TO LOOK AT NEXT");
        page.gap();
        page.item("    CAUTION: ", "Keep clear.");
        page.item(" 1. ", "Look at it");
        page.item("    ", "How.");
        let found = sections(page);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].heading, "What to look at next");
        let [entry] = found[0].entries.as_slice() else { panic!("{found:?}") };
        assert_eq!(entry.title.as_deref(), Some("1. Look at it"));
        assert_eq!(entry.pieces, [Piece::Caution("Keep clear.".into()), Piece::Plain("How.".into())]);
    }

    #[test]
    fn steps_for_and_against_are_lists() {
        let mut page = Page::new(80);
        page.heading("CAUSES");
        page.item(" 1. ", "One");
        page.step("    ", false, "it", "c");
        page.step("    ", true, "it", "a");
        page.step("    ", true, "it", "b");
        page.item("    To do: ", "mend it");
        let found = sections(page);
        let pieces = &found[0].entries[0].pieces;
        assert_eq!(pieces[0], Piece::List("Speaks against it:".into(), vec!["c".into()]));
        assert_eq!(pieces[1], Piece::List("Speaks for it:".into(), vec!["a".into(), "b".into()]));
        assert_eq!(pieces[2], Piece::Named("To do:".into(), "mend it".into()));
    }

    /// Each step begins where the one before it ended
    #[test]
    fn steps_stay_in_their_order() {
        let mut page = Page::new(80);
        for (speaks_for, words) in [(true, "2 to 8"), (false, "8 to 4"), (true, "4 to 6")] {
            page.step("    ", speaks_for, "it", words);
        }
        let list = |lead: &str, words: &str| Piece::List(lead.into(), vec![words.into()]);
        let [one, two] = ["Speaks for it:", "Speaks against it:"];
        let found = &sections(page)[0].entries[0].pieces;
        assert_eq!(*found, [list(one, "2 to 8"), list(two, "8 to 4"), list(one, "4 to 6")]);
    }

    /// On paper nobody turns back for it; on a screen it stands just above
    #[test]
    fn a_caution_told_before_is_told_again() {
        let mut page = Page::new(80);
        page.again("    ", &["Keep clear.".to_owned()]);
        page.item(" 2. ", "The same on the left");
        page.again("    ", &[]);
        assert_eq!(sections(page)[0].entries[0].pieces, [Piece::Caution("Keep clear.".into())]);
        let mut page = Page::new(80);
        page.again("    ", &["Keep clear.".to_owned()]);
        assert_eq!(page.finish(), "    CAUTION: the same as for the check before.\n");
    }
}
