//! Files and folders read from the disk: what cannot be read is told as a problem, and nothing stops at it.

use crate::invariant::Hold;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{LARGEST_FILE, SourceId, Sources, Unreadable};
use std::ffi::OsStr;
use std::fs;
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

/// What a folder is looked through for
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(super) enum Sort {
    /// Rule files
    Rules,
    /// Case files
    Cases,
}

impl Sort {
    /// Endings of their names, the usual one first
    fn endings(self) -> &'static [&'static str] {
        match self {
            Sort::Rules => &["rules"],
            Sort::Cases => &["yaml", "yml"],
        }
    }

    /// Whether the name of a file says that it is one of them
    pub(super) fn fits(self, path: &Path) -> bool {
        self.endings().iter().any(|ending| path.extension().is_some_and(|own| own == *ending))
    }

    /// What is said of a folder that holds none of them
    fn none(self) -> (Code, &'static str) {
        match self {
            Sort::Rules => (Code::NoRules, "rule files"),
            Sort::Cases => (Code::FileUnreadable, "case files"),
        }
    }
}

/// A file as it is; of a folder its files of a sort, by name
pub(super) fn listed(
    path: &Path,
    sort: Sort,
    sources: &mut Sources,
    problems: &mut Problems,
) -> Vec<PathBuf> {
    if path.is_dir() { folder(path, sort, sources, problems) } else { vec![path.to_owned()] }
}

/// The files of a sort in a folder, by name; says so when there are none, or when it cannot be read
pub(super) fn folder(
    path: &Path,
    sort: Sort,
    sources: &mut Sources,
    problems: &mut Problems,
) -> Vec<PathBuf> {
    let name = path.display();
    let ((none, files), ending) =
        (sort.none(), sort.endings().first().copied().hold("each sort has an ending"));
    let (code, message) = match in_folder(path, sort) {
        Ok(paths) if paths.is_empty() => (none, format!("the folder `{name}` holds no {files}")),
        Ok(paths) => return paths,
        Err(fault) => {
            (Code::FileUnreadable, format!("the folder `{name}` cannot be read: {}", plainly(&fault)))
        }
    };
    let at = sources.add(name.to_string(), "");
    problems.push(
        Problem::new(code, sources.whole(at), message)
            .help(format!("give a folder that holds files ending in `.{ending}`")),
    );
    Vec::new()
}

/// Paths of the files of a sort in a folder, in order
pub(super) fn in_folder(folder: &Path, sort: Sort) -> io::Result<Vec<PathBuf>> {
    let entries = fs::read_dir(folder)?.filter_map(|entry| entry.ok().map(|entry| entry.path()));
    let mut paths: Vec<PathBuf> = entries.filter(|path| sort.fits(path)).collect();
    paths.sort();
    Ok(paths)
}

/// Reads one file; what cannot be read stands as an empty text with its problem
pub(super) fn read(path: &Path, sources: &mut Sources, problems: &mut Problems) -> SourceId {
    let name = path.display().to_string();
    let bytes = match bytes(path) {
        Ok(bytes) => bytes,
        Err(fault) => return unreadable(path, &fault, sources, problems),
    };
    take(&name, &format!("the file `{name}`"), bytes, sources, problems)
}

/// A file that cannot be read, as an empty text with its problem
pub(super) fn unreadable(
    path: &Path,
    fault: &io::Error,
    sources: &mut Sources,
    problems: &mut Problems,
) -> SourceId {
    let name = path.display().to_string();
    let at = sources.add(&name, "");
    let message = format!("the file `{name}` cannot be read: {}", plainly(fault));
    problems.push(
        Problem::new(Code::FileUnreadable, sources.whole(at), message)
            .help("check the path and that you may read it"),
    );
    at
}

/// Takes in what a file, or a line of one, holds; what is no text stands as an empty one with its problem, which calls
/// it `what`
pub(super) fn take(
    name: &str,
    what: &str,
    bytes: Vec<u8>,
    sources: &mut Sources,
    problems: &mut Problems,
) -> SourceId {
    match sources.add_bytes(name, bytes) {
        Ok(id) => id,
        Err((id, Unreadable::TooLarge { .. })) => {
            let message = format!("{what} is larger than {} KiB", LARGEST_FILE / 1024);
            problems.push(
                Problem::new(Code::FileTooLarge, sources.whole(id), message)
                    .help("split it; a file is meant to be written and read by hand"),
            );
            id
        }
        Err((id, Unreadable::NotText { byte })) => {
            let message = format!("{what} is no UTF-8 text: byte {} is none", byte + 1);
            problems.push(
                Problem::new(Code::FileNotText, sources.whole(id), message).help("save it as UTF-8 text"),
            );
            id
        }
    }
}

/// The whole text of a file that is no source, such as a report; what is no UTF-8 in it becomes the replacement character
///
/// # Errors
/// Why it cannot be read.
#[cfg(feature = "page")]
pub(super) fn whole(path: &Path) -> Result<String, &'static str> {
    let bytes = fs::read(path).map_err(|fault| plainly(&fault))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// The bytes of a file, or of one too large the first of them: enough to see that it is
fn bytes(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    fs::File::open(path)?.take(LARGEST_FILE as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// What went wrong, in words that do not change from system to system
pub(super) fn plainly(fault: &io::Error) -> &'static str {
    match fault.kind() {
        ErrorKind::NotFound => "it is not there",
        ErrorKind::PermissionDenied => "reading it is not allowed",
        ErrorKind::NotADirectory => "it is no folder",
        ErrorKind::IsADirectory => "it is a folder",
        _ => "the system refused",
    }
}

/// The name of a file without its folders
pub(super) fn bare(path: &Path) -> &OsStr {
    path.file_name().unwrap_or_default() // else: it ends in `..` and so names no file
}

/// The folder that a file lies in
pub(super) fn home(path: &Path) -> &Path {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    folder.unwrap_or(Path::new(".")) // else: the one that the program runs in
}
