//! `pinboss rules unpack`: the rules the program carries, as files.

use crate::command::files;
use crate::command::rulebook;
use crate::command::save::unwritable;
use crate::command::shell::{self, Exit, Run};
use crate::report::words::several;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use tempfile::Builder;

/// Write the rules built into the program into a new folder, to start your own from
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Folder to make; one that is there must be empty
    #[arg(value_name = "DIR")]
    folder: PathBuf,
}

pub(super) fn run(args: &Args) -> Run {
    let folder = &args.folder;
    if holds_something(folder) {
        let why = format!("`{}` is there already and no empty folder: name a new one", folder.display());
        return Err(shell::refuse(&why));
    }
    let rules = rulebook::built_in();
    unpack(folder, rules).map_err(|fault| unwritable(folder, &fault))?;
    let name = folder.display();
    shell::answer(&format!(
        "{} written to `{name}`. `pinboss rules check {name}` tells what is wrong with them once you have changed them, and \
         `pinboss diagnose CASE --rules {name}` weighs a case by them.\n",
        several(rules.len(), "file of rules", "files of rules")
    ))?;
    Ok(Exit::Done)
}

/// Whether anything would be lost or mixed with the rules
fn holds_something(folder: &Path) -> bool {
    match fs::read_dir(folder) {
        Ok(mut entries) => entries.next().is_some(),
        Err(fault) => fault.kind() != io::ErrorKind::NotFound,
    }
}

/// Makes the folder beside its place, and moves it there when it is whole
fn unpack(folder: &Path, rules: rulebook::BuiltIn) -> io::Result<()> {
    let mut builder = Builder::new();
    // A temporary folder is its owner's alone; this one is to be as open as any other that the person makes.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o777));
    let whole = builder.tempdir_in(files::home(folder))?;
    for (name, text) in rules {
        fs::write(whole.path().join(files::bare(Path::new(name))), text)?;
    }
    if folder.exists() {
        fs::remove_dir(folder)?;
    }
    fs::rename(whole.path(), folder)
}
