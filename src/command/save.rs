//! Files written whole or not at all.

use super::files::{self, Sort};
use super::shell::{self, Exit, Run};
use std::fs::{self, Permissions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use tempfile::Builder;

/// Where an answer goes
#[derive(Debug, clap::Args)]
pub(super) struct Output {
    /// File to write; without it, to standard output
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
}

impl Output {
    /// The file to write, where one is named
    pub(super) fn file(&self) -> Option<&Path> {
        self.output.as_deref()
    }

    /// Refuses to write over what an answer is made from, before it is made
    ///
    /// # Errors
    /// When the file to write is one of these.
    pub(super) fn keeps<'p>(&self, made_from: impl IntoIterator<Item = &'p Path>) -> Run<()> {
        let Some(file) = self.file() else { return Ok(()) };
        let lost = made_from.into_iter().find_map(|input| would_be_lost(file, Some(input)));
        lost.map_or(Ok(()), |why| Err(shell::refuse(&why)))
    }

    /// Gives an answer, unless it would take the place of rules or of the case it was made from
    ///
    /// # Errors
    /// When the file or standard output cannot be written.
    pub(super) fn give(&self, text: &str, case: Option<&Path>) -> Run {
        let Some(path) = &self.output else {
            shell::answer(text)?;
            return Ok(Exit::Done);
        };
        if let Some(why) = would_be_lost(path, case) {
            return Err(shell::refuse(&why));
        }
        save(path, text)?;
        Ok(Exit::Done)
    }
}

/// Why nothing may be written to a file: it holds rules, or is a file that the answer is made from
pub(super) fn would_be_lost(path: &Path, case: Option<&Path>) -> Option<String> {
    let is_it = |other: &Path| {
        fs::canonicalize(path).is_ok_and(|own| fs::canonicalize(other).is_ok_and(|it| it == own))
    };
    (Sort::Rules.fits(path) || case.is_some_and(is_it)).then(|| {
        format!(
            "`{}` holds rules, or what the answer is made from, and would be lost: name another file",
            path.display()
        )
    })
}

/// Writes a file beside its place and moves it there when it is whole; a pipe or device is written straight away
///
/// # Errors
/// When the folder or the file cannot be written, or is write-protected, with its path; whatever stood there before
/// still stands then.
pub(super) fn save(path: &Path, text: &str) -> io::Result<()> {
    let done = match fs::metadata(path) {
        Ok(there) if !there.is_file() && !there.is_dir() => fs::write(path, text),
        Ok(there) if there.permissions().readonly() => {
            Err(io::Error::new(ErrorKind::PermissionDenied, "it is write-protected"))
        }
        // A link keeps pointing where it did, and what it points at is replaced.
        Ok(there) => fs::canonicalize(path).and_then(|path| replace(&path, text, Some(there.permissions()))),
        Err(_) => replace(path, text, None),
    };
    done.map_err(|fault| unwritable(path, &fault))
}

/// What is said of a file that cannot be written
pub(super) fn unwritable(path: &Path, fault: &io::Error) -> io::Error {
    io::Error::new(fault.kind(), format!("`{}` cannot be written: {fault}", path.display()))
}

/// Puts a text in the place of a file, as open to others as the file before
fn replace(path: &Path, text: &str, permissions: Option<Permissions>) -> io::Result<()> {
    let folder = files::home(path);
    if !folder.exists() {
        let why = format!("there is no folder `{}`", folder.display());
        return Err(io::Error::new(ErrorKind::NotFound, why));
    }
    let mut builder = Builder::new();
    // A temporary file is its owner's alone; this one is to be as open as any other file the person makes.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut file = builder.tempfile_in(folder)?;
    if let Some(permissions) = permissions {
        file.as_file().set_permissions(permissions)?;
    }
    file.write_all(text.as_bytes())?;
    file.as_file().sync_all()?;
    file.persist(path)?;
    Ok(())
}
