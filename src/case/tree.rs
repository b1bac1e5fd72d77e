//! YAML as a tree whose every key and value knows its place, and whose texts stay as they were written.
//!
//! The reader of `serde_yaml` tells no place of what it reads well, only of what fails. So each value is asked for
//! twice: once as something it cannot be, which takes nothing away and fails with its place; and once for what it is.
//! Anchors, aliases and tags are refused where they stand, so every place asked for lies ahead of the one before.

use crate::case::fields::Notes;
use crate::case::not_yaml;
use crate::case::probe::{Asked, Probe};
use crate::case::walk::{self, Walker};
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::{Span, Spanned};
use serde::Deserialize;
use serde::de::{self, DeserializeSeed, Deserializer, IgnoredAny, MapAccess, SeqAccess, Visitor};
use std::collections::BTreeMap;
use std::fmt;

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
        walker: Walker::new(text),
        asked: Asked::default(),
        reached: 0,
        depth: 0,
        begin,
        stop: None,
    };
    let reader = || serde_yaml::Deserializer::from_str(text);
    let Err(failure) = growth.probe().deserialize(reader());
    growth.asked.hear(&failure);
    let grown = if growth.asked.is_text {
        let start = growth.start().unwrap_or_default();
        IgnoredAny::deserialize(reader()).map(|_| growth.text(start, String::new()))
    } else {
        growth.deserialize(reader())
    };
    if let Some(stop) = growth.stop {
        return Err(stop);
    }
    let root = grown.map_err(|failure| not_yaml::problem(text, whole, &failure, begin))?;
    match root.value {
        Value::Map(entries) => Ok(entries),
        _ => Err(not_yaml::no_map(text, whole, root.at.start, begin)),
    }
}

/// The tree while it grows
struct Growth<'n, 't> {
    notes: &'n mut Notes<'t>,
    walker: Walker<'t>,
    asked: Asked,
    /// End of the last piece read
    reached: usize,
    depth: usize,
    /// What to do about a file that has not begun
    begin: &'static str,
    stop: Option<Problem>,
}

impl Growth<'_, '_> {
    /// Start of the value last asked for; none, and the stop noted, when what stands there is refused
    fn start(&mut self) -> Option<usize> {
        let start = match self.asked.place() {
            Some((line, column)) => self.walker.to(line, column),
            None => self.unplaced(),
        };
        self.stop = not_yaml::refused_mark(self.notes.text, self.notes.whole, start);
        self.stop.is_none().then_some(start)
    }

    /// Start of a value told without a place: the very front of the text, or a value with a tag
    fn unplaced(&self) -> usize {
        let ahead = walk::ahead(self.notes.text, self.reached);
        let rest = self.notes.text.get(ahead..).unwrap_or_default();
        if rest.starts_with('!') { ahead } else { 0 }
    }

    /// A text in the tree
    fn text(&mut self, start: usize, value: String) -> Node {
        let range = walk::scalar(self.notes.text, start, &value);
        self.reached = range.after;
        let at = self.notes.span(range.start, range.end);
        let blank = value.is_empty() && range.after == start;
        let value = if blank { Value::Blank } else { Value::Text(value) };
        Node { value, at }
    }

    /// The start of a list or map in the tree
    fn open(&mut self) -> Option<usize> {
        let start = self.start()?;
        self.reached = self.reached.max(start);
        self.depth += 1;
        if self.depth > DEEPEST {
            let at = self.notes.span(start, walk::word_end(self.notes.text, start));
            self.stop = Some(not_yaml::too_deep(at));
            return None;
        }
        Some(start)
    }

    /// A list or map in the tree, from its start to the end of what was read last
    fn close(&mut self, start: usize, value: Value) -> Node {
        let text = self.notes.text;
        if let Some(end) = walk::closing(text, start, self.reached) {
            self.reached = end;
        }
        self.depth -= 1;
        let end = start + walk::first_line(text.get(start..self.reached).unwrap_or_default());
        Node { value, at: self.notes.span(start, end) }
    }

    /// The key that a node is; none, and the stop noted, when it cannot be one
    fn key(&mut self, node: Node) -> Option<Spanned<String>> {
        match node.value {
            Value::Blank => Some(Spanned::new(String::new(), node.at)),
            Value::Text(text) if text.len() <= LONGEST_KEY => Some(Spanned::new(text, node.at)),
            Value::Text(_) => {
                let message = "a key longer than any name";
                let problem = Problem::new(Code::CaseUnknownKey, node.at, message);
                self.stop = Some(problem.help("put a text that holds a colon in quotes"));
                None
            }
            Value::List(_) | Value::Map(_) => {
                self.stop = Some(Problem::new(
                    Code::CaseShape,
                    node.at,
                    "a key is one word, not a list or keys of its own",
                ));
                None
            }
        }
    }

    /// The question where the next value stands
    fn probe(&mut self) -> Probe<'_> {
        Probe(&mut self.asked)
    }
}

impl<'de> Visitor<'de> for &mut Growth<'_, '_> {
    type Value = Node;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("a list or keys with values")
    }

    fn visit_none<E: de::Error>(self) -> Result<Node, E> {
        self.stop = Some(not_yaml::says_nothing(self.notes.text, self.notes.whole, self.begin));
        Err(stopped())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Node, A::Error> {
        let start = self.open().ok_or_else(stopped)?;
        let mut items = Vec::new();
        loop {
            match list.next_element_seed(self.probe()) {
                Err(failure) => self.asked.hear(&failure),
                Ok(_) => break,
            }
            match list.next_element_seed(&mut *self)? {
                Some(item) => items.push(item),
                None => break,
            }
        }
        Ok(self.close(start, Value::List(items)))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Node, A::Error> {
        let start = self.open().ok_or_else(stopped)?;
        let mut entries = Vec::new();
        let mut places = BTreeMap::new();
        loop {
            match map.next_key_seed(self.probe()) {
                Err(failure) => self.asked.hear(&failure),
                Ok(_) => break,
            }
            let Some(node) = map.next_key_seed(&mut *self)? else {
                break;
            };
            let key = self.key(node).ok_or_else(stopped)?;
            match map.next_value_seed(self.probe()) {
                Err(failure) => self.asked.hear(&failure),
                Ok(never) => match never {},
            }
            let value = map.next_value_seed(&mut *self)?;
            match places.get(&key.value) {
                Some(&first) => self.notes.say_key_twice(&key, first),
                None => {
                    places.insert(key.value.clone(), key.at);
                    entries.push(Entry { key, value });
                }
            }
        }
        Ok(self.close(start, Value::Map(entries)))
    }
}

impl<'de> DeserializeSeed<'de> for &mut Growth<'_, '_> {
    type Value = Node;

    fn deserialize<D: Deserializer<'de>>(self, value: D) -> Result<Node, D::Error> {
        if self.asked.is_text {
            let start = self.start().ok_or_else(stopped)?;
            Ok(self.text(start, String::deserialize(value)?))
        } else {
            value.deserialize_any(self)
        }
    }
}

/// The failure that ends the reading once a stop has been noted
fn stopped<E: de::Error>() -> E {
    E::custom("stopped")
}
