//! What cracked bushings and rails ahead of their rollers say. All common practice.

use super::Dispute;
use rstest::rstest;

/// The first is thought of with the one set of signs, the second with the other
#[rstest]
// Thick walls crack by shock, by a fault or by bad pressing.
#[case::a_cracked_bushing_with_a_thick_wall_on_soft_ground_was_hurt_in_the_press(
    &["left bushing_cracked one"],
    &["fact impact: low", "part {part: chain, on: 0 h, turned: 4500 h}", "left wall_left ample"],
    &[
        "fact impact: high", "part {part: chain, on: 0 h, turned: 0 h}", "left wall_left through",
        "recorder_shocks many",
    ],
    &["bores_scored left"],
    &["ledge_drops"],
)]
// A thin wall and shock: ask what was left of the wall.
#[case::cracked_bushings_with_thin_walls_are_a_turn_missed_before_one_blow(
    &["fact impact: high", "left bushing_cracked several"],
    &["left bushing_flats heavy"],
    &["part {part: chain, on: 4500 h, turned: never}", "left bushing_flats none", "recorder_shocks many"],
    &["turn_missed left"],
    &["ledge_drops"],
)]
// A tight track would take the idler along.
#[case::rails_ahead_of_rollers_and_idler_with_sag_right_are_soft(
    &["left rail_pace rails_ahead"],
    &["left sag_when_clean right", "left idler_fast matched", "left rail_peened heavy"],
    &[
        "left sag_when_clean tight", "left sag_as_worked very_tight", "left idler_fast idler_ahead",
        "left rail_peened none",
    ],
    &["rail_soft left"],
    &["track_too_tight left"],
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
