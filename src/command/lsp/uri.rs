//! Addresses of files as an editor writes them, and paths.

use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, percent_decode_str, utf8_percent_encode};
use std::path::{Path, PathBuf};

/// What is written as `%` and two digits in a path: all but letters, digits, the slash and the unreserved signs of
/// RFC 3986, section 2.3
const ESCAPED: &AsciiSet = &NON_ALPHANUMERIC.remove(b'/').remove(b'-').remove(b'.').remove(b'_').remove(b'~');

/// The path of a file on this machine; none for anything else, such as a text that was never saved
pub(super) fn path(uri: &str) -> Option<PathBuf> {
    let rest = uri.strip_prefix("file://")?;
    let start = rest.find('/')?;
    let (host, path) = rest.split_at_checked(start)?;
    if !["", "localhost"].contains(&host) {
        return None;
    }
    let path = percent_decode_str(path).decode_utf8().ok()?.into_owned();
    // `/c:/rules` names a drive.
    let drive = path.get(2..3) == Some(":") && path.starts_with('/') && cfg!(windows);
    Some(PathBuf::from(if drive { path.get(1..)? } else { &path }))
}

/// The address of a file
pub(super) fn of_path(path: &Path) -> String {
    let text = path.display().to_string();
    let text = if cfg!(windows) { text.replace('\\', "/") } else { text };
    let slash = if text.starts_with('/') { "" } else { "/" };
    format!("file://{slash}{}", utf8_percent_encode(&text, ESCAPED))
}
