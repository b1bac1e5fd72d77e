//! Runs of the program on cases written into folders of their own.

use crate::support::program::answer;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// A case of an invented machine with two signs and a reading
pub const CASE: &str = "cases/quarry_dozer_two_faults.yaml";

/// A folder with a case in it
pub struct Desk {
    folder: TempDir,
}

impl Desk {
    /// A folder with this case
    pub fn with(case: &str) -> Self {
        let desk = Desk { folder: TempDir::new().unwrap() };
        desk.put("case.yaml", case.as_bytes());
        desk
    }

    /// Writes a file into it
    pub fn put(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.folder.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, bytes).unwrap();
        path
    }

    /// The path of a file in it
    pub fn path(&self, name: &str) -> String {
        self.folder.path().join(name).to_str().unwrap().to_owned()
    }

    /// The report of its case
    pub fn report(&self) -> String {
        answer(&["report", &self.path("case.yaml"), "--draws", "0"])
    }
}

/// A file of the project as text
pub fn shipped(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).unwrap()
}

/// Every picture drawn in a page
pub fn drawings<'p>(page: &'p str, class: &str) -> Vec<&'p str> {
    let start = format!("<svg class=\"{class}\"");
    let parts = page.split(start.as_str()).skip(1);
    parts
        .map(|rest| rest.split("</svg>\n</svg>").next().unwrap().split("</figure>").next().unwrap())
        .collect()
}
