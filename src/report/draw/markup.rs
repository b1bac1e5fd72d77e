//! Markup as a library writes it: elements with their attributes, every text made safe.

use crate::invariant::Hold;
use crate::report::draw::picture::printable;
use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesEnd, BytesStart, BytesText, Event};

/// Attributes of an element by name, in the order in which they are written
pub type Attributes<'a> = &'a [(&'a str, &'a str)];

/// A document or a piece of one, element by element
pub struct Markup {
    writer: Writer<Vec<u8>>,
}

impl Default for Markup {
    fn default() -> Self {
        Markup { writer: Writer::new(Vec::new()) }
    }
}

impl Markup {
    /// What is written by one piece of work
    pub fn of(write: impl FnOnce(&mut Markup)) -> String {
        let mut markup = Markup::default();
        write(&mut markup);
        markup.into_text()
    }

    /// The first line of a document that stands by itself
    pub fn declaration(&mut self) {
        self.write(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)));
        self.line();
    }

    /// An element with nothing inside
    pub fn empty(&mut self, name: &str, attributes: Attributes<'_>) {
        self.write(Event::Empty(start(name, attributes)));
    }

    /// An element with words inside
    pub fn words(&mut self, name: &str, attributes: Attributes<'_>, words: &str) {
        self.within(name, attributes, |inside| {
            inside.write(Event::Text(BytesText::new(&printable(words))));
        });
    }

    /// An element with a style sheet of the program's own inside
    pub fn style(&mut self, sheet: &str) {
        self.within("style", &[], |inside| inside.write(Event::Text(BytesText::from_escaped(sheet))));
    }

    /// An element with others inside
    pub fn within(&mut self, name: &str, attributes: Attributes<'_>, inside: impl FnOnce(&mut Markup)) {
        self.write(Event::Start(start(name, attributes)));
        inside(self);
        self.write(Event::End(BytesEnd::new(name)));
    }

    /// The end of a line, between two elements
    pub fn line(&mut self) {
        self.write(Event::Text(BytesText::from_escaped("\n")));
    }

    /// All that was written
    pub fn into_text(self) -> String {
        String::from_utf8(self.writer.into_inner()).hold("only text was written")
    }

    fn write(&mut self, event: Event<'_>) {
        self.writer.write_event(event).hold("memory takes what is written to it");
    }
}

/// The start of an element
fn start<'a>(name: &'a str, attributes: Attributes<'_>) -> BytesStart<'a> {
    let mut start = BytesStart::new(name);
    for (name, value) in attributes {
        start.push_attribute((*name, printable(value).as_str()));
    }
    start
}
