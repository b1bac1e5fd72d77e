//! Every example of every code is run: the wrong one brings about this code and no other, the right one neither it nor an error.

use pinboss::problem::code::Code;
use pinboss::problem::explained::{BESIDE, Example, Form, explained};
use serde_json::Value;
use std::fmt::Write;
use std::process::Command;
use std::{fs, iter};
use tempfile::TempDir;

/// A folder with rules and, for a case, the file beside them
struct Bench {
    folder: TempDir,
    case: bool,
}

impl Bench {
    fn new(rules: &[(&str, &[u8])], case: Option<&str>) -> Self {
        let folder = TempDir::new().unwrap();
        for (name, bytes) in rules {
            fs::write(folder.path().join(name), bytes).unwrap();
        }
        if let Some(case) = case {
            fs::write(folder.path().join("case.yaml"), case).unwrap();
        }
        Bench { folder, case: case.is_some() }
    }

    /// Codes with their severities, as the program tells them of the case, or of the rules
    fn told(&self) -> Vec<(String, String)> {
        let folder = self.folder.path().to_str().unwrap();
        if self.case { self.asked("diagnose") } else { told(&["rules", "check", folder, "--format", "json"]) }
    }

    /// The same of the case, as a command about cases tells them
    fn asked(&self, command: &str) -> Vec<(String, String)> {
        let folder = self.folder.path().to_str().unwrap();
        told(&[command, &format!("{folder}/case.yaml"), "--rules", folder, "--format", "json"])
    }
}

fn told(arguments: &[&str]) -> Vec<(String, String)> {
    let output = Command::new(env!("CARGO_BIN_EXE_pinboss")).args(arguments).output().unwrap();
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    let word = |problem: &Value, key: &str| problem[key].as_str().unwrap().to_owned();
    // An answer that is no list is a report: nothing was wrong.
    let problems = answer.as_array().cloned().unwrap_or_default();
    assert_eq!(output.status.code(), Some(i32::from(problems.iter().any(|it| it["severity"] == "error"))));
    problems.iter().map(|problem| (word(problem, "code"), word(problem, "severity"))).collect()
}

/// What the balance of a folder says: the lines over its drawings that are codes
fn balance(bench: &Bench) -> Vec<(String, String)> {
    let folder = bench.folder.path().to_str().unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_pinboss"))
        .args(["rules", "balance", folder, "--draws", "1"])
        .env("NO_COLOR", "1")
        .output()
        .unwrap();
    assert!(output.status.success());
    let codes: Vec<Code> = String::from_utf8(output.stderr).unwrap().lines().filter_map(Code::find).collect();
    codes.into_iter().map(|code| (code.slug().to_owned(), "warning".to_owned())).collect()
}

fn bench(example: Example) -> Bench {
    let beside = ("beside.rules", BESIDE.as_bytes());
    match example.form {
        Form::Rules => Bench::new(&[beside, ("example.rules", example.text.as_bytes())], None),
        Form::Case => Bench::new(&[beside], Some(example.text)),
        Form::Words => panic!("words are made into files by hand"),
    }
}

fn is_wrong(code: Code, told: &[(String, String)]) {
    assert!(!told.is_empty(), "{} does not come about", code.slug());
    assert!(told.iter().all(|(own, _)| own == code.slug()), "{}: {told:?}", code.slug());
}

fn is_right(code: Code, told: &[(String, String)]) {
    let bad = |(own, severity): &(String, String)| own == code.slug() || severity == "error";
    assert!(!told.iter().any(bad), "{}: {told:?}", code.slug());
}

#[test]
fn the_rules_beside_are_without_a_doubt() {
    assert_eq!(Bench::new(&[("beside.rules", BESIDE.as_bytes())], None).told(), []);
}

#[test]
fn every_example_does_what_it_is_for() {
    let mut run = 0;
    for code in Code::ALL {
        let told = explained(*code).unwrap();
        if told.wrong.form != Form::Words {
            // Only the balance reckons how often each symptom shows.
            let run_by = if *code == Code::SharesOff { balance } else { Bench::told };
            is_wrong(*code, &run_by(&bench(told.wrong)));
            is_right(*code, &run_by(&bench(told.right)));
            run += 1;
        }
    }
    assert_eq!(run + IN_WORDS.len(), Code::ALL.len());
}

/// Codes whose examples are told in words, since they are about bytes, paths, pictures, or more than a page of text
const IN_WORDS: [Code; 6] = [
    Code::FileTooLarge,
    Code::FileNotText,
    Code::FileUnreadable,
    Code::NoRules,
    Code::CaseTooWide,
    Code::PhotoUnusable,
];

#[test]
fn examples_in_words_are_of_these_codes_alone() {
    let words = |code: &Code| explained(*code).unwrap().wrong.form == Form::Words;
    assert_eq!(Code::ALL.iter().copied().filter(words).collect::<Vec<_>>(), IN_WORDS);
}

#[test]
fn a_file_larger_than_a_mebibyte() {
    let rules: Vec<u8> = BESIDE.bytes().chain(iter::repeat(b'#')).take((1 << 20) + 1).collect();
    is_wrong(Code::FileTooLarge, &Bench::new(&[("a.rules", &rules)], None).told());
    let half = "#".repeat(1 << 19);
    let split = Bench::new(&[("a.rules", BESIDE.as_bytes()), ("b.rules", half.as_bytes())], None);
    is_right(Code::FileTooLarge, &split.told());
}

#[test]
fn a_file_that_is_no_text() {
    let mut rules = BESIDE.as_bytes().to_vec();
    rules.push(255);
    is_wrong(Code::FileNotText, &Bench::new(&[("a.rules", &rules)], None).told());
    is_right(Code::FileNotText, &Bench::new(&[("a.rules", BESIDE.as_bytes())], None).told());
}

#[test]
fn a_folder_that_is_not_there() {
    let there = Bench::new(&[("a.rules", BESIDE.as_bytes())], None);
    let missing = there.folder.path().join("missing");
    is_wrong(Code::FileUnreadable, &told(&["rules", "check", missing.to_str().unwrap(), "--format", "json"]));
    is_right(Code::FileUnreadable, &there.told());
}

#[test]
fn a_folder_without_a_rule() {
    is_wrong(Code::NoRules, &Bench::new(&[("a.rules", b"# nothing yet\n")], None).told());
    is_right(Code::NoRules, &Bench::new(&[("a.rules", BESIDE.as_bytes())], None).told());
}

/// Each two of forty causes share a sign, and all signs are seen: no order of elimination keeps the tables small
#[test]
fn signs_that_share_forty_causes() {
    let mut rules = String::from("kind upkeep: \"x\" counts against owner\n");
    let (mut signs, mut found) = (Vec::new(), Vec::new());
    for cause in 0..40 {
        let head = format!(
            "cause c{cause}: \"x\"\n    kind upkeep\n    chance 5% of machines\n    basis estimate\n"
        );
        rules.push_str(&head);
        for other in 0..cause {
            let name = format!("s{other}_{cause}");
            let lines = format!(
                "    with c{other}: 60%\n    with c{cause}: 60%\n    without 1%\n    basis estimate\n"
            );
            write!(rules, "symptom {name}: \"x\"\n{lines}").unwrap();
            found.push(format!("{name}: yes"));
            signs.push(name);
        }
    }
    write!(rules, "check look: \"Look\"\n    shows {}\n    takes 2 min\n", signs.join(", ")).unwrap();
    let case = |found: &[String]| {
        format!(
            "case: c\nmachine: {{tag: T, hours: 4000}}\nseen:\n  machine: {{found: {{{}}}}}\n",
            found.join(", ")
        )
    };
    let rules: [(&str, &[u8]); 1] = [("a.rules", rules.as_bytes())];
    is_wrong(Code::CaseTooWide, &Bench::new(&rules, Some(&case(&found))).asked("next"));
    is_right(Code::CaseTooWide, &Bench::new(&rules, Some(&case(&found[..1]))).asked("next"));
}

/// What an author reads is laid out: short lines in the files, no line of an example wider than a screen but one that must be
#[test]
fn the_texts_can_be_read_in_a_terminal() {
    for code in Code::ALL {
        let told = explained(*code).unwrap();
        assert!(told.what.len() > 60 && told.what.ends_with('.'), "{}", code.slug());
        assert!(told.todo.len() > 30 && told.todo.ends_with('.'), "{}", code.slug());
        let wide = |example: Example| example.text.lines().any(|line| line.len() > 110);
        assert!(!wide(told.right) && (!wide(told.wrong) || *code == Code::TooDeep), "{}", code.slug());
        assert_ne!(told.wrong.text, told.right.text, "{}", code.slug());
    }
}
