//! Which rules a command for their author works with.

use std::path::{Path, PathBuf};

/// A folder of rules, named in either of two ways
#[derive(Debug, clap::Args)]
pub(super) struct Folder {
    /// Folder with `.rules` files; without it, the rules built into the program
    folder: Option<PathBuf>,
    /// The same, as commands about a case name it
    #[arg(long, value_name = "DIR", conflicts_with = "folder")]
    rules: Option<PathBuf>,
}

impl Folder {
    /// The folder named; none for the rules built in
    pub(super) fn path(&self) -> Option<&Path> {
        self.folder.as_deref().or(self.rules.as_deref())
    }

    /// Whose rules they are, to start a sentence with
    pub(super) fn whose(&self) -> String {
        self.path().map_or_else(
            || "The rules built into the program".to_owned(),
            |path| format!("The rules of `{}`", path.display()),
        )
    }
}
