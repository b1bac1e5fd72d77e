//! Plain sentences that a master mechanic says at once: common practice, each with the finding alone and beside a normal
//! walk-round.

use crate::support::program::answer;
use crate::support::shipped::{Bench, dozer};
use rstest::rstest;

const WALKED: &str = "looked: [walk_rollers, walk_chain, walk_shoes, look_sprocket, wipe_idler]";

/// The likeliest cause
fn likeliest(bench: &Bench) -> f64 {
    bench.weighing().causes().unwrap()[0].probability
}

/// Side wear on the front idler's centre flange: the idler is out of line, said before what moved it there
#[rstest]
#[case::alone("left: {found: {flange_worn: inboard}}")]
#[case::beside_a_normal_walk_round(
    &format!("machine: {{looked: [walk_round, ask_work]}}, left: {{{WALKED}, found: {{flange_worn: inboard}}}}, right: {{{WALKED}, found: {{flange_worn: none}}}}")
)]
fn side_wear_on_the_idler_flange_is_an_idler_out_of_line(#[case] seen: &str) {
    let bench = dozer("", "", seen);
    let state = bench.chance("idler_off left");
    assert!(state > 0.5 && state > likeliest(&bench), "{state} {}", likeliest(&bench));
}

#[test]
fn the_state_stands_in_the_answers_head_where_it_is_surer_than_its_causes() {
    let told = answer(&["diagnose", "tests/trade/plain/flange.yaml"]);
    let state = told.find("Left: idler off the middle of the chain").unwrap();
    let causes = told.find("WHAT PROBABLY MADE IT WEAR").unwrap();
    assert!(state < causes, "{told}");
}

/// An oiled chain that was never turned has sound joints; one that was, with nobody to say which seals went in, rather not
#[rstest]
#[case::never_turned("{part: chain, on: 3000 h, turned: never}", 0.0, 0.05)]
#[case::turned("{part: chain, on: 0 h, turned: 3500 h}", 0.5, 1.0)]
fn joints_are_as_sound_as_their_seals(#[case] part: &str, #[case] over: f64, #[case] under: f64) {
    let bench = dozer("chain_type: sealed_lubricated", part, "");
    for place in ["left", "right"] {
        let dry = bench.chance(&format!("joints_dry {place}"));
        assert!((over..under).contains(&dry), "{dry}");
    }
}

/// Drawn-out teeth on a turned oiled chain are the teeth's, and no proof that its bushings are gone
#[test]
fn drawn_out_teeth_are_no_worn_bushings() {
    let seen = "left: {found: {teeth_sharp: sharp}}, right: {found: {teeth_sharp: sharp}}";
    let bench = dozer("chain_type: sealed_lubricated", "{part: chain, on: 0 h, turned: 3500 h}", seen);
    for place in ["left", "right"] {
        assert!(bench.chance(&format!("bushings_thin {place}")) < 0.1);
        assert!(bench.chance(&format!("teeth_spent {place}")) > 0.5);
    }
}
