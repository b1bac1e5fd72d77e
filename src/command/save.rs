//! Files written whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::Path;
use tempfile::Builder;

/// Writes a file beside its place and moves it there when it is whole; a pipe or device is written straight away
///
/// # Errors
/// When the folder or the file cannot be written, with its path; whatever stood there before still stands then.
pub(super) fn save(path: &Path, text: &str) -> io::Result<()> {
    let done = match fs::metadata(path) {
        Ok(there) if !there.is_file() && !there.is_dir() => fs::write(path, text),
        // A link keeps pointing where it did, and what it points at is replaced.
        Ok(_) => fs::canonicalize(path).and_then(|path| replace(&path, text)),
        Err(_) => replace(path, text),
    };
    done.map_err(|fault| {
        io::Error::new(fault.kind(), format!("`{}` cannot be written: {fault}", path.display()))
    })
}

fn replace(path: &Path, text: &str) -> io::Result<()> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut builder = Builder::new();
    // A temporary file is its owner's alone; this one is to be as open as any other file the person makes.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(text.as_bytes())?;
    file.as_file().sync_all()?;
    file.persist(path)?;
    Ok(())
}
