//! Cases tried by two sets of rules: what moved, and which changed block is said to have moved it.

use rstest::rstest;
use serde_json::Value;
use std::fs;
use std::path::Path;
use std::process::Command;
use tempfile::TempDir;

/// Two causes of one sign, and a second sign of one of them
const RULES: &str = "\
kind upkeep: \"upkeep put off\" counts against owner
part idler, each side: \"front idler\"
cause shims, each side: \"shims wrongly set\"
    kind    upkeep
    chance  5% of sides
    basis   estimate
cause yoke, each side: \"yoke bent\"
    kind    upkeep
    chance  5% of sides
    basis   estimate
symptom rubbed, each side: \"rubbed flange\"
    with    shims: 80%
    with    yoke: 80%
    without 1%
    basis   estimate
symptom crooked, each side: \"crooked yoke\"
    with    yoke: 40%
    without 10%
    basis   estimate
check look, each side: \"Look\"
    shows   rubbed, crooked
    takes   2 min
remedy shim, each side: \"Shim it\"
    fixes   shims
    takes   3 h
";

const CASE: &str = "\
case: c
machine: {tag: T}
seen:
  left: {looked: [look], found: {rubbed: yes, crooked: yes}}
expect: {over: {yoke left: 60%}}
";

/// Exit code and answer of a trial by these rules, or by these and older ones
fn tried(rules: &str, old: Option<&str>) -> (i32, Value) {
    all_tried(rules, old, &[CASE.to_owned()])
}

/// The same of several cases
fn all_tried(rules: &str, old: Option<&str>, cases: &[String]) -> (i32, Value) {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, text).unwrap();
    };
    write("new/a.rules", rules);
    for (number, case) in cases.iter().enumerate() {
        write(&format!("cases/c{number}.yaml"), case);
    }
    let place = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let mut call =
        vec!["rules", "test", "--format", "json"].into_iter().map(str::to_owned).collect::<Vec<_>>();
    call.extend([place("cases"), "--rules".to_owned(), place("new")]);
    if let Some(old) = old {
        write("old/a.rules", old);
        call.extend(["--since".to_owned(), place("old")]);
    }
    let output = Command::new(env!("CARGO_BIN_EXE_pinboss")).args(&call).output().unwrap();
    let answer = serde_json::from_slice(&output.stdout).unwrap();
    assert!(Path::new(&place("cases")).exists());
    (output.status.code().unwrap(), answer)
}

/// Posterior by hand: each side of the two-cause rules is P(rubbed, crooked | s, y) summed over the four states
fn yoke(shows_crooked: f64) -> f64 {
    let (mut with, mut all) = (0.0, 0.0);
    for (shims, yoke) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
        let prior = [0.95, 0.05][shims] * [0.95, 0.05][yoke];
        let rubbed = 1.0 - 0.99 * [1.0, 0.2][shims] * [1.0, 0.2][yoke];
        let crooked = 1.0 - 0.9 * [1.0, 1.0 - shows_crooked][yoke];
        let joint = prior * rubbed * crooked;
        all += joint;
        with += if yoke == 1 { joint } else { 0.0 };
    }
    with / all
}

#[test]
fn a_move_is_told_with_the_block_that_made_it_and_the_claim_it_mended() {
    let old = RULES.replace("yoke: 40%", "yoke: 5%").replace("Look\"", "Look closely\"");
    let (code, answer) = tried(RULES, Some(&old));
    assert_eq!(code, 0, "{answer:#}");
    let since = &answer["since"];
    let names: Vec<&str> =
        since["changes"].as_array().unwrap().iter().map(|own| own["name"].as_str().unwrap()).collect();
    assert_eq!(names, ["crooked", "look"]);
    let moved = &since["cases"][0]["moves"][0];
    assert_eq!(moved["cause"], "yoke left");
    for (key, chance) in [("before", yoke(0.05)), ("after", yoke(0.4))] {
        assert!((moved[key].as_f64().unwrap() - chance).abs() < 1e-12, "{key}: {moved:#} {chance}");
    }
    assert_eq!(moved["because"].as_array().unwrap().len(), 1);
    assert_eq!(moved["because"][0]["rule"], "symptom crooked");
    assert_eq!(moved["because"][0]["alone"], moved["after"]);
    assert_eq!(since["cases"][0]["mended"][0]["expected"], "`yoke left` over 60 %");
}

#[test]
fn blocks_that_move_something_only_together_are_told_together() {
    let without = RULES.replace("    with    yoke: 40%\n", "    with    wrench: 40%\n");
    let old = RULES.replace("    with    yoke: 40%\n", "");
    let new = without.replace(
        "symptom rubbed",
        "cause wrench, each side: \"w\"\n    kind upkeep\n    chance 20% of sides\n    basis estimate\nsymptom rubbed",
    );
    let (_, answer) = tried(&new, Some(&old));
    let moves = answer["since"]["cases"][0]["moves"].as_array().unwrap();
    let wrench = moves.iter().find(|own| own["cause"] == "wrench left").unwrap();
    assert_eq!(wrench["before"], 0.0);
    let rules: Vec<&str> =
        wrench["because"].as_array().unwrap().iter().map(|own| own["rule"].as_str().unwrap()).collect();
    assert!(rules.contains(&"cause wrench"), "{wrench:#}");
}

#[rstest]
#[case::spaces(RULES.replace("    with    shims: 80%", "  with   shims:   80%   # as before"))]
#[case::order_of_blocks(reordered())]
fn layout_is_no_change(#[case] old: String) {
    assert_ne!(old, RULES);
    let (_, answer) = tried(RULES, Some(&old));
    assert_eq!(answer["since"]["changes"].as_array().unwrap().len(), 0);
    assert_eq!(answer["since"]["cases"][0]["moves"].as_array().unwrap().len(), 0);
}

/// The last block first
fn reordered() -> String {
    let at = RULES.find("remedy").unwrap();
    format!("{}{}", &RULES[at..], &RULES[..at])
}

#[test]
fn what_led_astray_is_told_and_what_no_case_exercises() {
    let (code, answer) = tried(&RULES.replace("yoke: 40%", "yoke: 5%"), None);
    assert_eq!(code, 1);
    let failure = &answer["cases"][0]["failures"][0];
    assert_eq!((failure["line"].as_u64(), failure["by"].as_str()), (Some(5), Some("expect")));
    let astray = &failure["astray"][0];
    assert_eq!((astray["id"].as_str(), astray["too_high"].as_bool()), (Some("yoke"), Some(false)));
    assert!(astray["reasons"].as_array().unwrap().len() >= 2, "{astray:#}");
    let lines =
        answer["exercised"].as_array().unwrap().iter().find(|own| own["sort"] == "with line").unwrap();
    assert_eq!((lines["rules"].as_u64(), lines["exercised"].as_u64()), (Some(3), Some(3)), "{lines:#}");
}

/// A crooked yoke on the left: there `yoke` comes first and `shims` second, before both of the right, of which nothing is
/// known. A sound machine has no true cause and is not counted.
#[test]
fn how_often_a_true_cause_came_first_is_counted_over_the_cases_that_have_one() {
    let truly = |present: &str| {
        let seen = CASE.split("expect:").next().unwrap();
        format!("{seen}truth: {{present: [{present}]}}\n")
    };
    let counted = |present: &[&str]| {
        let cases: Vec<String> = present.iter().map(|present| truly(present)).collect();
        let answer = all_tried(RULES, None, &cases).1;
        ["cases", "first", "among_three"].map(|key| answer["true_causes"][key].as_u64().unwrap())
    };
    assert_eq!(counted(&["yoke left"]), [1, 1, 1]);
    assert_eq!(counted(&["shims left"]), [1, 0, 1]);
    assert_eq!(counted(&["yoke right"]), [1, 0, 0]);
    assert_eq!(counted(&["yoke right, shims left"]), [1, 0, 1], "the best of several counts");
    assert_eq!(counted(&[""]), [0, 0, 0]);
    assert_eq!(counted(&["yoke left", "shims left", "yoke right", ""]), [3, 1, 2]);
}
