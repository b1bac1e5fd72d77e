//! A run taken up again: results that are there are held against the input, and what is torn at their end is left out.
//!
//! The last case that is there is weighed once more: what differs was written by another version.

use super::super::shell::{self, Run};
use super::Count;
use super::input::Item;
use super::weigh::{self, Weigher};
use crate::report::record::batch::Asked;
use serde::Deserialize;
use serde::de::IgnoredAny;
use std::fs::{File, OpenOptions};
use std::io::{self, BufRead, BufReader, Read};
use std::iter::Peekable;
use std::path::Path;

/// Longest result taken for one: of more, a file is no output of ours
const LONGEST: u64 = 64 << 20;

/// What a file holds whole
pub(super) struct Kept {
    /// Up to here
    pub(super) bytes: u64,
    /// So many results
    pub(super) count: Count,
}

/// What of a result tells whether it belongs to this run
#[derive(Deserialize)]
struct ResultLine {
    line: u64,
    file: Option<String>,
    rules_digest: String,
    case_digest: String,
    asked: Asked,
    causes: Option<IgnoredAny>,
}

/// The file with the results, begun when it is not there
///
/// # Errors
/// When it cannot be read and written.
pub(super) fn open(path: &Path) -> io::Result<File> {
    OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path)
}

/// What a file holds of this very run; the items of its results are taken from the input
///
/// # Errors
/// When the file or the input cannot be read, or the file belongs to no run like this one, which has been told then.
pub(super) fn kept(
    file: &File,
    path: &Path,
    items: &mut Peekable<impl Iterator<Item = io::Result<Item>>>,
    weigher: &Weigher,
) -> Run<Kept> {
    let refused = |why: String| {
        let named = path.display();
        Err(shell::refuse(format!("`{named}` cannot be taken up again: {why}; name another file")))
    };
    let mut reader = BufReader::new(file);
    let mut kept = Kept { bytes: 0, count: Count::default() };
    let mut last: Option<(Item, Vec<u8>)> = None;
    loop {
        let mut line = Vec::new();
        (&mut reader).take(LONGEST).read_until(b'\n', &mut line)?;
        let whole = line.last() == Some(&b'\n');
        if line.is_empty() || (!whole && items.peek().is_some() && (line.len() as u64) < LONGEST) {
            break;
        }
        let number = kept.count.cases + 1;
        let Some(result) = whole.then(|| serde_json::from_slice::<ResultLine>(&line).ok()).flatten() else {
            return refused(format!("its line {number} is no result of this command"));
        };
        let Some(item) = items.next().transpose()? else {
            return refused(format!("it has more results than the {} cases of the input", number - 1));
        };
        if let Some(why) = stranger(&result, &item, weigher) {
            return refused(format!("its line {number} {why}"));
        }
        kept.bytes += line.len() as u64;
        kept.count.cases = number;
        kept.count.faulty += u64::from(result.causes.is_none());
        last = Some((item, line));
    }
    if let Some((item, line)) = last
        && weigher.weigh(&item)?.line.as_bytes() != line
    {
        return refused(
            "the last case in it now comes out otherwise, so another version of the program wrote it"
                .to_owned(),
        );
    }
    Ok(kept)
}

/// Why a result is not of this case, these rules and this call; none when it is
fn stranger(result: &ResultLine, item: &Item, weigher: &Weigher) -> Option<&'static str> {
    if result.rules_digest != weigher.rules_digest {
        Some("comes from other rules")
    } else if result.asked != weigher.asked {
        Some("comes from a run with other options")
    } else if (result.line, result.file.as_ref()) != (item.number, item.file().as_ref())
        || result.case_digest != weigh::digest(item)
    {
        Some("is of another case than the input has there")
    } else {
        None
    }
}
