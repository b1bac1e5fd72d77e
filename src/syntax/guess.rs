//! What a head line that could not be read seems to declare, so that what hangs on it is not reported as well.

use super::expect::is_name;
use super::piece::Piece;
use super::tree::{Attribute, Declaration, Sort};
use crate::problem::nearest;
use crate::source::{Span, Spanned};

/// What a broken head line seems to be
pub(super) enum Guess {
    /// A declaration with its name and places
    Block(Box<Declaration>),
    /// Nothing more than a name
    Name(String),
    /// Nothing at all
    Nothing,
}

/// The declaration that a broken head line seems to be
pub(super) fn guess(line: &Piece<'_>) -> Guess {
    let words = words(line);
    let Some(first) = words.first() else {
        return Guess::Nothing;
    };
    let keyword = nearest(&first.value, Sort::ALL.map(Sort::word));
    let sort = keyword.and_then(Sort::of);
    let name = if sort == Some(Sort::Scale) { Some(first) } else { words.get(1) };
    let name = name.filter(|name| sort == Some(Sort::Scale) || is_name(&name.value)).cloned();
    match (sort, name) {
        (Some(sort), Some(name)) => Guess::Block(Box::new(Declaration {
            sort: Spanned::new(sort, first.at),
            name,
            attributes: attributes(words.get(2..).unwrap_or_default()), // else: nothing is behind the name
            label: None,
            against: None,
            clauses: Vec::new(),
            broken: true,
        })),
        (None, Some(name)) => Guess::Name(name.value),
        (_, None) => Guess::Nothing,
    }
}

/// The words of a line up to its first quote
fn words(line: &Piece<'_>) -> Vec<Spanned<String>> {
    let head = line.as_str().split_once('"').map_or(line.as_str(), |(head, _)| head);
    let mut words = Vec::new();
    let mut start = line.span().start;
    for piece in head.split_inclusive(|sign: char| !(sign.is_alphanumeric() || sign == '_')) {
        let word = piece.trim_end_matches(|sign: char| !(sign.is_alphanumeric() || sign == '_'));
        if !word.is_empty() {
            let at = Span { start, end: start + word.len(), ..line.span() };
            words.push(Spanned::new(word.to_owned(), at));
        }
        start += piece.len();
    }
    words
}

/// The places and the part among the words behind a name
fn attributes(words: &[Spanned<String>]) -> Vec<Spanned<Attribute>> {
    let mut attributes = Vec::new();
    let nexts = words.iter().skip(1).map(Some).chain([None]);
    for (word, next) in words.iter().zip(nexts) {
        let attribute = match (word.value.as_str(), next) {
            ("each", Some(next)) => Attribute::Each(next.clone()),
            ("of", Some(next)) => Attribute::Of(next.clone()),
            ("numbered", _) => Attribute::Numbered(None),
            _ => continue,
        };
        attributes.push(Spanned::new(attribute, word.at));
    }
    attributes
}
