//! A piece of a rule file as the grammar cut it, with its place.

use super::grammar::Rule;
use crate::invariant::Hold;
use crate::source::{SourceId, Span, Spanned};
use pest::iterators::Pair;

/// One pair of the grammar in a known file
pub(super) struct Piece<'i> {
    pair: Pair<'i, Rule>,
    source: SourceId,
}

impl<'i> Piece<'i> {
    pub(super) fn new(pair: Pair<'i, Rule>, source: SourceId) -> Self {
        Piece { pair, source }
    }

    /// Its text as written
    pub(super) fn as_str(&self) -> &'i str {
        self.pair.as_str()
    }

    /// Where it stands, without the spaces behind it
    pub(super) fn span(&self) -> Span {
        let start = self.pair.as_span().start();
        Span { source: self.source, start, end: start + self.as_str().trim_end().len() }
    }

    /// Where it stands, without the spaces before and behind it
    pub(super) fn line_span(&self) -> Span {
        let span = self.span();
        let indent = self.as_str().len() - self.as_str().trim_start().len();
        Span { start: (span.start + indent).min(span.end), ..span }
    }

    /// Its text with its place
    pub(super) fn text(&self) -> Spanned<String> {
        Spanned::new(self.as_str().trim_end().to_owned(), self.span())
    }

    /// A quoted text without its quotes
    pub(super) fn unquoted(&self) -> Spanned<String> {
        let text = self.as_str().trim_matches('"').to_owned();
        Spanned::new(text, self.span())
    }

    /// The number it is; the grammar lets nothing else through
    pub(super) fn figure(&self) -> f64 {
        self.as_str().trim_end().parse().hold("the grammar lets nothing but a number be one")
    }

    /// The first piece right inside it that a rule cut
    pub(super) fn get(&self, rule: Rule) -> Option<Piece<'i>> {
        self.all(rule).next()
    }

    /// True when a rule cut a piece right inside it
    pub(super) fn has(&self, rule: Rule) -> bool {
        self.get(rule).is_some()
    }

    /// All pieces right inside it that a rule cut
    pub(super) fn all(&self, rule: Rule) -> impl Iterator<Item = Piece<'i>> + use<'i> {
        self.inside().filter(move |piece| piece.rule() == rule)
    }

    /// All pieces right inside it
    pub(super) fn inside(&self) -> impl Iterator<Item = Piece<'i>> + use<'i> {
        let source = self.source;
        self.pair.clone().into_inner().map(move |pair| Piece::new(pair, source))
    }

    /// The rule that cut it
    pub(super) fn rule(&self) -> Rule {
        self.pair.as_rule()
    }
}
