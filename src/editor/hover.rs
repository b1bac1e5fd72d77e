//! What a word means where it stands, in sentences.

mod block;

use super::keyword::keyword;
use super::mention::{Mention, Thing, mentions};
use super::uses::{block_at, mention_at, scale};
use super::words::{label, listed, words};
use super::{Cursor, Rules};
use crate::problem::Problems;
use crate::source::{Span, piece};
use crate::syntax::short::Opposites;
use crate::syntax::tree::Clause;

/// What is told of a word
#[derive(Clone, Debug, PartialEq)]
pub struct HoverText {
    /// The word
    pub at: Span,
    /// Paragraphs, names and words of the language between back quotes
    pub paragraphs: Vec<String>,
    /// Lines of a rule that show it in use; empty for what needs none
    pub example: String,
}

/// What is told of what stands at a place; nothing within texts and comments
pub fn hover(rules: &Rules, cursor: Cursor) -> Option<HoverText> {
    let all = mentions(&rules.files);
    if let Some(mention) = mention_at(&all, cursor)
        && let Some(paragraphs) = named(rules, &all, &mention)
    {
        return Some(HoverText { at: mention.at, paragraphs, example: String::new() });
    }
    let at = word_at(rules, cursor)?;
    let before = before(rules.sources.text(at.source), at.start);
    let starts_clause = before.trim().is_empty() || before.ends_with("  ");
    let keyword = keyword(rules.sources.slice(at), before.is_empty(), starts_clause)?;
    let mut paragraphs = vec![format!("`{}`", keyword.word), keyword.says.to_owned()];
    if keyword.word == "mirror" {
        paragraphs.extend(swapped(rules, cursor));
    }
    Some(HoverText { at, paragraphs, example: keyword.example.to_owned() })
}

/// `Swapped in this line: `inboard` for `outboard`.`
fn swapped(rules: &Rules, cursor: Cursor) -> Option<String> {
    let block = block_at(rules, cursor)?;
    let opposites = Opposites::of(&rules.files, &mut Problems::default());
    let line = block.clauses.iter().find_map(|clause| match &clause.value {
        Clause::Mirror(line) if clause.at.start <= cursor.at && cursor.at <= clause.at.end => Some(line),
        _ => None,
    })?;
    let grades = line.parents.iter().filter_map(|parent| parent.grade.as_ref());
    let grades = grades.chain(line.effects.iter().filter_map(|effect| effect.grade.as_ref()));
    let mut swaps: Vec<String> = Vec::new();
    for grade in grades {
        let Some(opposite) = opposites.of_word(&grade.value) else { continue };
        let swap = format!("`{}` for `{opposite}`", grade.value);
        if !swaps.contains(&swap) {
            swaps.push(swap);
        }
    }
    (!swaps.is_empty()).then(|| format!("Swapped in this line: {}.", listed(&swaps, "and")))
}

fn named(rules: &Rules, all: &[Mention<'_>], mention: &Mention<'_>) -> Option<Vec<String>> {
    match mention.thing {
        Thing::Block(name) => Some(block::paragraphs(rules, all, rules.block(name)?)),
        Thing::Row(part) => {
            let part = rules.block(part)?;
            let name = &part.name.value;
            let mut paragraphs = vec![format!(
                "`{name}s`: all of the part `{name}` ({}) along a side; as a fact, how many of them a side has.",
                label(part)
            )];
            paragraphs.extend(block::used(all, Thing::Row(name)));
            Some(paragraphs)
        }
        Thing::Word { of, word } => {
            let block = rules.block(of)?;
            let words = words(block)?;
            let number = words.all.iter().position(|known| *known == word)?;
            let normal = if Some(number) == words.normal { ", the normal one" } else { "" };
            let quoted: Vec<String> = words.all.iter().map(|word| format!("`{word}`")).collect();
            Some(vec![
                format!(
                    "`{word}`: {} {} of the {} `{of}`{normal}.",
                    article(words.noun),
                    words.noun,
                    block.sort.value.word()
                ),
                format!("`{of}`: {}. It can be {}.", label(block), listed(&quoted, "or")),
            ])
        }
        Thing::Share(word) => {
            let scale = scale(rules);
            let (_, percent) = scale.iter().find(|(known, _)| *known == word)?;
            let rest: Vec<String> =
                scale.iter().map(|(word, percent)| format!("`{word}` {percent} %")).collect();
            Some(vec![format!("`{word}`: {percent} %."), format!("The scale: {}.", rest.join(", "))])
        }
        Thing::Size(size) => {
            let mut paragraphs = vec![format!("`{size}`: a size class, as a case says it in `size`.")];
            let tables =
                rules.declarations().filter(|it| !super::is_block(it.sort.value) && it.name.value == size);
            paragraphs
                .extend(tables.map(|table| format!("Its `{}`: {}.", table.sort.value.word(), label(table))));
            Some(paragraphs)
        }
    }
}

fn article(noun: &str) -> &'static str {
    if noun.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" }
}

/// The word at a place, unless it stands in a text or a comment
pub(super) fn word_at(rules: &Rules, cursor: Cursor) -> Option<Span> {
    let text = rules.sources.text(cursor.source);
    let (head, tail) = text.split_at_checked(cursor.at)?;
    let is_word = |sign: char| sign.is_ascii_alphanumeric() || sign == '_';
    let start = head.trim_end_matches(is_word).len();
    let end = cursor.at + (tail.len() - tail.trim_start_matches(is_word).len());
    (start < end && is_code(before(text, start))).then_some(Span { source: cursor.source, start, end })
}

/// The piece of its line before a byte
pub(super) fn before(text: &str, at: usize) -> &str {
    let head = text.get(..at).unwrap_or(""); // else: there is no such place in the text
    let start = head.rfind(['\n', '\r']).map_or(0, |newline| newline + 1);
    piece(head, start..)
}

/// Whether the end of a piece of a line lies outside texts and comments
pub(super) fn is_code(before: &str) -> bool {
    let mut in_text = false;
    for sign in before.chars() {
        match sign {
            '"' => in_text = !in_text,
            '#' if !in_text => return false,
            _ => {}
        }
    }
    !in_text
}
