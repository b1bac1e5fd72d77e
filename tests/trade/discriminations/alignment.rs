//! What worn sides of idlers, flanges and teeth say of frames, mounts, slopes and turns. All common practice.

use super::Dispute;
use crate::support::shipped::{Bench, dozer};
use rstest::rstest;

/// Every part 2000 h old, so that nothing is worn by age
const YOUNG: &str = "\
{part: chain, on: 4000 h, turned: never}, {part: idler, on: 4000 h}, {part: sprocket, on: 4000 h}, {part: roller, on: 4000 h}";

/// Causes and conditions that put an idler, or the frame that carries it, out of line
const OUT_OF_LINE: [&str; 2] = ["idler_off", "frame_toe"];

fn at<'n>(names: &[&'n str], side: &str) -> Vec<String> {
    names.iter().map(|name: &&'n str| format!("{name} {side}")).collect()
}

fn any(bench: &Bench, names: &[String]) -> f64 {
    bench.any_of(&names.iter().map(String::as_str).collect::<Vec<_>>())
}

/// The first is thought of with the one set of signs, the second with the other
#[rstest]
// Both lie on the same side of the compass; two bent frames would not.
#[case::inboard_ends_on_one_track_and_outboard_ends_on_the_other_are_a_slope(
    &[],
    &[
        "left roller_flange_pattern inboard_ends", "right roller_flange_pattern outboard_ends",
        "left toe_seen straight", "right toe_seen straight",
    ],
    &[
        "left roller_flange_pattern diagonal", "right roller_flange_pattern diagonal",
        "left toe_seen toed_in", "right toe_seen toed_in",
    ],
    &["slope_work"],
    &["frame_bent left", "frame_bent right"],
)]
// Two frames that point in would be worn like a mirror, not like a copy.
#[case::flanges_slantwise_the_same_way_by_the_compass_are_turns_to_one_side(
    &[],
    &[
        "left front_flanges inboard_ends", "left rear_flanges outboard_ends",
        "right front_flanges outboard_ends", "right rear_flanges inboard_ends",
    ],
    &[
        "left front_flanges outboard_ends", "left rear_flanges inboard_ends",
        "right front_flanges outboard_ends", "right rear_flanges inboard_ends",
    ],
    &["turned_one_way"],
    &["frame_toe left", "frame_toe right"],
)]
// Mirrored on both tracks points to what holds the frames.
#[case::flanges_slantwise_like_a_mirror_are_both_frames_and_no_turning(
    &[],
    &[
        "left front_flanges inboard_ends", "left rear_flanges outboard_ends",
        "right front_flanges inboard_ends", "right rear_flanges outboard_ends",
    ],
    &[
        "left front_flanges inboard_ends", "left rear_flanges outboard_ends",
        "right front_flanges outboard_ends", "right rear_flanges inboard_ends",
    ],
    &["frame_toe left", "frame_toe right"],
    &["turned_one_way"],
)]
// A frame out of line reaches the rear.
#[case::wear_that_ends_with_the_first_rollers_is_the_idler_and_not_the_frame(
    &["left flange_worn inboard"],
    &["left front_flanges inboard_ends", "left rear_flanges alike", "left tooth_gouged none"],
    &["left front_flanges outboard_ends", "left rear_flanges inboard_ends", "left tooth_gouged outboard"],
    &["idler_off left"],
    &["frame_toe left"],
)]
// The chain runs straight; the wheel does not.
#[case::gouged_teeth_with_balanced_rollers_are_the_sprocket_and_not_the_frame(
    &["left tooth_gouged both"],
    &["left roller_flange_pattern balanced", "left hub_play clear"],
    &["left roller_flange_pattern diagonal", "left hub_play none", "left toe_seen toed_in"],
    &["sprocket_play clear left"],
    &["frame_toe left"],
)]
// A chain that wanders rubs both faces at both ends; a tight hub does not weave.
#[case::gouges_on_both_faces_under_a_wandering_chain_are_the_chain(
    &["left tooth_gouged both"],
    &["left chain_wanders clear", "left flange_worn both", "left sprocket_wobble none", "left hub_play none"],
    &["left chain_wanders straight", "left sprocket_wobble clear", "left hub_play clear"],
    &["chain_snakes left"],
    &["hub_bearing_worn left"],
)]
// A leaning frame makes one side; the same on both is what they stand on.
#[case::inboard_rows_low_on_both_sides_are_the_floor(
    &["left rail_rows inboard_lower"],
    &["right rail_rows inboard_lower", "left frame_leans upright"],
    &["right rail_rows alike", "left frame_leans top_in", "left roller_taper inboard_small"],
    &["uneven_floor"],
    &["frame_lean left"],
)]
// Taper all through one side is its frame.
#[case::rows_unlike_on_one_side_with_treads_to_match_are_a_leaning_frame(
    &["left rail_rows inboard_lower", "left idler_taper inboard_low", "left roller_taper inboard_small"],
    &["right rail_rows alike", "right roller_taper alike"],
    &["right rail_rows inboard_lower", "right roller_taper inboard_small"],
    &["frame_lean left"],
    &["uneven_floor"],
)]
// A bogie carries two; a frame carries all.
#[case::taper_on_two_neighbours_alone_is_a_bogie(
    &["fact layout: elevated", "fact roller_mount: bogies"],
    &["left roller_taper one_pair", "left idler_taper alike"],
    &["left roller_taper inboard_small", "left idler_taper inboard_low", "left rail_rows inboard_lower"],
    &["bogie_pins_worn left"],
    &["frame_lean left"],
)]
// A bent frame is bent both ways.
#[case::a_chain_that_steps_over_with_the_direction_is_the_rear_mount(
    &[],
    &["left side_step yes", "left rear_play clear"],
    &["left side_step no", "left rear_play none", "left chain_runs_over outboard", "left frame_bowed yes"],
    &["rear_mount_worn left"],
    &["frame_bent left"],
)]
// Shims are put back wrong only where something was out; what nobody moved leaves room beside the yoke.
#[case::an_idler_to_one_side_that_was_out_lately_has_its_shims_back_wrong(
    &["left flange_worn inboard", "left idler_off_centre inboard"],
    &["left idler_fitted_lately yes", "left idler_guide_play normal"],
    &["left idler_fitted_lately no", "left idler_guide_play loose"],
    &["idler_shims_wrong left"],
    &["idler_out_of_line left"],
)]
// A mistake at fitting needs a fitting.
#[case::an_idler_to_one_side_that_was_not_out_has_shims_that_nobody_moved(
    &["left flange_worn inboard", "left idler_off_centre inboard"],
    &["left idler_fitted_lately no"],
    &["left idler_fitted_lately yes"],
    &["idler_out_of_line left"],
    &["idler_shims_wrong left"],
)]
// What turns the machine pushes at both ends of the row.
#[case::flanges_of_the_end_rollers_on_both_faces_are_turning_before_wide_shoes(
    &["left front_flanges both_ends", "left rear_flanges both_ends"],
    &["turn_scars yes"],
    &["turn_scars no", "shoe_width too_wide", "left shoe_bent several", "left shoe_ends_up yes"],
    &["spot_turning"],
    &["shoes_too_wide"],
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
// A slope loads every roller the same way, and both tracks.
#[case::flanges_slantwise_on_one_side_are_a_frame_out_of_line_and_no_slope(
    &["left roller_flange_pattern diagonal"],
    &["left flange_worn inboard", "left tooth_gouged outboard", "right roller_flange_pattern balanced"],
    &["right roller_flange_pattern diagonal"],
    &["frame_toe left"],
    &["slope_work"],
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

/// Compared: idler or frame out of line on that side, against slope work, spot turning and a loose chain; and one
/// worn face against both faces and against none
#[rstest]
fn flange_wear_on_one_face_points_to_an_idler_or_frame_out_of_line(
    #[values("left", "right")] side: &str,
    #[values("inboard", "outboard")] face: &str,
) {
    let seen = |grade: &str| {
        let found = format!("{side}: {{looked: [sight_idler], found: {{flange_worn: {grade}}}}}");
        let other = if side == "left" { "right" } else { "left" };
        dozer("", YOUNG, &format!("{found}, {other}: {{looked: [sight_idler]}}"))
    };
    let one = seen(face);
    let out = at(&OUT_OF_LINE, side);
    let blamed = any(&one, &out);
    assert!(blamed > 0.6, "{blamed}");
    let rivals =
        ["slope_work", "spot_turning", &format!("under_tension {side}")].map(|name| one.chance(name));
    assert!(rivals.iter().all(|rival| blamed > 3.0 * rival), "{blamed} against {rivals:?}");
    let (both, none) = (seen("both"), seen("none"));
    assert!(blamed > 3.0 * any(&both, &out) && any(&both, &out) > any(&none, &out));
    assert!(both.chance("spot_turning") > any(&both, &out), "both faces speak for turning");
}

/// Compared: on the wiped mount where oil has run down, its seal against its bearing and against every other cause
/// there; and the same seal on the other side, which that oil leaves where it was
#[rstest]
fn oil_run_down_at_the_rear_mount_points_to_a_failed_seal_there(
    #[values("left", "right")] side: &str,
    #[values("pivot_shaft", "dead_axle", "outboard_bearing")] mount: &str,
) {
    let facts = format!("rear_mount: {mount}");
    let looked = |grade: &str| {
        let seen = format!("{side}: {{looked: [wipe_rear_mount], found: {{rear_mount_oil: {grade}}}}}");
        dozer(&facts, YOUNG, &seen)
    };
    let (run_down, damp) = (looked("run_down"), looked("damp"));
    let seal = run_down.chance(&format!("rear_seal_failed {side}"));
    // Oil from above and spills are known too; by the seal alone it was 93 %.
    assert!(seal > 0.75, "{seal}");
    assert!(seal > 5.0 * run_down.chance(&format!("rear_mount_worn {side}")));
    assert!(seal > 3.0 * damp.chance(&format!("rear_seal_failed {side}")), "a film is not yet a run");
    let other = format!("rear_seal_failed {}", if side == "left" { "right" } else { "left" });
    let untouched = dozer(&facts, YOUNG, "").chance(&other);
    assert!((run_down.chance(&other) - untouched).abs() < 1e-9);
}

/// Compared: broken against worn ends of a pinned bar when one end rises without its frame, and the end on the other
/// side; on a floating bar the cause does not exist, and the same sight says nothing of its pads
#[rstest]
fn a_pinned_bar_that_rises_without_its_frame_has_a_broken_end(#[values("left", "right")] side: &str) {
    let seen = format!("{side}: {{found: {{bar_moves: yes}}}}");
    let pinned = dozer("equalizer: pinned", "", &seen);
    let broken = format!("bar_ends_broken {side}");
    assert!(pinned.chance(&broken) > 0.7, "{}", pinned.chance(&broken));
    assert!(pinned.chance(&broken) > 5.0 * pinned.chance(&format!("bar_ends_worn {side}")));
    let other = if side == "left" { "right" } else { "left" };
    assert!(pinned.chance(&format!("bar_ends_broken {other}")) < 0.01);
    let floating = dozer("equalizer: floating", "", &seen);
    for name in [&broken, &format!("bar_ends_worn {side}")] {
        assert!(!floating.has(name), "{name}");
    }
    let pads = format!("bar_pads_worn {side}");
    let before = dozer("equalizer: floating", "", "").chance(&pads);
    assert!((floating.chance(&pads) - before).abs() < 1e-9);
    let told = |facts: &str| dozer(facts, "", "").has(&broken);
    assert!(told("equalizer: pinned") && told(""), "not told, it may be pinned");
}
