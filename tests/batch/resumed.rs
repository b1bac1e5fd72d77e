//! A run that was cut, wherever that happened, comes to the same bytes when it is taken up again.

use crate::batch::bench::{Bench, cases, run, small_cases};
use crate::support::program::command;
use clap::Parser;
use pinboss::command::{self as program, Arguments, Exit};
use proptest::prelude::*;
use rstest::rstest;
use std::fs;
use std::path::Path;
use std::process::Stdio;
use std::time::Duration;

/// A run in this very process, for it is done many times
fn resume(bench: &Bench, input: &Path, results: &Path) -> Exit {
    let words = ["pinboss", "batch", "--threads", "1", "--rules"];
    let rules = bench.path("rules");
    let paths = [&rules, input, Path::new("--resume"), results].map(Path::as_os_str);
    let arguments = words.iter().map(AsRef::as_ref).chain(paths);
    program::run(Arguments::try_parse_from(arguments).unwrap(), &[])
}

/// Cut at every byte, the file comes to the bytes of the run that nobody disturbed
#[test]
fn a_file_cut_anywhere_is_made_whole() {
    let bench = Bench::new();
    let input =
        bench.write("cases.jsonl", format!("{}\n \n{}", small_cases(&bench, 2), small_cases(&bench, 1)));
    let results = bench.path("results.jsonl");
    assert_eq!(resume(&bench, &input, &results), Exit::Done);
    let whole = fs::read(&results).unwrap();
    assert_eq!(whole.iter().filter(|byte| **byte == b'\n').count(), 3);
    for cut in 0..=whole.len() {
        fs::write(&results, &whole[..cut]).unwrap();
        assert_eq!(resume(&bench, &input, &results), Exit::Done, "cut at {cut}");
        assert!(fs::read(&results).unwrap() == whole, "cut at {cut}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// The same over more cases than a chunk holds, with the cut anywhere
    #[test]
    fn a_long_file_cut_somewhere_is_made_whole(place in 0.0..1.0_f64) {
        let bench = Bench::new();
        let input = bench.write("cases.jsonl", small_cases(&bench, 200));
        let results = bench.path("results.jsonl");
        prop_assert_eq!(resume(&bench, &input, &results), Exit::Done);
        let whole = fs::read(&results).unwrap();
        fs::write(&results, &whole[..(place * whole.len() as f64) as usize]).unwrap();
        prop_assert_eq!(resume(&bench, &input, &results), Exit::Done);
        prop_assert!(fs::read(&results).unwrap() == whole);
    }
}

/// A run that is killed while it writes, twice, and then taken up to its end
#[test]
fn a_run_that_is_killed_is_taken_up() {
    let bench = Bench::new();
    let input = bench.write("cases.jsonl", format!("{}{{}}\n{}", cases(100), cases(300)));
    let results = bench.path("results.jsonl");
    let (input, results) = (input.to_str().unwrap(), results.to_str().unwrap());
    let call = ["batch", input, "--resume", results, "--threads", "2"];
    let size = || fs::metadata(results).map_or(0, |there| there.len());
    let mut killed = 0;
    for _ in 0..2 {
        let before = size();
        let mut child = command(&call).stdout(Stdio::null()).spawn().unwrap();
        while size() <= before && child.try_wait().unwrap().is_none() {
            std::thread::sleep(Duration::from_millis(2));
        }
        child.kill().unwrap();
        killed += u32::from(!child.wait().unwrap().success());
    }
    assert!(killed > 0, "both runs were over before they could be killed");
    assert_eq!(run("", &call).code, Some(1));
    let undisturbed = run("", &["batch", input]);
    assert_eq!(undisturbed.out.lines().count(), 401);
    assert!(fs::read_to_string(results).unwrap() == undisturbed.out);
}

/// Results of another run are refused, and stay as they are
#[rstest]
#[case::other_options(|_: &Bench| (), &["--over", "30%"], "its line 1 comes from a run with other options")]
#[case::other_rules(
    |bench: &Bench| drop(bench.write("rules/more.rules", "kind duty: \"the job\" counts against site\n")),
    &[],
    "its line 1 comes from other rules"
)]
#[case::another_case(
    |bench: &Bench| changed(bench, "cases.jsonl", |text| text.replacen("\"tag\":\"D1-2\"", "\"tag\":\"D1-3\"", 1)),
    &[],
    "its line 2 is of another case than the input has there"
)]
#[case::moved_lines(
    |bench: &Bench| changed(bench, "cases.jsonl", |text| format!("\n{text}")),
    &[],
    "its line 1 is of another case than the input has there"
)]
#[case::fewer_cases(
    |bench: &Bench| changed(bench, "cases.jsonl", |text| text.lines().next().unwrap().to_owned()),
    &[],
    "it has more results than the 1 cases of the input"
)]
#[case::no_result(
    |bench: &Bench| changed(bench, "results.jsonl", |text| text.replacen("\"line\":2", "\"line\":two", 1)),
    &[],
    "its line 2 is no result of this command"
)]
#[case::another_version(
    |bench: &Bench| changed(bench, "results.jsonl", |text| text.replace("\"log_evidence\":-", "\"log_evidence\":-1")),
    &[],
    "the last case in it now comes out otherwise"
)]
#[case::a_tail_behind_the_last(
    |bench: &Bench| changed(bench, "results.jsonl", |text| text + "{\"line\":4"),
    &[],
    "its line 4 is no result of this command"
)]
fn results_of_another_run_are_refused(
    #[case] change: fn(&Bench),
    #[case] options: &[&str],
    #[case] words: &str,
) {
    let bench = Bench::new();
    let input = bench.write("cases.jsonl", small_cases(&bench, 3));
    let results = bench.path("results.jsonl");
    assert_eq!(resume(&bench, &input, &results), Exit::Done);
    change(&bench);
    let before = fs::read(&results).unwrap();
    let call = [input.to_str().unwrap(), "--resume", results.to_str().unwrap()];
    let ran = bench.batch("", &[&call, options].concat());
    assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""), "{}", ran.err);
    assert!(ran.err.contains(words), "{}", ran.err);
    assert!(fs::read(&results).unwrap() == before);
}

fn changed(bench: &Bench, name: &str, change: impl Fn(String) -> String) {
    let text = fs::read_to_string(bench.path(name)).unwrap();
    bench.write(name, change(text));
}
