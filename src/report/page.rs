//! What is told, block by block: filled to the width of a screen, or taken apart by a form with headings and lists of its own.

/// A text under way, with the width it is filled to
pub struct Page {
    width: usize,
    blocks: Vec<Block>,
}

/// A piece of a text
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading
    Heading(String),
    /// A paragraph
    Item {
        /// What its first line stands after, as on a screen: an indent, and a mark such as `+`, `2.` or `CAUTION:`
        first: String,
        /// What it says
        words: String,
    },
    /// What speaks for or against something
    Step {
        /// What its first line stands after on a screen: an indent and a sign
        first: String,
        /// What it says
        words: String,
        /// It speaks for it
        speaks_for: bool,
        /// What it speaks for or against, as in `Speaks for it`
        of: &'static str,
    },
    /// Cautions that were told just before, to be told again wherever there is room for it
    Again {
        /// Indent on a screen
        indent: String,
        /// The cautions
        cautions: Vec<String>,
    },
    /// A line as it is
    Line(String),
    /// An empty line
    Gap,
}

impl Page {
    /// An empty page `width` columns wide
    pub fn new(width: usize) -> Self {
        Page { width, blocks: Vec::new() }
    }

    /// A heading with an empty line before it
    pub fn heading(&mut self, words: &str) {
        self.blocks.push(Block::Heading(words.to_owned()));
    }

    /// A paragraph: its first line after `first`, the others indented as far
    pub fn item(&mut self, first: &str, words: &str) {
        self.blocks.push(Block::Item { first: first.to_owned(), words: words.to_owned() });
    }

    /// What speaks for something, or against it, behind a sign
    pub fn step(&mut self, indent: &str, speaks_for: bool, of: &'static str, words: &str) {
        let sign = if speaks_for { '+' } else { '-' };
        self.blocks.push(Block::Step {
            first: format!("{indent}{sign} "),
            words: words.to_owned(),
            speaks_for,
            of,
        });
    }

    /// Cautions that were told of the check before
    pub fn again(&mut self, indent: &str, cautions: &[String]) {
        if !cautions.is_empty() {
            self.blocks.push(Block::Again { indent: indent.to_owned(), cautions: cautions.to_vec() });
        }
    }

    /// Lines as they are, each behind an indent; an empty one stays empty
    pub fn lines(&mut self, indent: &str, text: &str) {
        let lines = text.lines().map(|line| Block::Line(format!("{indent}{line}").trim_end().to_owned()));
        self.blocks.extend(lines);
    }

    /// An empty line
    pub fn gap(&mut self) {
        self.blocks.push(Block::Gap);
    }

    /// What has been told so far
    pub fn into_blocks(self) -> Vec<Block> {
        self.blocks
    }

    /// The finished text
    pub fn finish(self) -> String {
        let mut text = String::new();
        for block in &self.blocks {
            match block {
                Block::Heading(words) => {
                    if !text.is_empty() {
                        text.push('\n');
                    }
                    text.push_str(words);
                }
                Block::Item { first, words } | Block::Step { first, words, .. } => {
                    text.push_str(&self.filled(first, words));
                }
                Block::Again { indent, .. } => {
                    let first = format!("{indent}CAUTION: ");
                    text.push_str(&self.filled(&first, "the same as for the check before."));
                }
                Block::Line(line) => text.push_str(line),
                Block::Gap => {}
            }
            text.push('\n');
        }
        text
    }

    fn filled(&self, first: &str, words: &str) -> String {
        let indent = " ".repeat(first.chars().count());
        let options = textwrap::Options::new(self.width)
            .initial_indent(first)
            .subsequent_indent(&indent)
            .break_words(false);
        textwrap::fill(words, options)
    }
}
