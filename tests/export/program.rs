//! The program itself: the same bytes each time, to a file or to standard output, and no half-written file.

use crate::support::rules::{SHIPPED, listed};
use crate::support::shipped::Bench;
use pinboss::network::plain::{MOST_ENTRIES, plain};
use pinboss::report::rules::export::{export as network, xmlbif::xmlbif};
use rstest::rstest;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn case(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("cases").join(name)
}

fn export(case: &Path, further: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_pinboss"))
        .args(["rules", "export"])
        .arg(case)
        .args(further)
        .output()
        .unwrap()
}

#[rstest]
fn the_same_bytes_each_time(#[values("bif", "xmlbif", "json")] to: &str) {
    let case = case("quarry_dozer_two_faults.yaml");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("network");
    fs::write(&path, "what stood there before").unwrap();
    let first = export(&case, &["--to", to]);
    let to_file = export(&case, &["--to", to, "-o", path.to_str().unwrap()]);
    assert_eq!((first.status.code(), to_file.status.code()), (Some(0), Some(0)));
    assert!(first.stdout.len() > 100_000);
    assert!(first.stdout == fs::read(&path).unwrap(), "file and standard output differ");
    assert_eq!(to_file.stdout, b"");
    assert!(first.stdout == export(&case, &["--to", to]).stdout, "two runs differ");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "nothing is left beside the file");
}

/// Here and not by runs of the program, each of which would read the rules anew
#[test]
fn every_demo_case_is_written() {
    let paths = listed("cases", "yaml");
    assert!(paths.len() >= 6);
    for path in paths {
        let ground = Bench::of(&fs::read_to_string(path).unwrap()).ground;
        let plain = plain(&ground.network, MOST_ENTRIES).unwrap();
        let text = xmlbif(&network(&SHIPPED.model, &ground, &plain, ("case", "machine"), ("", "")));
        let document = roxmltree::Document::parse(&text).unwrap();
        let tables: Vec<_> = document.descendants().filter(|node| node.has_tag_name("TABLE")).collect();
        assert!(!tables.is_empty());
        for row in tables.iter().flat_map(|table| table.text().unwrap().lines()) {
            let sum: f64 = row.split(' ').map(|entry| entry.parse::<f64>().unwrap()).sum();
            assert!((sum - 1.0).abs() < 1e-12, "{row}");
        }
    }
}

#[test]
fn a_folder_that_is_not_there_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("nowhere/network.xml");
    let done = export(&case("healthy_dozer.yaml"), &["--to", "xmlbif", "-o", path.to_str().unwrap()]);
    assert_eq!(done.status.code(), Some(1));
    let said = String::from_utf8(done.stderr).unwrap();
    assert!(said.contains("nowhere/network.xml` cannot be written"), "{said}");
}

#[test]
fn a_faulty_case_writes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let (faulty, path) = (folder.path().join("faulty.yaml"), folder.path().join("network.json"));
    fs::write(&faulty, "case: {").unwrap();
    let done = export(&faulty, &["--to", "json", "-o", path.to_str().unwrap()]);
    assert_eq!((done.status.code(), done.stdout.as_slice()), (Some(1), b"".as_slice()));
    assert!(!done.stderr.is_empty());
    assert!(!path.exists());
}

#[test]
fn the_form_must_be_named() {
    assert_eq!(export(&case("healthy_dozer.yaml"), &[]).status.code(), Some(2));
}

/// A file is as open as the person's other files, and a link stays a link
#[cfg(unix)]
#[test]
fn a_link_stays_a_link() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = tempfile::tempdir().unwrap();
    let (file, link) = (folder.path().join("file.json"), folder.path().join("link.json"));
    fs::write(&file, "").unwrap();
    let usual = fs::metadata(&file).unwrap().permissions().mode();
    symlink(&file, &link).unwrap();
    let done = export(&case("healthy_dozer.yaml"), &["--to", "json", "-o", link.to_str().unwrap()]);
    assert_eq!(done.status.code(), Some(0));
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(fs::metadata(&file).unwrap().permissions().mode(), usual);
    assert!(fs::metadata(&file).unwrap().len() > 0);
}
