//! What the author of rules is told while he writes: problems, meanings, uses, and what could stand where he types.

pub mod complete;
pub mod hover;
pub mod keyword;
pub mod mention;
pub mod outline;
pub mod rename;
pub mod uses;
mod words;

use crate::model::Model;
use crate::problem::Problems;
use crate::source::{SourceId, Sources};
use crate::syntax::language::has_rows;
use crate::syntax::tree::{Declaration, File, Sort};

/// One set of rule files as far as it can be read
#[derive(Debug, Default)]
pub struct Rules {
    /// The texts
    pub sources: Sources,
    /// What could be read of them
    pub files: Vec<File>,
    /// What they mean; none while they hold an error
    pub model: Option<Model>,
    /// Everything wrong or doubtful
    pub problems: Problems,
}

/// A place in one file: the byte before which the cursor stands
#[derive(Clone, Copy, Debug)]
pub struct Cursor {
    /// The file
    pub source: SourceId,
    /// Bytes before the cursor
    pub at: usize,
}

impl Rules {
    /// Every declaration, in the order of files and places
    pub fn declarations(&self) -> impl Iterator<Item = &Declaration> {
        self.files.iter().flat_map(|file| &file.declarations)
    }

    /// The block of a name, as it is declared first; the scale and the size classes are no blocks
    pub fn block(&self, name: &str) -> Option<&Declaration> {
        self.declarations().find(|it| is_block(it.sort.value) && it.name.value == name)
    }
}

/// Whether the name of a declaration is one that no other may have
pub fn is_block(sort: Sort) -> bool {
    !has_rows(sort)
}
