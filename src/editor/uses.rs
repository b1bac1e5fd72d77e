//! What stands at a place, where it is declared, and where it is used.

use super::mention::{Mention, Thing, mentions};
use super::{Cursor, Rules};
use crate::source::Span;
use crate::syntax::tree::{Clause, Declaration, Sort};

/// What is named at a place; a cursor right behind a word stands on it
pub fn mention_at<'t>(mentions: &[Mention<'t>], cursor: Cursor) -> Option<Mention<'t>> {
    let here = |mention: &&Mention<'_>| {
        mention.at.source == cursor.source && mention.at.start <= cursor.at && cursor.at <= mention.at.end
    };
    // Where two words touch, as in `a<b`, the one that starts at the cursor is meant.
    mentions.iter().rev().find(here).copied()
}

/// Where what stands at a place is declared: most often one place, two for a name declared twice or a size class
pub fn declared(rules: &Rules, cursor: Cursor) -> Vec<Span> {
    let all = mentions(&rules.files);
    let Some(mention) = mention_at(&all, cursor) else {
        return Vec::new();
    };
    let spans = declarations(&all, mention.thing);
    match mention.thing {
        // `yes`, `left` and their like stand in no line: the block that has them is the next best.
        Thing::Word { of, .. } if spans.is_empty() => declarations(&all, Thing::Block(of)),
        _ => spans,
    }
}

/// Every place that names what stands at a place, its declaration among them where asked for
pub fn uses(rules: &Rules, cursor: Cursor, with_declaration: bool) -> Vec<Span> {
    let all = mentions(&rules.files);
    let Some(mention) = mention_at(&all, cursor) else {
        return Vec::new();
    };
    let thing = one(mention.thing);
    let named = all.iter().filter(|other| one(other.thing) == thing);
    named.filter(|other| with_declaration || !other.declares).map(|other| other.at).collect()
}

/// A row of parts is spoken of by another word, and is the same part
fn one(thing: Thing<'_>) -> Thing<'_> {
    match thing {
        Thing::Row(part) => Thing::Block(part),
        thing => thing,
    }
}

/// Where a thing is declared
pub fn declarations(mentions: &[Mention<'_>], thing: Thing<'_>) -> Vec<Span> {
    let thing = one(thing);
    mentions.iter().filter(|it| it.declares && it.thing == thing).map(|it| it.at).collect()
}

/// The block that a line of a file belongs to: the last one declared above it
pub fn block_at(rules: &Rules, cursor: Cursor) -> Option<&Declaration> {
    let before = |declaration: &&Declaration| {
        declaration.sort.at.source == cursor.source && declaration.sort.at.start <= cursor.at
    };
    rules.declarations().filter(before).max_by_key(|declaration| declaration.sort.at.start)
}

/// The words of the scale with their per cent, commonest first
pub fn scale(rules: &Rules) -> Vec<(&str, f64)> {
    let scales = rules.declarations().filter(|declaration| declaration.sort.value == Sort::Scale);
    let entries = scales.flat_map(|scale| &scale.clauses).filter_map(|clause| match &clause.value {
        Clause::Entry(entry) => Some((entry.name.value.as_str(), entry.points.first()?.0.value.value)),
        _ => None,
    });
    let mut words: Vec<(&str, f64)> = entries.collect();
    words.sort_by(|a, b| b.1.total_cmp(&a.1));
    words
}
