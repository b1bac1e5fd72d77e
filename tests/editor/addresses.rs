//! Addresses of files as editors write them: which name a file on this machine, and what it is called in answers.

use crate::editor::marked::{PARTS, SIGNS};
use crate::editor::talk::begun;
use pinboss::command::Exit;
use rstest::rstest;
use serde_json::json;
use std::fs;
use tempfile::TempDir;

/// A folder with the sound rules whose name takes escapes, and its path as it stands in an address
fn folder() -> (TempDir, String) {
    let folder = TempDir::new().unwrap();
    let inner = folder.path().join("Wärme und#");
    fs::create_dir(&inner).unwrap();
    fs::write(inner.join("parts.rules"), PARTS).unwrap();
    let path = format!("{}/W%C3%A4rme%20und%23", folder.path().display());
    (folder, path)
}

/// A text that names what stands in the file beside it is read with that file where its address is that of a file here
#[cfg(not(windows))]
#[rstest]
#[case("file://{}/signs.rules", true)]
#[case("file://localhost{}/signs.rules", true)]
#[case("file://elsewhere{}/signs.rules", false)]
#[case("untitled:Untitled-1", false)]
#[case("file://{}/%ff/../signs.rules", false)]
#[case("file:", false)]
fn addresses_and_paths(#[case] address: &str, #[case] is_here: bool) {
    let (_folder, path) = folder();
    let mut talk = begun(&json!({}), None);
    let uri = address.replace("{}", &path);
    talk.open(&uri, SIGNS);
    let told = talk.problems(&uri, Some(1));
    assert_eq!(told.iter().all(|it| it["code"] != "unknown-name"), is_here, "{told:?}");
    if is_here {
        // The file beside it was not opened, so that its address is the program's own.
        let beside = talk.problems(&format!("file://{path}/parts.rules"), None);
        assert!(beside.iter().all(|it| it["code"] == "cause-nothing-fixes"), "{beside:?}");
    }
    assert_eq!(talk.exit(), Exit::FaultyInput);
}
