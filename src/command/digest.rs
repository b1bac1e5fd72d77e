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
    told(Sha256::new_with_prefix(bytes))
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
    told(hash)
}

fn told(hash: Sha256) -> String {
    let hex: String = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    format!("sha256:{hex}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    /// The examples of FIPS 180-4 for one block and for none
    #[rstest]
    #[case("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad")]
    #[case("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855")]
    fn bytes_have_the_published_digest(#[case] text: &str, #[case] digest: &str) {
        assert_eq!(of_bytes(text.as_bytes()), format!("sha256:{digest}"));
    }

    #[test]
    fn a_file_has_the_digest_of_its_bytes_whatever_it_is_called() {
        let mut sources = Sources::default();
        for name in ["a.yaml", "folder/b.yaml"] {
            let marked = sources.add(name, "\u{feff}case: a\n");
            assert_eq!(of_file(&sources, marked), of_bytes("\u{feff}case: a\n".as_bytes()));
        }
    }

    #[test]
    fn a_set_has_another_digest_when_a_file_of_it_is_called_otherwise() {
        let mut sources = Sources::default();
        let ids = ["a.rules", "elsewhere/a.rules", "b.rules"].map(|name| sources.add(name, "x"));
        let [first, elsewhere, other] = ids.map(|id| of_set(&sources, &[id]));
        assert_eq!(first, elsewhere);
        assert_ne!(first, other);
    }
}
