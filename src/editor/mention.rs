//! Every place in a set of rules where something is named, with what it names: the one walk for all that asks.

mod walk;

use crate::source::Span;
use crate::syntax::tree::{Attribute, Declaration, File, Sort};
use std::collections::BTreeMap;

/// What a word names
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Thing<'t> {
    /// A block, by its name
    Block(&'t str),
    /// All of a numbered part along a side, by the name of the part: `rollers` names `roller`
    Row(&'t str),
    /// A grade, choice or form
    Word {
        /// Name of the block that has it
        of: &'t str,
        /// The word
        word: &'t str,
    },
    /// A word of the scale
    Share(&'t str),
    /// A size class
    Size(&'t str),
}

/// One place where something is named
#[derive(Clone, Copy, Debug)]
pub struct Mention<'t> {
    /// What is named
    pub thing: Thing<'t>,
    /// Where
    pub at: Span,
    /// This is where it is declared
    pub declares: bool,
    /// The word of the clause it stands in, `where` in a test, `each` or `of` in a head line
    pub role: &'static str,
    /// The block it stands in
    pub within: &'t Declaration,
}

/// Every place where something is named, in the order of files and places
pub fn mentions(files: &[File]) -> Vec<Mention<'_>> {
    let rows = rows(files);
    let mut found = Vec::new();
    for declaration in files.iter().flat_map(|file| &file.declarations) {
        walk::declaration(declaration, &rows, &mut found);
    }
    found.sort_by_key(|mention: &Mention<'_>| (mention.at, mention.thing));
    found
}

/// The numbered parts by the word for several of them
pub fn rows(files: &[File]) -> BTreeMap<String, &str> {
    let declarations = files.iter().flat_map(|file| &file.declarations);
    let numbered = declarations.filter(|declaration| is_numbered(declaration));
    numbered.map(|part| (format!("{}s", part.name.value), part.name.value.as_str())).collect()
}

/// Whether a declaration is a part of which there are several along a side
pub fn is_numbered(declaration: &Declaration) -> bool {
    let numbered = |attribute: &Attribute| matches!(attribute, Attribute::Numbered(_));
    declaration.sort.value == Sort::Part && declaration.attributes.iter().any(|it| numbered(&it.value))
}
