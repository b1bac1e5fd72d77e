//! YAML as a tree whose every key and value knows its place, and whose texts stay as they were written.
//!
//! A tree is grown from the parser's events, each of which has its place. Anchors, aliases and tags are refused where they
//! stand: a case file writes out what it means.

use crate::case::fields::Notes;
use crate::case::not_yaml;
use crate::case::walk::{self, Bytes};
use crate::invariant::Hold;
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::{Span, Spanned};
use saphyr_parser::{Event, Parser, ScalarStyle, StrInput};
use std::collections::BTreeMap;
use std::ops::Range;

/// A value in the tree
#[derive(Debug)]
pub(super) struct Node {
    /// What it is
    pub(super) value: Value,
    /// Where it stands: a text without its quotes, a list or map with its brackets, or its first line when it has several
    pub(super) at: Span,
}

/// What a value is
#[derive(Debug)]
pub(super) enum Value {
    /// Nothing written where a value could stand
    Blank,
    /// A text, a number, a date: whatever is no list and no map
    Text(String),
    /// A list
    List(Vec<Node>),
    /// Keys with their values, no key twice
    Map(Vec<Entry>),
}

/// A key with its value
#[derive(Debug)]
pub(super) struct Entry {
    pub(super) key: Spanned<String>,
    pub(super) value: Node,
}

/// Deepest nesting of lists and maps taken in: a case needs seven, and each costs time at every value below it
const DEEPEST: usize = 12;

/// Longest key taken in, in bytes: names are a few words, and a long key costs time at every value below it
const LONGEST_KEY: usize = 100;

/// The keys of a text that is one map; a key given twice is noted, and its first value kept
///
/// # Errors
/// The one problem that keeps the text from being read at all.
pub(super) fn grow(notes: &mut Notes<'_>, begin: &'static str) -> Result<Vec<Entry>, Problem> {
    let (text, whole) = (notes.text, notes.whole);
    if let Some(problem) = not_yaml::refused_outright(text, whole) {
        return Err(problem);
    }
    let mut growth = Growth {
        notes,
        parser: Parser::new_from_str(text),
        bytes: Bytes::of(text),
        reached: 0,
        open: Vec::new(),
    };
    let Some(root) = growth.document()? else {
        return Err(not_yaml::says_nothing(text, whole, begin));
    };
    match root.value {
        Value::Map(entries) => Ok(entries),
        _ => Err(not_yaml::no_map(text, whole, root.at.start, begin)),
    }
}

/// The tree while it grows
struct Growth<'n, 't> {
    notes: &'n mut Notes<'t>,
    parser: Parser<'t, StrInput<'t>>,
    bytes: Bytes,
    /// End of the last piece read
    reached: usize,
    /// Starts of the lists and maps that are open, the innermost last
    open: Vec<usize>,
}

impl<'t> Growth<'_, 't> {
    /// The value of the one document; none where there is nothing but space and comments
    fn document(&mut self) -> Result<Option<Node>, Problem> {
        let mut root = None;
        loop {
            let (event, at) = self.next()?;
            match event {
                Event::StreamEnd => return Ok(root),
                Event::DocumentStart(_) if root.is_some() => {
                    return Err(not_yaml::second_document(self.notes.text, self.notes.whole, at.start));
                }
                Event::StreamStart | Event::DocumentStart(_) | Event::DocumentEnd | Event::Nothing => {}
                event => root = Some(self.node(event, at)?),
            }
        }
    }

    /// The next event and the bytes it stands at
    fn next(&mut self) -> Result<(Event<'t>, Range<usize>), Problem> {
        match self.parser.next_event() {
            Some(Ok((event, at))) => {
                Ok((event, self.bytes.at(at.start.index())..self.bytes.at(at.end.index())))
            }
            Some(Err(failure)) => {
                let failed = self.bytes.at(failure.marker().index());
                Err(not_yaml::problem(self.notes.text, self.notes.whole, failure.info(), failed, &self.open))
            }
            None => Ok((Event::StreamEnd, self.reached..self.reached)),
        }
    }

    /// The value that an event begins
    fn node(&mut self, event: Event<'t>, at: Range<usize>) -> Result<Node, Problem> {
        match event {
            Event::Scalar(value, style, 0, None) => Ok(self.text(&value, style, at)),
            Event::SequenceStart(0, None) => self.list(at.start),
            Event::MappingStart(0, None) => self.map(at.start),
            _ => Err(not_yaml::refused_mark(self.notes.text, self.notes.whole, self.reached)),
        }
    }

    /// A text in the tree
    fn text(&mut self, value: &str, style: ScalarStyle, at: Range<usize>) -> Node {
        let inside = match style {
            ScalarStyle::SingleQuoted | ScalarStyle::DoubleQuoted => at.start + 1..at.end.saturating_sub(1),
            ScalarStyle::Plain => self.filled(at.start, at.end),
            // The parser's own place begins behind the mark and the space of the first line.
            ScalarStyle::Literal | ScalarStyle::Folded => {
                self.filled(walk::ahead(self.notes.text, self.reached), at.end)
            }
        };
        let blank = value.is_empty() && style == ScalarStyle::Plain;
        self.reached = if blank { self.reached } else { at.end };
        let value = if blank { Value::Blank } else { Value::Text(value.to_owned()) };
        Node { value, at: self.notes.span(inside.start, inside.end) }
    }

    /// From one byte to another, without the space at the end
    fn filled(&self, start: usize, end: usize) -> Range<usize> {
        let written = self.notes.text.get(start..end).map_or(0, |text| text.trim_end().len());
        start..start + written
    }

    fn list(&mut self, start: usize) -> Result<Node, Problem> {
        self.begin(start)?;
        let mut items = Vec::new();
        loop {
            match self.next()? {
                (Event::SequenceEnd, at) => return Ok(self.end(at.end, Value::List(items))),
                (event, at) => items.push(self.node(event, at)?),
            }
        }
    }

    fn map(&mut self, start: usize) -> Result<Node, Problem> {
        self.begin(start)?;
        let mut entries = Vec::new();
        let mut places = BTreeMap::new();
        loop {
            let key = match self.next()? {
                (Event::MappingEnd, at) => return Ok(self.end(at.end, Value::Map(entries))),
                (event, at) => self.node(event, at)?,
            };
            let key = self.key(key)?;
            let (event, at) = self.next()?;
            let value = self.node(event, at)?;
            match places.get(&key.value) {
                Some(&first) => self.notes.say_key_twice(&key, first),
                None => {
                    places.insert(key.value.clone(), key.at);
                    entries.push(Entry { key, value });
                }
            }
        }
    }

    /// Goes into a list or map
    fn begin(&mut self, start: usize) -> Result<(), Problem> {
        self.open.push(start);
        self.reached = self.reached.max(start);
        if self.open.len() > DEEPEST {
            return Err(not_yaml::too_deep(self.notes.span(start, walk::word_end(self.notes.text, start))));
        }
        Ok(())
    }

    /// Comes out of a list or map: it stands from its start to its bracket, or to the end of what was read last
    fn end(&mut self, end: usize, value: Value) -> Node {
        let text = self.notes.text;
        let start = self.open.pop().hold("what ends has begun");
        if text.get(start..).is_some_and(|rest| rest.starts_with(['[', '{'])) {
            self.reached = end;
        }
        // else: the parser says that what stands in it ended before it began, and there is no line to underline
        let written = text.get(start..self.reached).unwrap_or_default();
        let end = start + walk::first_line(written);
        Node { value, at: self.notes.span(start, end) }
    }

    /// The key that a node is
    fn key(&self, node: Node) -> Result<Spanned<String>, Problem> {
        match node.value {
            Value::Blank => Ok(Spanned::new(String::new(), node.at)),
            Value::Text(text) if text.len() <= LONGEST_KEY => Ok(Spanned::new(text, node.at)),
            Value::Text(_) => {
                let message = "a key longer than any name";
                let problem = Problem::new(Code::CaseUnknownKey, node.at, message);
                Err(problem.help("put a text that holds a colon in quotes"))
            }
            Value::List(_) | Value::Map(_) => {
                let message = "a key is one word, not a list or keys of its own";
                Err(Problem::new(Code::CaseShape, node.at, message))
            }
        }
    }
}
