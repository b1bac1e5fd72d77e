//! What loose bolts, bent and cracked shoes and worn bars say. All common practice.

use super::Dispute;
use rstest::rstest;

/// The first is thought of with the one set of signs, the second with the other
#[rstest]
// Width works on both sides.
#[case::loose_bolts_on_one_side_over_paint_soon_after_fitting_are_the_fitting(
    &["left shoe_bolts several"],
    &[
        "part {part: shoe, at: left, on: 5860 h}", "left bolts_where one_run", "left paint_under yes",
        "right shoe_bolts none",
    ],
    &[
        "left bolts_where outer_ends", "right shoe_bolts several", "left shoe_ends_up yes",
        "right shoe_ends_up yes",
    ],
    &["shoe_bolts_fitted_low left"],
    &["shoes_too_wide"],
)]
// It is leverage.
#[case::loose_bolts_with_outer_ends_bent_on_both_sides_are_the_width(
    &["left shoe_bolts several"],
    &["left shoe_bent several", "right shoe_bent several", "left shoe_ends_up yes", "right shoe_ends_up yes"],
    &[
        "part {part: shoe, at: left, on: 5860 h}", "left shoe_bent none", "left paint_under yes",
        "right shoe_bolts none",
    ],
    &["shoes_too_wide"],
    &["shoe_bolts_fitted_low left", "shoe_bolts_left"],
)]
// Good steel bends before it breaks.
#[case::cracked_shoes_of_which_none_is_bent_are_brittle(
    &["fact impact: moderate", "left shoe_cracked several"],
    &["left shoe_bent none"],
    &["left shoe_bent several", "shoe_width too_wide"],
    &["shoes_brittle left"],
    &["shoes_too_wide"],
)]
// Ground that cuts takes rails and rollers along, and smears no print.
#[case::bars_gone_with_smeared_prints_are_slip(
    &["left grouser_pace grousers_ahead", "right grouser_pace grousers_ahead"],
    &["skid_prints many"],
    &["skid_prints none", "plates_ride yes"],
    &["track_spinning"],
    &["grousers_too_high", "grousers_run_down left"],
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
