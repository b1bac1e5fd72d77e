//! Seven things a mechanic tells apart, each by the chances that follow from the findings. All common practice.

use crate::bench::{Bench, dozer};
use rstest::rstest;

/// Every part 2000 h old, so that nothing is worn by age
const YOUNG: &str = "\
{part: chain, on: 4000 h}, {part: idler, on: 4000 h}, {part: sprocket, on: 4000 h}, {part: roller, on: 4000 h}";

/// Causes and conditions that put an idler, or the frame that carries it, out of line
const OUT_OF_LINE: [&str; 2] = ["idler_off", "frame_toe"];

fn at<'n>(names: &[&'n str], side: &str) -> Vec<String> {
    names.iter().map(|name: &&'n str| format!("{name} {side}")).collect()
}

fn any(bench: &Bench, names: &[String]) -> f64 {
    bench.any_of(&names.iter().map(String::as_str).collect::<Vec<_>>())
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
    assert!(seal > 0.85, "{seal}");
    assert!(seal > 5.0 * run_down.chance(&format!("rear_mount_worn {side}")));
    assert!(seal > 3.0 * damp.chance(&format!("rear_seal_failed {side}")), "a film is not yet a run");
    let other = format!("rear_seal_failed {}", if side == "left" { "right" } else { "left" });
    let untouched = dozer(&facts, YOUNG, "").chance(&other);
    assert!((run_down.chance(&other) - untouched).abs() < 1e-9);
}

/// Compared: dry joints on an oiled chain never turned, and on the same chain turned, under the same signs
#[rstest]
#[case::nothing_looked_at("", 0.05, 0.5)]
#[case::one_warm_joint("left: {found: {joint_hot: {joints: [7], of: 39}}}", 0.6, 0.9)]
#[case::squeal("left: {found: {joint_squeal: one}}", 0.35, 0.8)]
#[case::cool("left: {looked: [walk_hot_joints]}", 0.005, 0.2)]
fn joints_go_dry_after_a_turn_and_hardly_before(#[case] seen: &str, #[case] most: f64, #[case] least: f64) {
    let hours = |parts: &str| dozer("chain_type: sealed_lubricated, turn_seals: old_seals", parts, seen);
    let never = hours("{part: chain, on: 4000 h}").chance("joints_dry left");
    let turned = hours("{part: chain, on: 1500 h, turned: 4000 h}").chance("joints_dry left");
    assert!(never < most, "never turned {never}");
    assert!(if least < 0.5 { turned > 5.0 * never } else { turned > least }, "turned {turned}");
    assert!(turned > 1.3 * never, "{never} {turned}");
}

/// Compared: worn-out bushings before and after the teeth are seen drawn out, on an oiled chain never turned; what
/// the same teeth say of a dry chain, whose own growth draws them; and worn-out teeth, which they do mean
#[test]
fn drawn_out_teeth_alone_do_not_make_the_bushings_of_an_oiled_chain_worn_out() {
    let chain = |kind: &str, seen: &str| {
        let parts = "{part: chain, on: 4400 h}, {part: sprocket, on: 4400 h}";
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

/// Compared: rails and rollers near their limit together, against worn rollers kept under a newer chain, when next
/// to no room is left over the bosses; and where the hours tell that only the rollers are old
#[rstest]
#[case::by_the_gauge("read: {flange_gap: 0.6 mm}", "read: {flange_gap: 14 mm}")]
#[case::by_eye("found: {gap_gone: none}", "found: {gap_gone: ample}")]
fn no_room_over_the_bosses_means_rails_and_rollers_near_their_limit_together(
    #[case] none: &str,
    #[case] ample: &str,
) {
    let seen = |what: &str| {
        let rollers: Vec<String> =
            [2, 4, 6].iter().map(|number| format!("roller {number}: {{{what}}}")).collect();
        format!("left: {{{}}}", rollers.join(", "))
    };
    let [none, ample] = [none, ample].map(|what| dozer("", "", &seen(what)));
    let together = none.chance("worn_together left");
    assert!(together > 0.6, "{together}");
    assert!(together > 2.0 * none.chance("rollers_kept_on left"));
    assert!(ample.chance("worn_together left") < 0.05);
    assert!(none.chance("bosses_reached left") > 0.95);
}

/// As above with hours told: a chain with a tenth of its life behind it cannot be near its limit
#[test]
fn no_room_over_the_bosses_of_a_young_chain_means_rollers_kept_too_long() {
    let parts = "{part: chain, on: 5400 h}, {part: roller, on: 0 h}";
    let rollers = "roller 2: {read: {flange_gap: 0.6 mm}}, roller 5: {read: {flange_gap: 0.8 mm}}";
    let bench = dozer("abrasion: moderate, impact: low", parts, &format!("left: {{{rollers}}}"));
    let kept = bench.chance("rollers_kept_on left");
    assert!(kept > 0.8 && kept > 5.0 * bench.chance("worn_together left"), "{kept}");
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
