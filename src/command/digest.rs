//! Digests, by SHA-256 (FIPS 180-4): of a file's bytes, as any program that reckons them gives it, and of a set of rules.
//!
//! A file that was copied or given another name is the same file; the digest of a set of rules is over the names of its files,
//! without folders, and their texts.

use crate::command::files;
use crate::source::{SourceId, Sources};
use sha2::{Digest, Sha256};
use std::path::Path;

/// Digest of bytes alone: what a file is called and where it lies changes nothing
pub(super) fn of_bytes(bytes: &[u8]) -> String {
    text(Sha256::new_with_prefix(bytes))
}

/// Digest of one file as it was read
pub(super) fn of_file(sources: &Sources, id: SourceId) -> String {
    of_bytes(&sources.bytes(id))
}

/// Digest over names (without their folders) and texts, so that the same rules give the same digest anywhere
pub(super) fn of_set(sources: &Sources, ids: &[SourceId]) -> String {
    let mut hash = Sha256::new();
    for &id in ids {
        let name = files::bare(Path::new(sources.name(id)));
        hash.update(name.as_encoded_bytes());
        hash.update([0]);
        hash.update(sources.text(id).as_bytes());
        hash.update([0]);
    }
    text(hash)
}

fn text(hash: Sha256) -> String {
    let hex: String = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    format!("sha256:{hex}")
}
