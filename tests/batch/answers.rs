//! What comes out for cases that are well: the same as one by one, in order, and with any number of threads.

use crate::batch::bench::{Bench, cases, run, small_cases};
use crate::support::program::command;
use rstest::rstest;
use serde_json::Value;
use std::io::{BufRead, BufReader};
use std::process::Stdio;

/// The bytes of a run do not hang on its threads, nor on where its lines come from
#[test]
fn threads_and_sources_change_no_byte() {
    let bench = Bench::new();
    let lines = cases(40);
    let file = bench.write("cases.jsonl", &lines);
    let file = file.to_str().unwrap();
    let once = run("", &["batch", file, "--threads", "1"]);
    assert_eq!((once.code, once.err.as_str(), once.out.lines().count()), (Some(0), "", 40));
    for arguments in [
        &["batch", "--threads", "2"] as &[&str],
        &["batch", "-", "--threads", "7"],
        &["batch", file],
        &["batch", file, "--progress"],
    ] {
        let again = run(&lines, arguments);
        assert_eq!((again.code, &again.out), (Some(0), &once.out), "{arguments:?}");
    }
    let written = bench.path("out.jsonl");
    run(&lines, &["batch", "-o", written.to_str().unwrap()]);
    assert_eq!(std::fs::read_to_string(written).unwrap(), once.out);
}

/// Of more cases than a chunk holds every one is answered once, in order
#[test]
fn many_cases_are_answered_in_order() {
    let bench = Bench::new();
    let lines = small_cases(&bench, 500);
    let ran = bench.batch(&lines, &["--threads", "3"]);
    let numbers: Vec<u64> = ran.lines().iter().map(|line| line["line"].as_u64().unwrap()).collect();
    assert_eq!(numbers, (1..=500).collect::<Vec<_>>());
    let named = |line: &Value| line["case"].clone();
    let asked = lines.lines().map(|line| named(&serde_json::from_str(line).unwrap()));
    assert!(asked.eq(ran.lines().iter().map(named)));
}

/// Every figure is the one that `diagnose` gives, and so are the reasons and the next checks
#[rstest]
#[case("quarry_dozer_two_faults.yaml")]
#[case("auction_dozer_little_seen.yaml")]
fn figures_are_those_of_one_diagnosis(#[case] name: &str) {
    let path = format!("cases/{name}");
    let mut single: Value =
        serde_json::from_str(&run("", &["diagnose", &path, "--format", "json"]).out).unwrap();
    // Which causes a text tells one by one is asked of one diagnosis only.
    for cause in single["causes"].as_array_mut().unwrap() {
        cause.as_object_mut().unwrap().remove("told");
    }
    let whole = run("", &["batch", &path, "--over", "0", "--reasons", "--next"]).lines().remove(0);
    for key in ["case", "machine", "rules_digest", "case_digest", "causes", "log_evidence", "next_checks"] {
        assert_eq!(whole[key], single[key], "{key}");
    }
    let brief = run("", &["batch", &path]).lines().remove(0);
    assert_eq!(brief["log_evidence"], single["log_evidence"]);
    let causes = brief["causes"].as_array().unwrap();
    let likely = single["causes"].as_array().unwrap().iter();
    let likely: Vec<&Value> = likely.filter(|cause| cause["probability"].as_f64().unwrap() >= 0.01).collect();
    assert_eq!(causes.len(), likely.len());
    for (brief, whole) in causes.iter().zip(likely) {
        for (key, value) in brief.as_object().unwrap() {
            assert_eq!(*value, whole[key], "{key}");
        }
        assert!(brief.get("reasons").is_none());
    }
}

#[rstest]
#[case("--over", "5%", 0.05)]
#[case("--over", "0.5", 0.5)]
#[case("--over", "0", 0.0)]
fn causes_are_told_from_the_chance_asked_for(#[case] option: &str, #[case] word: &str, #[case] least: f64) {
    let count = |over: &str| {
        let line = run("", &["batch", "cases/healthy_dozer.yaml", "--over", over]).lines().remove(0);
        let causes = line["causes"].as_array().unwrap().clone();
        causes.iter().map(|cause| cause["probability"].as_f64().unwrap()).collect::<Vec<_>>()
    };
    let all = count("0");
    assert!(all.len() > 100);
    let told = run("", &["batch", "cases/healthy_dozer.yaml", option, word]).lines().remove(0);
    assert_eq!(told["asked"]["over"].as_f64(), Some(least));
    assert_eq!(
        told["causes"].as_array().unwrap().len(),
        all.iter().filter(|chance| **chance >= least).count()
    );
}

/// A folder gives each of its cases by name, with its file
#[test]
fn a_folder_is_taken_by_its_files() {
    let lines = run("", &["batch", "cases"]).lines();
    let mut files: Vec<String> = std::fs::read_dir(format!("{}/cases", env!("CARGO_MANIFEST_DIR")))
        .unwrap()
        .map(|entry| format!("cases/{}", entry.unwrap().file_name().to_str().unwrap()))
        .filter(|name| name.ends_with(".yaml"))
        .collect();
    files.sort();
    assert_eq!(lines.iter().map(|line| line["file"].as_str().unwrap().to_owned()).collect::<Vec<_>>(), files);
    assert!(lines.iter().all(|line| line["causes"].is_array()));
}

/// A reader that goes away early is no fault
#[test]
fn a_broken_pipe_is_no_fault() {
    let bench = Bench::new();
    let file = bench.write("cases.jsonl", small_cases(&bench, 3000));
    let rules = bench.path("rules");
    let mut child =
        command(&["batch", file.to_str().unwrap(), "--over", "0", "--rules", rules.to_str().unwrap()])
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
    let mut line = String::new();
    BufReader::with_capacity(64, child.stdout.take().unwrap()).read_line(&mut line).unwrap();
    assert!(line.starts_with("{\"line\":1,"), "{line}");
    assert_eq!(child.wait().unwrap().code(), Some(0));
}

/// Machines of a seed are the same however many are drawn, whichever is first, and with any number of threads
#[test]
fn machines_do_not_hang_on_the_run_they_are_drawn_in() {
    let whole = cases(90);
    let part = |first: &str, count: &str, threads: &str| {
        let arguments = ["rules", "simulate", "--first", first, "--count", count, "--threads", threads];
        run("", &arguments).out
    };
    assert_eq!(part("1", "30", "1") + &part("31", "60", "3"), whole);
    assert_ne!(run("", &["rules", "simulate", "--seed", "2", "--count", "90"]).out, whole);
    let names = whole.lines().map(|line| serde_json::from_str::<Value>(line).unwrap()["case"].clone());
    assert_eq!(names.clone().count(), 90);
    assert!(names.enumerate().all(|(place, name)| name
        == format!("machine {} drawn from the rules with seed 1, invented", place + 1).as_str()));
}
