//! Digests, by SHA-256: of a case by its bytes alone, of rules by the names of their files and their texts.

use crate::batch::bench::{Bench, RULES, run};
use rstest::rstest;
use std::fs;

/// The digest that the only answer of a run tells of its case, or of its rules
fn told(bench: &Bench, key: &str, input: &[u8], arguments: &[&str]) -> String {
    let lines = bench.batch(input, arguments).lines();
    assert_eq!(lines.len(), 1);
    lines[0][key].as_str().unwrap().to_owned()
}

/// The examples of FIPS 180-4 for one block, as a line, and for none, as a file
#[rstest]
#[case("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad")]
#[case("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855")]
fn bytes_have_the_published_digest(#[case] text: &str, #[case] digest: &str) {
    let bench = Bench::new();
    let file = bench.write("case.yaml", text);
    let digest = format!("sha256:{digest}");
    assert_eq!(told(&bench, "case_digest", b"", &[file.to_str().unwrap()]), digest);
    if !text.is_empty() {
        assert_eq!(told(&bench, "case_digest", text.as_bytes(), &[]), digest);
    }
}

/// The mark in front is one of the bytes, wherever the file lies
#[test]
fn a_file_has_the_digest_of_its_bytes_whatever_it_is_called() {
    let bench = Bench::new();
    let marked = "\u{feff}case: a";
    fs::create_dir(bench.path("folder")).unwrap();
    let digests = ["a.yaml", "folder/b.yaml"].map(|name| {
        let file = bench.write(name, marked);
        told(&bench, "case_digest", b"", &[file.to_str().unwrap()])
    });
    assert_eq!(digests[0], digests[1]);
    assert_eq!(digests[0], told(&bench, "case_digest", marked.as_bytes(), &[]));
}

#[test]
fn a_set_has_another_digest_when_a_file_of_it_is_called_otherwise() {
    let bench = Bench::new();
    let [first, elsewhere, other] = ["one/a.rules", "elsewhere/a.rules", "two/b.rules"].map(|name| {
        let file = bench.path(name);
        let folder = file.parent().unwrap();
        fs::create_dir(folder).unwrap();
        fs::write(&file, RULES).unwrap();
        let ran = run("{}", &["batch", "--rules", folder.to_str().unwrap()]);
        ran.lines()[0]["rules_digest"].as_str().unwrap().to_owned()
    });
    assert_eq!(first, elsewhere);
    assert_ne!(first, other);
}
