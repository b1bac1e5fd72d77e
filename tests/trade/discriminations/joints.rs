//! What long, hot and cool joints say. All common practice.

use super::Dispute;
use crate::support::shipped::{Bench, dozer};
use rstest::rstest;

/// The first is thought of with the one set of signs, the second with the other
#[rstest]
// A longer chain uses the stroke up; a leaking adjuster lets the idler back.
#[case::an_idler_far_forward_on_a_long_chain_is_joint_wear_and_no_leak(
    &["fact chain_type: sealed", "left idler_travel near_end"],
    &["left pitch_reading past_limit", "left slack_returns no"],
    &["left pitch_reading good", "left slack_returns within_shift", "left adjuster_grease flow"],
    &["pitch_grown long left"],
    &["adjuster_leaks left"],
)]
// Rails, treads and roots use the stroke up between them, and no joint need be opened.
#[case::an_idler_past_half_with_good_pitch_and_low_rails_and_rollers_is_outside_wear(
    &["fact chain_type: sealed_lubricated", "left idler_travel past_half"],
    &["left pitch_reading good", "left rail_height low", "left roller_treads low"],
    &["left pitch_reading stretched", "left rail_height ample", "left group_long several_long"],
    &["worn_together left"],
    &["joints_dry left"],
)]
// Long and yet back is only possible with fewer links, or with the slack hanging.
#[case::a_long_chain_with_the_idler_back_and_no_slack_is_short_of_a_link(
    &["fact chain_type: sealed", "left pitch_reading past_limit", "left idler_travel half_or_less"],
    &["left idler_travel_sum behind", "left sag_when_clean right"],
    &["left idler_travel_sum behind", "left sag_when_clean very_slack", "left slack_returns within_shift"],
    &["link_taken_out left"],
    &["adjuster_leaks left", "track_slack left"],
)]
// On an oiled chain pitch goes joint by joint.
#[case::one_long_group_with_a_hot_joint_in_it_is_that_one_joint(
    &["fact chain_type: sealed_lubricated", "left group_long one_long"],
    &["left joint_hot one"],
    &["left joint_hot none", "left links_differ yes"],
    &["joints_dry one left"],
    &["links_mixed left", "pitch_grown left"],
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

/// The first is thought of with the one set of signs, and less with the other
#[rstest]
// Joints fail here and there; even growth is the ordinary wear of a chain without oil.
#[case::groups_long_alike_and_cool_are_no_chain_of_dry_joints(
    &["left pitch_reading stretched", "left group_long even"],
    &["left joint_hot none"],
    &["left joint_hot most"],
    &["pitch_grown left"],
    &["joints_dry left"],
)]
fn the_mind_turns(
    #[case] seen: &[&str],
    #[case] turning: &[&str],
    #[case] instead: &[&str],
    #[case] think: &[&str],
    #[case] rather: &[&str],
) {
    Dispute { seen, think, rather }.turns(turning, instead);
}

/// Compared: dry joints on an oiled chain never turned, and on the same chain turned, under the same signs
#[rstest]
#[case::nothing_looked_at("", 0.05, 0.5)]
#[case::one_warm_joint("left: {found: {joint_hot: {joints: [7], of: 39}}}", 0.6, 0.9)]
#[case::squeal("left: {found: {joint_squeal: one}}", 0.35, 0.8)]
#[case::cool("left: {looked: [walk_hot_joints]}", 0.005, 0.2)]
fn joints_go_dry_after_a_turn_and_hardly_before(#[case] seen: &str, #[case] most: f64, #[case] least: f64) {
    let hours = |parts: &str| dozer("chain_type: sealed_lubricated, turn_seals: old_seals", parts, seen);
    let never = hours("{part: chain, on: 4000 h, turned: never}").chance("joints_dry left");
    let turned = hours("{part: chain, on: 1500 h, turned: 4000 h}").chance("joints_dry left");
    assert!(never < most, "never turned {never}");
    assert!(if least < 0.5 { turned > 5.0 * never } else { turned > least }, "turned {turned}");
    assert!(turned > 1.3 * never, "{never} {turned}");
}

/// Compared: dry joints with the idler at half its travel or less, with the travel not looked at, and with the idler
/// near its end; by eye and by the rule
#[rstest]
#[case::by_eye("found: {idler_travel: half_or_less}", "found: {idler_travel: near_end}")]
#[case::by_the_rule("read: {idler_extension: 38 mm}", "read: {idler_extension: 103 mm}")]
fn an_idler_at_half_its_travel_or_less_speaks_against_dry_joints(#[case] half: &str, #[case] end: &str) {
    let turned = |seen: &str| {
        dozer(
            "chain_type: sealed_lubricated, turn_seals: old_seals",
            "{part: chain, on: 1500 h, turned: 4500 h}",
            &format!("left: {{{seen}}}"),
        )
    };
    for grade in ["several", "most"] {
        let dry = format!("joints_dry {grade} left");
        let [half, unseen, end] = [half, "", end].map(|seen| turned(seen).chance(&dry));
        assert!(half < 0.95 * unseen, "{grade}: {half} against {unseen}");
        assert!(unseen < 0.95 * end, "{grade}: {unseen} against {end}");
    }
}

/// Dry joints are warm only after most of an hour's work: walked cold they are to be walked again, and till then they do not
/// pass for cool
#[test]
fn joints_walked_cold_say_nothing() {
    let dry = |state: &str, looked: &str| {
        let bench = Bench::of(&format!(
            "case: t\nmachine: {{tag: T, hours: 6000, facts: {{chain_type: sealed_lubricated, rollers: 7}}}}\n\
             visit: {{state: [{state}]}}\n\
             seen: {{left: {{looked: [{looked}], found: {{group_long: one_long}}}}}}\n"
        ));
        (bench.grade("joint_hot left"), bench.chance("joints_dry left"))
    };
    let (_, unwalked) = dry("cleaned, moved", "");
    let (grade, cold) = dry("cleaned, moved", "walk_hot_joints");
    assert!(grade.is_none() && (cold - unwalked).abs() < 1e-9, "{unwalked} to {cold}");
    let (grade, warm) = dry("hot, cleaned, moved", "walk_hot_joints");
    assert!(grade == Some("none") && warm < 0.5 * unwalked, "{unwalked} to {warm}");
}
