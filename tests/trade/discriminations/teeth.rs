//! What drawn-out teeth, their pace and their knocks say. All common practice.

use super::Dispute;
use crate::support::shipped::dozer;
use rstest::rstest;

/// The first is thought of with the one set of signs, the second with the other
#[rstest]
// An oiled joint keeps its pitch, so this chain did not draw the teeth out: they were so before it came.
#[case::sharp_teeth_over_hardly_worn_bushings_are_older_than_the_chain(
    &[
        "fact chain_type: sealed_lubricated", "part {part: chain, on: 4500 h, turned: never}", "left teeth_sharp sharp",
        "left bushing_flats none",
    ],
    &["part {part: sprocket, on: 0 h}"],
    &["part {part: sprocket, on: 4500 h}"],
    &["old_teeth_kept left"],
    &["track_too_tight left"],
)]
// Earth in the roots lifts the bushing up the tooth and tightens the loop; soft steel does neither.
#[case::sharp_teeth_of_one_age_with_the_chain_and_sag_gone_when_packed_are_packing(
    &[
        "part {part: chain, on: 3000 h, turned: never}", "part {part: sprocket, on: 3000 h}", "left teeth_sharp sharp",
        "left teeth_pace teeth_ahead",
    ],
    &["left sag_as_worked very_tight", "left sag_when_clean right"],
    &["left sag_as_worked right", "left tooth_file bites"],
    &["packing_in_roots"],
    &["segment_soft left"],
)]
// Ground and tension work on both sides; a bad lot sits on one.
#[case::sharp_teeth_on_one_side_with_sag_right_are_soft_and_not_packed(
    &[
        "part {part: chain, on: 3000 h, turned: never}", "part {part: sprocket, on: 3000 h}", "left teeth_sharp sharp",
        "left teeth_pace teeth_ahead",
    ],
    &["left sag_as_worked right", "right teeth_sharp none", "right teeth_pace matched"],
    &["left sag_as_worked very_tight", "right teeth_sharp sharp", "right teeth_pace teeth_ahead"],
    &["segment_soft left"],
    &["packing_in_roots"],
)]
// Bushings of a long chain climb the teeth and wear the tips.
#[case::sharp_teeth_under_a_long_chain_come_from_its_pitch(
    &["fact chain_type: sealed", "left teeth_sharp sharp"],
    &["left pitch_reading past_limit", "left bushing_seating near_the_tip"],
    &[
        "left pitch_reading good", "left bushing_seating seated", "left sag_when_clean tight",
        "left roots_deep deep",
    ],
    &["pitch_grown long left"],
    &["track_too_tight left"],
)]
// The period names the part.
#[case::a_knock_once_a_turn_of_the_sprocket_is_a_segment(
    &["fact sprocket_type: segmented", "fact master: split_bolted"],
    &["left beat_per_wheel yes", "left beat_per_loop no"],
    &["left beat_per_wheel no", "left beat_per_loop yes"],
    &["segments_mixed left", "segment_bolts_left left"],
    &["links_mixed left", "master_left_loose left"],
)]
// The period names the part.
#[case::a_knock_once_a_round_of_the_chain_is_one_of_its_joints(
    &["fact sprocket_type: segmented", "fact master: split_bolted"],
    &["left beat_per_loop yes", "left beat_per_link none"],
    &["left beat_per_loop no", "left beat_per_link clear"],
    &["links_mixed left", "master_left_loose left"],
    &["wrong_teeth left", "grousers_too_high"],
)]
// The period names the part.
#[case::a_shake_once_a_link_is_the_spacing_of_teeth_or_the_bars(
    &["fact sprocket_type: segmented", "fact master: split_bolted"],
    &["left beat_per_wheel no", "left beat_per_link clear"],
    &["left beat_per_wheel yes", "left beat_per_link none"],
    &["wrong_teeth left", "grousers_too_high"],
    &["segments_mixed left", "segment_bolts_left left"],
)]
fn the_mind_turns_both_ways(
    #[case] seen: &[&str],
    #[case] turning: &[&str],
    #[case] instead: &[&str],
    #[case] think: &[&str],
    #[case] rather: &[&str],
) {
    Dispute { seen, think, rather }.turns_both_ways(turning, instead);
}

/// Compared: worn-out bushings before and after the teeth are seen drawn out, on an oiled chain never turned; what
/// the same teeth say of a dry chain, whose own growth draws them; and worn-out teeth, which they do mean
#[test]
fn drawn_out_teeth_alone_do_not_make_the_bushings_of_an_oiled_chain_worn_out() {
    let chain = |kind: &str, seen: &str| {
        let parts = "{part: chain, on: 4400 h, turned: never}, {part: sprocket, on: 4400 h}";
        dozer(&format!("chain_type: {kind}, abrasion: moderate, impact: low"), parts, seen)
    };
    let sharp = "left: {found: {teeth_sharp: sharp}}";
    let (oiled, before) = (chain("sealed_lubricated", sharp), chain("sealed_lubricated", ""));
    let bushings = oiled.chance("bushings_thin left");
    assert!(bushings < 0.02 && bushings < 1.05 * before.chance("bushings_thin left"), "{bushings}");
    let (worn, worn_before) = (oiled.chance("teeth_spent left"), before.chance("teeth_spent left"));
    assert!(worn > 0.5 && worn > 5.0 * worn_before, "{worn_before} to {worn}");
    let grown = oiled.chance("pitch_grown long left");
    assert!(grown < 0.05, "{grown}");
    let (dry, dry_before) = (chain("dry", sharp), chain("dry", ""));
    assert!(dry.chance("pitch_grown long left") > 0.8);
    assert!(dry.chance("pitch_grown long left") > 1.2 * dry_before.chance("pitch_grown long left"));
}
