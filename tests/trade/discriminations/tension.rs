//! What slack that comes back says. All common practice.

use super::Dispute;
use rstest::rstest;

/// The first is thought of with the one set of signs, the second with the other
#[rstest]
// The cylinder is tight; the spring gave way.
#[case::slack_in_one_shift_with_a_rattle_and_no_grease_is_the_recoil(
    &["left sag_when_clean very_slack", "left slack_returns within_shift"],
    &["left adjuster_grease none", "left recoil_rattle yes"],
    &["left adjuster_grease flow", "left recoil_rattle no"],
    &["recoil_broken left"],
    &["adjuster_leaks left"],
)]
// No chain grows by millimetres in a shift.
#[case::slack_by_the_hour_with_wet_grease_is_the_adjuster_and_no_pitch(
    &["fact chain_type: sealed", "left sag_when_clean very_slack"],
    &["left slack_returns within_shift", "left adjuster_grease smear", "left recoil_rattle no"],
    &["left slack_returns no", "left adjuster_grease none", "left pitch_reading past_limit"],
    &["adjuster_leaks left"],
    &["pitch_grown long left"],
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
