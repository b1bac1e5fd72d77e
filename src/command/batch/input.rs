//! Where the cases come from: lines of a file or of standard input, or the case files of a folder.

use crate::command::files::{self, Sort};
use crate::problem::Problems;
use crate::source::{LARGEST_FILE, Sources};
use std::fs::File;
use std::io::{self, BufRead, BufReader, Read};
use std::path::{Path, PathBuf};

/// One case, not yet looked at
#[derive(Clone, Debug)]
pub(super) struct Item {
    /// Number of its line, or of its file in the folder, from 1
    pub(super) number: u64,
    pub(super) case: Case,
}

/// What a case is had from
#[derive(Clone, Debug)]
pub(super) enum Case {
    /// A line without its end; of one too large its beginning
    Line(Vec<u8>),
    /// A file of its own
    File(PathBuf),
}

impl Item {
    /// Memory that it holds
    pub(super) fn bytes(&self) -> usize {
        match &self.case {
            Case::Line(bytes) => bytes.len(),
            Case::File(_) => 0,
        }
    }

    /// Its file, where it has one of its own
    pub(super) fn file(&self) -> Option<String> {
        match &self.case {
            Case::Line(_) => None,
            Case::File(path) => Some(path.display().to_string()),
        }
    }
}

/// Cases one after the other
pub(super) type Items = Box<dyn Iterator<Item = io::Result<Item>>>;

/// The cases of a file, of a folder, or without a path of standard input; none, and a problem noted, when there are none
pub(super) fn open(path: Option<&Path>, sources: &mut Sources, problems: &mut Problems) -> Option<Items> {
    let Some(path) = path else {
        return Some(Box::new(Lines::new(BufReader::new(io::stdin()))));
    };
    if path.is_dir() || Sort::Cases.fits(path) {
        let paths = files::listed(path, Sort::Cases, sources, problems);
        let items = (1..).zip(paths).map(|(number, path)| Ok(Item { number, case: Case::File(path) }));
        return Some(Box::new(items));
    }
    match File::open(path) {
        Ok(file) => Some(Box::new(Lines::new(BufReader::new(file)))),
        Err(fault) => {
            files::unreadable(path, &fault, sources, problems);
            None
        }
    }
}

/// The lines of a text that say something, none of them held longer than a case can be
struct Lines<R> {
    from: R,
    number: u64,
}

impl<R: BufRead> Lines<R> {
    fn new(from: R) -> Self {
        Lines { from, number: 0 }
    }

    /// The next line without its end, and of one too large enough to see that it is; none at the end of the text
    fn line(&mut self) -> io::Result<Option<Vec<u8>>> {
        let mut line = Vec::new();
        let most = LARGEST_FILE as u64 + 1;
        if (&mut self.from).take(most).read_until(b'\n', &mut line)? == 0 {
            return Ok(None);
        }
        if line.last() == Some(&b'\n') {
            line.pop();
            if line.last() == Some(&b'\r') {
                line.pop();
            }
        } else {
            self.from.skip_until(b'\n')?;
        }
        Ok(Some(line))
    }
}

impl<R: BufRead> Iterator for Lines<R> {
    type Item = io::Result<Item>;

    fn next(&mut self) -> Option<io::Result<Item>> {
        loop {
            let line = match self.line() {
                Ok(line) => line?,
                Err(fault) => return Some(Err(fault)),
            };
            self.number += 1;
            if !line.trim_ascii().is_empty() {
                return Some(Ok(Item { number: self.number, case: Case::Line(line) }));
            }
        }
    }
}
