//! Lines of text filled to the width of the screen.

/// A text under way, with the width it is filled to
pub struct Page {
    width: usize,
    text: String,
}

impl Page {
    /// An empty page `width` columns wide
    pub fn new(width: usize) -> Self {
        Page { width, text: String::new() }
    }

    /// A heading with an empty line before it
    pub fn heading(&mut self, words: &str) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        self.text.push_str(words);
        self.text.push('\n');
    }

    /// A paragraph: its first line after `first`, the others indented as far
    pub fn item(&mut self, first: &str, words: &str) {
        let indent = " ".repeat(first.chars().count());
        let options = textwrap::Options::new(self.width)
            .initial_indent(first)
            .subsequent_indent(&indent)
            .break_words(false);
        self.text.push_str(&textwrap::fill(words, options));
        self.text.push('\n');
    }

    /// Lines as they are, each behind an indent; an empty one stays empty
    pub fn lines(&mut self, indent: &str, text: &str) {
        for line in text.lines() {
            self.text.push_str(format!("{indent}{line}").trim_end());
            self.text.push('\n');
        }
    }

    /// An empty line
    pub fn gap(&mut self) {
        self.text.push('\n');
    }

    /// The finished text
    pub fn finish(self) -> String {
        self.text
    }
}
