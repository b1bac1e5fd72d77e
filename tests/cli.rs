//! What a person sees: runs of the program with their whole output, the README's own run among them.
//!
//! `TRYCMD=overwrite cargo test cli::` writes the outputs anew; read them before you keep them, and shorten README's
//! run again with `...`.

use crate::support::program::{answer, refused};
use rstest::rstest;

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

/// The rules built in come out to the byte into a new folder, hold together there, and never go where something is
#[test]
fn the_rules_built_in_are_written_out() {
    let parent = tempfile::TempDir::new().unwrap();
    let folder = parent.path().join("own");
    let name = folder.to_str().unwrap();
    assert!(answer(&["rules", "unpack", name]).contains("files of rules written"));
    let files = |folder: &str| {
        let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        let rules = entries.filter(|path| path.extension().is_some_and(|end| end == "rules"));
        let read =
            rules.map(|path| (path.file_name().unwrap().to_owned(), std::fs::read_to_string(path).unwrap()));
        read.collect::<std::collections::BTreeMap<_, _>>()
    };
    let shipped = files(concat!(env!("CARGO_MANIFEST_DIR"), "/rules"));
    assert_eq!(files(name), shipped);
    answer(&["rules", "check", name]);
    std::fs::write(folder.join("own.rules"), "# mine\n").unwrap();
    let (code, said) = refused(&["rules", "unpack", name]);
    assert_eq!(code, Some(2));
    assert!(said.contains("is there already and no empty folder"), "{said}");
    assert_eq!(files(name).len(), shipped.len() + 1);
    assert_eq!(std::fs::read_dir(parent.path()).unwrap().count(), 1, "something else was left there");
}

/// From before anything was seen to the figure above: each step begins where the one before it ended, and a last line tells what
/// the rest does
#[rstest]
#[case("diagnose cases/bench_dozer_blamed_slope.yaml", 2)]
#[case("diagnose cases/borrow_dozer_chain_reversed.yaml", 4)]
#[case("diagnose cases/quarry_dozer_two_faults.yaml", 4)]
#[case("why cases/quarry_dozer_two_faults.yaml idler_out_of_line left", 1)]
fn the_steps_told_lead_to_the_probability(#[case] arguments: &str, #[case] causes: usize) {
    let run = std::process::Command::new(env!("CARGO_BIN_EXE_pinboss"))
        .args(arguments.split(' '))
        .output()
        .unwrap();
    let told = String::from_utf8(run.stdout).unwrap();
    let lines: Vec<&str> = told.lines().map(str::trim).collect();
    let mut found = 0;
    for (number, line) in lines.iter().enumerate() {
        let Some((_, before)) = line.split_once("Before anything was seen: ") else { continue };
        let (_, headline) = lines[number - 1].rsplit_once(", ").unwrap();
        let after = ["The first sign", "CAUTION", "To do"];
        let is_step = |line: &&&str| !line.is_empty() && !after.iter().any(|word| line.starts_with(word));
        let steps: Vec<&str> = lines[number + 1..].iter().take_while(is_step).copied().collect();
        let steps = format!(" {}", steps.join(" ")).replace(" - ", " + ");
        let mut reached = before.trim_end_matches('.');
        for step in steps.split(" + ").skip(1) {
            let (from, to) = ends(step);
            assert_eq!(from, reached, "{step}");
            reached = to;
        }
        assert_eq!(reached, headline, "{}", lines[number - 1]);
        found += 1;
    }
    assert_eq!(found, causes, "{told}");
}

/// Where a step begins and ends: `From 2 % to 57 %.`, `: from 82 % to 86 %.`, `Still 98 %.`
fn ends(step: &str) -> (&str, &str) {
    let after = |mark: &str| {
        let rest = step.split_once(mark)?.1;
        Some(&rest[..rest.find(" %.")? + " %".len()])
    };
    match [". From ", ": from "].into_iter().find_map(after) {
        Some(moved) => moved.split_once(" to ").unwrap(),
        None => {
            let still = [". Still ", ": still "].into_iter().find_map(after).unwrap();
            (still, still)
        }
    }
}

/// What is rather not there is a look and no work, but where a rule lets the machine stand for less; a job that finds out what
/// is wrong is itself the look
#[test]
fn only_what_mends_is_told_to_be_looked_at_first() {
    let run = |form: &str| {
        let call = ["plan", "cases/barn_dozer_stood_long.yaml", "--format", form];
        let run = std::process::Command::new(env!("CARGO_BIN_EXE_pinboss")).args(call).output().unwrap();
        String::from_utf8(run.stdout).unwrap()
    };
    let plan: serde_json::Value = serde_json::from_str(&run("json")).unwrap();
    let jobs = plan["visits"].as_array().unwrap().iter().flat_map(|visit| visit["jobs"].as_array().unwrap());
    let unlikely: Vec<bool> = jobs
        .filter(|job| job["chance"].as_f64().unwrap() < 0.5)
        .map(|job| job["finds_out"].as_bool().unwrap())
        .collect();
    let mending = unlikely.iter().filter(|finds_out| !**finds_out).count();
    assert_eq!(run("text").matches("Look first").count(), mending);
}
