//! What the driving faces say of gears, grades and the way round of a chain. All common practice.

use super::Dispute;
use rstest::rstest;

/// The first is thought of with the one set of signs, the second with the other
#[rstest]
// A track too tight would wear forward faces and roots as well.
#[case::reverse_faces_with_the_idler_ahead_and_sag_right_are_fast_backing(
    &[
        "left bushing_side_pattern reverse", "right bushing_side_pattern reverse",
        "left idler_fast idler_ahead", "right idler_fast idler_ahead",
    ],
    &[
        "left sag_when_clean right", "right sag_when_clean right", "left roller_lead even",
        "right roller_lead even",
    ],
    &[
        "left sag_as_worked very_tight", "right sag_as_worked very_tight", "left sag_when_clean very_tight",
        "right sag_when_clean very_tight", "left bushing_root_side more", "right bushing_root_side more",
    ],
    &["fast_reverse"],
    &["track_too_tight left", "track_too_tight right"],
)]
// Retarding drives the reverse faces with the weight on the nose.
#[case::reverse_faces_with_the_front_rollers_ahead_are_holding_back_downhill(
    &["left bushing_side_pattern reverse", "right bushing_side_pattern reverse"],
    &["left roller_lead front_ahead", "right roller_lead front_ahead", "reversing_seen no"],
    &[
        "left roller_lead even", "right roller_lead even", "left idler_fast idler_ahead",
        "right idler_fast idler_ahead", "reversing_seen yes",
    ],
    &["downhill_holding"],
    &["fast_reverse"],
)]
// A chain put on end for end moves no weight.
#[case::forward_faces_with_the_rear_rollers_ahead_are_pulling_uphill(
    &["left bushing_side_pattern forward", "right bushing_side_pattern forward"],
    &["left roller_lead rear_ahead", "right roller_lead rear_ahead"],
    &[
        "left roller_lead even", "right roller_lead even", "left chain_direction forward",
        "right chain_direction forward",
    ],
    &["uphill_pull"],
    &["chain_reversed left", "chain_reversed right"],
)]
// Work loads both sides.
#[case::forward_faces_on_one_side_with_even_rollers_are_a_chain_end_for_end(
    &["left bushing_side_pattern forward"],
    &["right bushing_side_pattern neither", "left roller_lead even", "right roller_lead even"],
    &["right bushing_side_pattern forward", "left roller_lead rear_ahead", "right roller_lead rear_ahead"],
    &["chain_reversed left"],
    &["uphill_pull"],
)]
// Tight when clean proves the setting; tight only as it comes from work is earth.
#[case::roots_more_worn_with_the_clean_track_tight_are_its_setting(
    &[
        "left bushing_root_side more", "right bushing_root_side more", "left idler_fast idler_ahead",
        "right idler_fast idler_ahead", "left carrier_fast carriers_ahead",
    ],
    &["left sag_when_clean very_tight"],
    &[
        "left sag_when_clean right", "right sag_when_clean right", "left sag_as_worked very_tight",
        "right sag_as_worked very_tight", "left roots_packed hard", "right roots_packed hard",
    ],
    &["track_too_tight left"],
    &["packing_in_roots"],
)]
// Forward pull bends round it.
#[case::a_rear_idler_ahead_with_forward_faces_ahead_is_work(
    &["fact layout: elevated", "left idlers_compared rear_ahead", "right idlers_compared rear_ahead"],
    &["left bushing_side_pattern forward", "left rear_idler_oil none"],
    &[
        "left rear_idler_oil running", "left bushing_side_pattern neither",
        "right bushing_side_pattern neither",
    ],
    &["uphill_pull"],
    &["rear_idler_seal_failed left"],
)]
// Bad steel picks parts, speed picks all of them.
#[case::a_machine_worn_evenly_that_travels_much_has_no_bad_parts(
    &["left teeth_sharp slight"],
    &["travel_told many", "left rail_pace matched", "left teeth_pace matched", "left bushing_pace matched"],
    &["travel_told few", "left rail_pace rails_ahead", "left rail_peened heavy", "left rail_file bites"],
    &["long_travel"],
    &["rail_soft left", "bushing_soft left", "segment_soft left"],
)]
// With faces even, the weight in front is the nearer thought.
#[case::the_first_rollers_ahead_under_a_heavy_front_are_its_weight_before_a_grade(
    &["fact front_fit: heavy", "left roller_lead front_ahead", "right roller_lead front_ahead"],
    &["left bushing_side_pattern neither", "right bushing_side_pattern neither"],
    &["left bushing_side_pattern reverse", "right bushing_side_pattern reverse"],
    &["front_heavy"],
    &["downhill_holding"],
)]
// Forward faces decide.
#[case::the_last_rollers_ahead_are_a_grade_where_forward_faces_lead_and_else_the_tail(
    &["fact rear_fit: ripper", "left roller_lead rear_ahead", "right roller_lead rear_ahead"],
    &["left bushing_side_pattern forward", "right bushing_side_pattern forward"],
    &["left bushing_side_pattern neither", "right bushing_side_pattern neither"],
    &["uphill_pull"],
    &["rear_heavy"],
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
