//! Every shipped inspection against what strip-down showed; common practice, and the machines are invented.

use crate::support::rules::{SHIPPED, listed, shipped, told};
use pinboss::case;
use pinboss::ground::ground;
use pinboss::reason::Weighing;
use pinboss::report;
use pinboss::report::record::trial::Failure;
use pinboss::source::Sources;
use pinboss::trial::{self, Extent};
use rstest::rstest;
use std::fs;

/// What is wrong with a case: problems in its text, or an answer that strip-down gainsays
fn faults(name: &str, text: &str) -> Vec<String> {
    let mut sources = Sources::default();
    let id = sources.add(name, text);
    let (inspection, mut problems) = case::read(&sources, id);
    let Some(inspection) = inspection else {
        return told(&problems, &sources);
    };
    let (ground, said) = ground(&SHIPPED.model, &inspection);
    problems.append(said);
    if !problems.is_empty() {
        return told(&problems, &sources);
    }
    if inspection.truth.is_none() {
        return vec![format!("{name}: tells no truth: add what was present and what absent")];
    }
    let weighing = Weighing::new(shipped(), ground).within(trial::settings());
    match trial::run(&weighing, &inspection, Extent::Claims) {
        Ok(found) => {
            let ground = weighing.ground();
            let told =
                report::record::trial::case(&SHIPPED.model, ground, &found, &inspection.title, &sources);
            let line = |own: &Failure| format!("{name}: expected {}; {}", own.expected, own.came_out);
            told.failures.iter().map(line).collect()
        }
        Err(stop) => vec![format!("{name}: cannot be weighed: {stop:?}")],
    }
}

#[test]
fn strip_down_agrees_with_every_case() {
    let paths = listed("cases", "yaml");
    assert!(paths.len() >= 6, "only {} cases", paths.len());
    let mut all = Vec::new();
    for path in &paths {
        let name = path.file_name().unwrap().to_string_lossy();
        all.extend(faults(&name, &fs::read_to_string(path).unwrap()));
    }
    assert!(all.is_empty(), "{all:#?}");
}

#[test]
fn sound_machines_and_machines_with_two_faults_are_among_the_cases() {
    let mut counts = Vec::new();
    for path in listed("cases", "yaml") {
        let mut sources = Sources::default();
        let id = sources.add("case", fs::read_to_string(path).unwrap());
        let truth = case::read(&sources, id).0.unwrap().truth.unwrap();
        counts.push(truth.present.len());
    }
    assert!(counts.iter().filter(|count| **count == 0).count() >= 2, "{counts:?}");
    assert!(counts.iter().any(|count| *count >= 2), "{counts:?}");
}

/// Oil run down the right rear mount and nothing else wrong
const SEAL: &str = "\
case: t
machine: {tag: T, hours: 4000, size: medium, facts: {rollers: 7}}
seen:
  right: {looked: [wipe_rear_mount], found: {rear_mount_oil: run_down}}
";

#[test]
fn the_judge_lets_a_true_truth_pass() {
    let text =
        format!("{SEAL}truth: {{present: [rear_seal_failed right], absent: [rear_mount_worn right]}}\n");
    assert_eq!(faults("t", &text), Vec::<String>::new());
}

#[test]
fn the_judge_finds_a_case_that_tells_no_truth() {
    assert_eq!(faults("t", SEAL), ["t: tells no truth: add what was present and what absent"]);
}

#[rstest]
#[case::sound("truth: {present: [], absent: [rear_seal_failed right]}", &["no cause over 30 %", "which was not there, under 30 %"])]
#[case::another_cause("truth: {present: [frame_bent left]}", &["`frame_bent left`, which was there, above all others"])]
#[case::a_condition("truth: {present: [rear_seal_failed right, frame_toe toed_in left]}", &["`frame_toe toed_in left`, which was there, over 50 %"])]
#[case::unknown("truth: {present: [rear_seal_bad right]}", &["rear_seal_bad"])]
#[case::unknown_grade("truth: {present: [frame_toe bent left]}", &["`frame_toe` has no grade `bent`"])]
fn the_judge_finds_what_strip_down_gainsays(#[case] truth: &str, #[case] parts: &[&str]) {
    let found = faults("t", &format!("{SEAL}{truth}\n"));
    assert_eq!(found.len(), parts.len(), "{found:#?}");
    for (part, line) in parts.iter().zip(&found) {
        assert!(found.iter().any(|line| line.contains(part)), "`{part}` is not said: {line}");
    }
}

/// A truth that holds, so that what is expected decides alone
const TRUE: &str = "truth: {present: [rear_seal_failed right]}";

#[rstest]
#[case::first("first: rear_seal_failed right", None)]
#[case::first_in_a_list("first: [rear_seal_failed right]", None)]
#[case::not_first("first: frame_bent left", Some("expected `frame_bent left` first; "))]
#[case::first_among_two(
    "first: [rear_seal_failed right, frame_bent left]",
    Some("`frame_bent left` above all that are not named with it")
)]
#[case::over("over: {rear_seal_failed right: 30%}", None)]
#[case::not_over("over: {rear_seal_failed right: 99.99%}", Some("`rear_seal_failed right` over 99.99 %; "))]
#[case::under("under: {rear_seal_failed left: 10%}", None)]
#[case::not_under("under: {rear_seal_failed right: 10%}", Some("`rear_seal_failed right` under 10 %; "))]
#[case::next("next: {sight_idler: 200}", None)]
#[case::not_next(
    "next: {wipe_rear_mount right: 3}",
    Some("`wipe_rear_mount right` among the first 3 next checks; it is not among them")
)]
#[case::explained(
    "unexplained: rear_mount_oil right",
    Some("the finding `rear_mount_oil right` explained by nothing")
)]
#[case::not_held("held: bushing_rev right", Some("`bushing_rev right` held back; it is not so"))]
fn what_is_expected_holds_or_is_told(#[case] expect: &str, #[case] fault: Option<&str>) {
    let found = faults("t", &format!("{SEAL}{TRUE}\nexpect: {{{expect}}}\n"));
    match fault {
        None => assert_eq!(found, Vec::<String>::new()),
        Some(fault) => assert!(found.len() == 1 && found[0].contains(fault), "{found:#?}"),
    }
}
