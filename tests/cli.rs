//! What a person sees: runs of the program with their whole output, the README's own run among them.
//!
//! `TRYCMD=overwrite cargo test --test cli` writes the outputs anew; read them before you keep them, and shorten README's
//! run again with `...`.

#![cfg(test)]

#[test]
fn runs_print_what_they_printed() {
    let runs = trycmd::TestCases::new();
    runs.default_bin_name("pinboss").env("COLUMNS", "100").env("NO_COLOR", "1");
    runs.case("README.md").case("tests/cli/*.md");
}

/// The formatter writes what it can, leaves a file with mistakes as it is, and has nothing to do the second time
#[test]
fn rule_files_are_laid_out_in_place() {
    let folder = tempfile::TempDir::new().unwrap();
    let (loose, faulty) = (folder.path().join("loose.rules"), folder.path().join("faulty.rules"));
    std::fs::write(&loose, "kind a :\"x\"   counts against  owner # why\n").unwrap();
    std::fs::write(&faulty, "kind a :\n").unwrap();
    let run = || {
        let run = std::process::Command::new(env!("CARGO_BIN_EXE_pinboss"))
            .args(["rules", "fmt"])
            .arg(folder.path())
            .output()
            .unwrap();
        (run.status.code(), String::from_utf8(run.stdout).unwrap(), String::from_utf8(run.stderr).unwrap())
    };
    let (code, named, said) = run();
    assert_eq!((code, named), (Some(1), format!("{}\n", loose.display())));
    assert!(said.contains("expected a text in quotes before the end of the line"), "{said}");
    assert_eq!(std::fs::read_to_string(&loose).unwrap(), "kind a: \"x\" counts against owner  # why\n");
    assert_eq!(std::fs::read_to_string(&faulty).unwrap(), "kind a :\n");
    assert_eq!(run().1, "");
}
