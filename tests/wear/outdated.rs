//! Parts that were turned or changed after all that was read of them: told, and never dropped without a word.

use crate::support::setting::Setting;
use crate::wear::visits::{trend_of, visit};
use pinboss::wear::outdated::Outdated;
use pinboss::wear::trend::Trend;
use rstest::rstest;
use serde_json::Value;
use std::fs;
use std::process::Command;
use tempfile::TempDir;

const CHAIN: &str = "{part: chain, on: 0 h, turned: never}";

fn names<'m>(settings: &'m [Setting], trend: &Trend) -> Vec<(&'m str, f64, f64, bool)> {
    let model = &settings[0].model;
    let told = |own: &Outdated| (model[own.measure].common.name.as_str(), own.at, own.after, own.turned);
    trend.outdated.iter().map(told).collect()
}

/// Rails go on over a turn, bushings do not; a changed chain takes both along
#[rstest]
#[case::turned("{part: chain, on: 0 h, turned: 2300 h}", &[("bushing", 2300.0, 400.0, true)])]
#[case::changed("{part: chain, on: 2500 h}", &[("link_height", 2500.0, 600.0, false), ("bushing", 2500.0, 600.0, false)])]
#[case::neither(CHAIN, &[])]
fn what_was_not_read_since_is_told(#[case] parts: &str, #[case] told: &[(&str, f64, f64, bool)]) {
    let seen = "left: {read: {bushing: 55.0 mm, link_height: 101.0 mm}}";
    let settings = [visit(1900.0, CHAIN, seen), visit(2900.0, parts, "")];
    let trend = trend_of(&settings);
    assert_eq!(names(&settings, &trend), told);
    for own in &trend.outdated {
        let instead: Vec<_> = own.instead.iter().map(|it| (it.measure, it.read)).collect();
        assert_eq!(instead, [(own.measure, false)]);
    }
    assert_eq!(trend.parts.len() + trend.outdated.len(), 2, "nothing is lost");
}

/// Read once more after the turn, it is a part as every other
#[test]
fn what_was_read_since_is_no_more_asked_for() {
    let seen = "left: {read: {bushing: 57.95 mm}}";
    let settings =
        [visit(1900.0, CHAIN, seen), visit(2900.0, "{part: chain, on: 0 h, turned: 2300 h}", seen)];
    assert_eq!(trend_of(&settings).outdated, []);
}

const FIRST: &str = "\
case: first
machine: {tag: T4, hours: 2000, size: medium, facts: {chain_type: sealed_lubricated, rollers: 7, impact: low}}
parts: [{part: chain, on: 0 h, turned: never}, {part: idler, on: 0 h}]
visit: {on: 2025-05-01, state: [cleaned]}
seen:
  left: {read: {bushing_fwd: 56.8 mm, idler_depth: 27 mm}}
  right: {read: {bushing_fwd: 56.6 mm}}
";
const LATER: &str = "\
case: later
machine: {tag: T4, hours: 2900, size: medium, facts: {chain_type: sealed_lubricated, rollers: 7, impact: low}}
parts: [{part: chain, on: 0 h, turned: 2400 h}, {part: idler, at: left, on: 2600 h}]
visit: {on: 2026-05-01, state: [cleaned]}
seen: {left: {read: {WALL}}}
earlier: [first.yaml]
";

fn wear(wall: &str, form: &str) -> String {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("first.yaml"), FIRST).unwrap();
    let later = folder.path().join("later.yaml");
    fs::write(&later, LATER.replace("WALL", wall)).unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_pinboss"))
        .args(["wear", "--format", form])
        .arg(&later)
        .output()
        .unwrap();
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    let told = String::from_utf8(run.stdout).unwrap();
    if form == "json" { told } else { told.split_whitespace().collect::<Vec<_>>().join(" ") }
}

/// Over a turned bushing a caliper tells nothing: its wall is gauged, at either side until it was
#[rstest]
#[case::nothing_read("", &[
    "MEASURE AGAIN",
    "Left and right: bushing across its forward face: turned at 2,400 h, 400 h after they were last read. What was read then \
     (56.8 mm and 56.6 mm at 2,000 h) says nothing of them now. Measure instead: thinnest wall of the turned bushings. \
     `pinboss words bushing_wall` tells where and how.",
    "Left: depth of the idler tread: changed at 2,600 h, 600 h after it was last read. What was read then (27 mm at 2,000 h) \
     says nothing of it now. Measure it again. `pinboss words idler_depth` tells where and how.",
    "Nothing that was read says how worn the machine is now.",
])]
#[case::wall_of_one_side("bushing_wall: 9 mm", &[
    "Left: bushing across its forward face: turned at 2,400 h, 400 h after it was last read. What was read then (56.8 mm at \
     2,000 h) says nothing of it now. Go by: thinnest wall of the turned bushings.",
    "Right: bushing across its forward face: turned at 2,400 h, 400 h after it was last read. What was read then (56.6 mm at \
     2,000 h) says nothing of it now. Measure instead: thinnest wall of the turned bushings.",
])]
fn a_mechanic_is_told_what_to_measure(#[case] wall: &str, #[case] sentences: &[&str]) {
    let told = wear(wall, "text");
    for sentence in sentences {
        assert!(told.contains(sentence), "{sentence}\n{told}");
    }
}

#[test]
fn a_program_is_told_the_same() {
    let report: Value = serde_json::from_str(&wear("", "json")).unwrap();
    let outdated = report["outdated"].as_array().unwrap();
    assert_eq!(outdated.len(), 3);
    let bushing = outdated.iter().find(|own| own["place"] == "right").unwrap();
    for (key, value) in [("measure", "bushing_fwd"), ("part", "track chain"), ("unit", "mm")] {
        assert_eq!(bushing[key], value);
    }
    assert_eq!(
        (&bushing["at"], &bushing["after"], &bushing["visit"]),
        (&2400.0.into(), &400.0.into(), &0.into())
    );
    assert_eq!(bushing["instead"][0]["measure"], "bushing_wall");
    assert_eq!((&bushing["turned"], &bushing["instead"][0]["read"]), (&true.into(), &false.into()));
}
