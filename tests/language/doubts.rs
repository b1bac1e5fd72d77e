//! What is legal and doubtful: told as a warning, and only once the rules hold together.

use crate::said::take;
use pinboss::problem::code::{Code, Severity};
use rstest::rstest;

/// Rules with nothing doubtful in them
const SOUND: &str = r#"
kind upkeep: "put off" counts against owner
part chain, each side: "chain"
part sprocket, each side: "sprocket" rubs chain
cause tight, each side: "kept tight"
    kind upkeep
    chance 5% of sides
    basis estimate
cause packed: "packed"
    kind upkeep
    chance 5% of machines
    basis "A book, page 3"
condition scrubbed, each side: "tooth and bushing scrub"
    with tight: 60%
    with packed: 60%
    basis common practice
symptom tip, each side, of sprocket: "worn tip"
    with scrubbed: 60%
    basis estimate
symptom band, each side, of chain: "worn band"
    with scrubbed: 60%
    basis estimate
measure gap, each side, of chain: "gap"
    unit mm range 0 to 60 error 1
symptom wide, each side, of chain: "wide gap"
    from gap: no, yes over 5 mm
    with tight: 10%
    basis estimate
check look, each side: "Photograph tooth and bushing"
    shows tip, band
    takes 2 min
check measure_gap, each side: "Measure the gap"
    reads gap
    takes 2 min
"#;

fn warnings(text: &str) -> Vec<String> {
    let taken = take(&[text]);
    assert_eq!(taken.errors(), Vec::<String>::new());
    let sorted = taken.problems.sorted();
    assert!(sorted.iter().all(|problem| problem.code.severity() == Severity::Warning));
    let shown = sorted.iter();
    shown.map(|it| format!("{} | {} | {}", it.code.slug(), taken.sources.slice(it.at), it.message)).collect()
}

#[test]
fn sound_rules_are_not_doubted() {
    assert_eq!(warnings(SOUND), Vec::<String>::new());
}

#[rustfmt::skip] // One row, one line.
#[rstest]
// A contact pair is two witnesses only where one condition stands between
#[case("symptom band, each side, of chain: \"worn band\"\n    with scrubbed: 60%",
       "symptom band, each side, of chain: \"worn band\"\n    with tight: 5%", &[])]
#[case("with scrubbed: 60%", "with tight: 5%\n    with packed: 5%",
       &["contact-pair | band | `tip` and `band` are seen on parts that rub, and share `tight` and `packed`"])]
// A cause is seen through every condition on the way, and through nothing else
#[case("with packed: 60%", "without 1%", &["cause-nothing-shows | packed | nothing can show `packed`"])]
#[case("with scrubbed: 60%", "without 1%", &["cause-nothing-shows | packed | nothing can show `packed`"])]
// A symptom is shown by a check, or by all readings it is made from
#[case("shows tip, band", "shows tip", &["symptom-no-check-shows | band | no check shows `band`"])]
#[case("reads gap", "shows tip", &["symptom-no-check-shows | wide | no check shows `wide`"])]
#[case("reads gap", "shows wide", &[])]
// A hazard by how the machine stands, or by a word of the check; a word that only holds another is none
#[case("Measure the gap\"", "Measure the gap\" access lifted",
       &["hazard-without-caution | measure_gap | `measure_gap` has to do with `lift` and carries no caution"])]
#[case("Measure the gap\"", "Measure the gap\" access lifted caution \"Crib it.\"", &[])]
#[case("Measure the gap\"", "Jack the frame up\"",
       &["hazard-without-caution | measure_gap | `measure_gap` has to do with `jack` and carries no caution"])]
#[case("Measure the gap\"", "Measure\" text \"Part the track first.\"",
       &["hazard-without-caution | measure_gap | `measure_gap` has to do with `part the track` and carries no caution"])]
#[case("Measure the gap\"", "Measure one shot of it\"", &[])]
// A basis on every cause, condition and symptom
#[case("basis \"A book, page 3\"", "text \"What it is.\"", &["no-basis | packed | `packed` does not say where it comes from"])]
#[case("basis common practice", "text \"What it is.\"", &["no-basis | scrubbed | `scrubbed` does not say where it comes from"])]
fn a_doubt_is_told(#[case] sound: &str, #[case] doubtful: &str, #[case] told: &[&str]) {
    assert!(SOUND.contains(sound), "{sound}");
    assert_eq!(warnings(&SOUND.replace(sound, doubtful)), told);
}

/// Doubts are told of rules that hold together; before, they would be consequences
#[test]
fn no_doubt_is_told_beside_an_error() {
    let taken = take(&[&SOUND.replace("basis common practice", "").replace("with packed", "with paked")]);
    assert_eq!(taken.errors(), ["unknown-name | paked | no cause or condition is called `paked`"]);
    assert_eq!(taken.of(Code::NoBasis), Vec::<String>::new());
}

/// Each warning says what to do
#[test]
fn a_doubt_says_what_to_do() {
    let taken = take(&[&SOUND.replace("basis common practice", "")]);
    assert_eq!(taken.help(), "add `basis common practice`, `basis estimate`, or a source in quotes");
}
