//! A check or a remedy that meets a hazard says what to beware of, or the rules are refused.

use crate::language::said::take;
use rstest::rstest;

/// Rules in which nobody meets a hazard, with the hazards that somebody may
const SAFE: &str = r#"
hazard "lifting": "lift", "jack" beware "crib", "sling"
hazard "grease under pressure": "grease", "pressure"
hazard "the recoil spring": "spring", "recoil"
hazard "driving pins": "drive out", "Hammer"
hazard "a machine that moves": "access moved" beware "driver's view"
hazard "parting the track": "while track_open", "part the track" beware "clear"
hazard "hands in the machine": "remedy" beware "engine off"
kind upkeep: "put off" counts against owner
part chain, each side: "chain"
state track_open: "with a gap in it"
cause tight, each side: "kept tight"
    kind upkeep
    chance 5% of sides
    basis estimate
symptom wide, each side, of chain: "wide gap"
    with tight: 10%
    basis estimate
check measure_gap, each side: "Measure the gap"
    shows wide
    takes 2 min
check open_up, each side: "Open it"
    makes track_open
    takes 90 min
remedy ease, each side: "Ease the track"
    fixes tight
    takes 1 h
    caution "Engine off."
"#;

#[test]
fn nothing_is_said_where_every_hazard_is_spoken_of() {
    let taken = take(&[SAFE]);
    assert_eq!(taken.errors(), Vec::<String>::new());
}

#[rustfmt::skip] // One row, one line.
#[rstest]
// By a word of the check, its label or its text; a word that only holds another is none
#[case("Measure the gap\"", "Jack the frame up\"", &["measure_gap | `measure_gap` has to do with lifting (`jack`) and carries no caution"])]
#[case("Measure the gap\"", "Measure\" text \"Part the track first.\"", &["measure_gap | `measure_gap` has to do with parting the track (`part the track`) and carries no caution"])]
#[case("Measure the gap\"", "Measure one shot of it, hijacked\"", &[])]
#[case("Measure the gap\"", "Measure the gap under the blade\"", &[])]
// By its tools
#[case("Measure the gap\"", "Measure\" needs \"hammer\"", &["measure_gap | `measure_gap` has to do with driving pins (`hammer`) and carries no caution"])]
// By the label of a remedy, and by what it fixes; the caution that it carries is against something else
#[case("\"Ease the track\"", "\"Let grease out of the valve\"", &["ease | `ease` has to do with grease under pressure (`grease`) and no caution of it speaks of that"])]
#[case("\"kept tight\"", "\"recoil set too tight\"", &["ease | `ease` has to do with the recoil spring (`recoil`) and no caution of it speaks of that"])]
// By how the machine stands, and by the state it must be in
#[case("Measure the gap\"", "Measure the gap\" access lifted", &["measure_gap | `measure_gap` has to do with lifting (`lift`) and carries no caution"])]
#[case("Measure the gap\"", "Measure the gap\" access moved", &["measure_gap | `measure_gap` has to do with a machine that moves (`access moved`) and carries no caution"])]
#[case("Measure the gap\"", "Measure the gap, or what moved\"", &[])]
#[case("Measure the gap\"", "Measure the gap\" while track_open", &["measure_gap | `measure_gap` has to do with parting the track (`while track_open`) and carries no caution"])]
#[case("takes 1 h", "takes 1 h while track_open", &["ease | `ease` has to do with parting the track (`while track_open`) and no caution of it speaks of that"])]
// A machine stands by even where no rule calls that a hazard; papers do not
#[case("Measure the gap\"", "Measure the gap\" access parked", &["measure_gap | `measure_gap` is done at a machine that is parked and carries no caution"])]
#[case("Measure the gap\"", "Measure the gap\" access parked caution \"Mind the traffic.\"", &[])]
#[case("Measure the gap\"", "Measure the gap\" access records", &[])]
// Work in a visit, unlike what is done on site
#[case("    caution \"Engine off.\"\n", "", &["ease | `ease` has to do with hands in the machine (`remedy`) and carries no caution"])]
#[case("    caution \"Engine off.\"\n", "    on site\n", &[])]
// A caution speaks of a hazard by any of its words, and where the hazard names none for that, by those that tell of it
#[case("Measure the gap\"", "Measure the gap\" access lifted caution \"Mind.\"", &["measure_gap | `measure_gap` has to do with lifting (`lift`) and no caution of it speaks of that"])]
#[case("Measure the gap\"", "Measure the gap\" access lifted caution \"Mind.\" caution \"On cribbing only.\"", &[])]
#[case("Measure the gap\"", "Measure the gap\" access lifted caution \"In a sling.\"", &[])]
#[case("\"Ease the track\"", "\"Let grease out\" caution \"Grease has killed.\"", &[])]
// Every hazard that is not spoken of is told
#[case("Measure the gap\"", "Jack it up and hammer it\"",
       &["measure_gap | `measure_gap` has to do with lifting (`jack`) and carries no caution",
         "measure_gap | `measure_gap` has to do with driving pins (`hammer`) and carries no caution"])]
fn what_is_not_spoken_of_is_an_error(#[case] from: &str, #[case] to: &str, #[case] expected: &[&str]) {
    assert!(SAFE.contains(from), "{from}");
    let said = take(&[&SAFE.replace(from, to)]).errors();
    let expected: Vec<String> = expected.iter().map(|it| format!("hazard-without-caution | {it}")).collect();
    assert_eq!(said, expected);
}

#[test]
fn the_help_names_the_words_of_which_a_caution_says_one() {
    let taken = take(&[&SAFE.replace("Measure the gap\"", "Measure the gap\" access lifted")]);
    let problem = taken.problems.sorted()[0];
    let help = "add a line `caution \"…\"` that says what to beware of, with `crib` or `sling` in it";
    assert_eq!(problem.help, help);
}
