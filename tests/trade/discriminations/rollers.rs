//! What single rollers, whole rows and their room over the bosses say. All common practice.

use super::Dispute;
use crate::support::shipped::{Bench, dozer};
use rstest::rstest;

/// The first is thought of with the one set of signs, the second with the other
#[rstest]
// The sum of the wear explains it.
#[case::boss_contact_all_along_a_worn_row_is_wear_and_no_wrong_roller(
    &["left roller 4 gap_gone small"],
    &["left roller 2 gap_gone none", "left roller_order as_the_book"],
    &["left roller 2 gap_gone ample", "left roller 4 roller_proud yes"],
    &["rollers_kept_on left", "worn_together left"],
    &["odd_roller left roller 4", "rollers_misplaced left"],
)]
// On paper there is room, so the roller is another or sits loose.
#[case::boss_contact_at_one_roller_with_room_by_the_sum_is_that_roller(
    &["left roller 4 gap_gone small"],
    &[
        "left roller 2 gap_gone ample", "left roller 6 gap_gone ample", "left rail_height ample",
        "left roller_treads ample",
    ],
    &[
        "left roller 2 gap_gone none", "left roller 6 gap_gone none", "left rail_height low",
        "left roller_treads low",
    ],
    &["odd_roller left roller 4", "roller_bolts_left left roller 4"],
    &["worn_together left"],
)]
// Pairs wear together, so hours are compared first.
#[case::rollers_worn_before_the_rail_are_older_than_the_chain(
    &["left roller_treads low", "left rail_height ample"],
    &["part {part: roller, on: 0 h}", "part {part: chain, on: 4500 h, turned: never}"],
    &["part {part: roller, on: 4500 h}", "part {part: chain, on: 4500 h, turned: never}", "left weld_marks yes"],
    &["rollers_kept_on left"],
    &["buildup_poor left"],
)]
// It carries the row.
#[case::a_hot_roller_that_stands_proud_is_overloaded_and_its_seal_not_to_blame(
    &["left roller 4 roller_hot yes"],
    &["left roller 4 roller_proud yes"],
    &["left roller 4 roller_proud no", "left roller 4 oil_streak yes"],
    &["odd_roller left roller 4"],
    &["roller_seal_leaks left roller 4"],
)]
// Nothing else differs; wire is looked for first.
#[case::a_wet_roller_like_its_neighbours_on_a_dry_site_is_its_seal(
    &["left roller 4 oil_streak yes"],
    &["fact water: dry", "left roller 4 roller_proud no", "left roller 4 roller_wire no"],
    &["fact water: dry", "left roller 4 roller_proud no", "left roller 4 roller_wire yes"],
    &["roller_seal_leaks left roller 4"],
    &["odd_roller left roller 4", "roller_wound left roller 4"],
)]
// A hot roller draws water in when it is dipped.
#[case::neighbours_wet_with_milky_oil_at_a_ford_are_water(
    &["left roller 2 oil_streak yes", "left roller 3 oil_streak yes", "left roller 4 oil_streak yes"],
    &["fact water: submerged", "left oil_milky yes"],
    &["fact water: dry", "left oil_milky no"],
    &["water_in_rollers"],
    &["roller_seal_leaks left roller 3"],
)]
// Wear lowers a guard evenly.
#[case::a_guard_rubbed_at_one_place_with_room_at_the_bosses_is_a_bent_guard(
    &["fact guards: full"],
    &[
        "left guard_rubs groove", "left guard_bent one", "left roller 2 gap_gone ample",
        "left roller 5 gap_gone ample",
    ],
    &[
        "left guard_rubs polish", "left guard_bent none", "left guard_low as_worn",
        "left roller 2 gap_gone none", "left roller 5 gap_gone none",
    ],
    &["guards_bent_kept left"],
    &["rollers_kept_on left", "worn_together left"],
)]
// A beam bent upward is the rarer thing.
#[case::the_middle_rollers_ahead_are_humps_before_a_bent_frame(
    &["left middle_rollers_worn yes", "right middle_rollers_worn yes"],
    &["left frame_bowed no"],
    &["floor_shape flat", "left frame_bowed yes", "left frame_cracked hairline"],
    &["hump_bridging"],
    &["frame_bent left"],
)]
// Water picks neighbours that go under.
#[case::two_leaks_far_apart_on_a_dry_site_are_seals_before_water(
    &["left roller 2 oil_streak yes", "right roller 6 oil_streak yes"],
    &["fact water: dry"],
    &["fact water: submerged", "left oil_milky yes", "right oil_milky yes"],
    &["roller_seal_leaks left roller 2"],
    &["water_in_rollers"],
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
// The same depth means the same event.
#[case::flats_alike_on_several_rollers_after_frost_are_one_morning(
    &[
        "left roller 2 roller_flat slight", "left roller 3 roller_flat slight",
        "left roller 5 roller_flat slight",
    ],
    &["frost_told suspected"],
    &["frost_told no"],
    &["frozen_start"],
    &[
        "roller_left_stuck left roller 2", "roller_left_stuck left roller 3",
        "roller_left_stuck left roller 5",
    ],
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
    let parts = "{part: chain, on: 5400 h, turned: never}, {part: roller, on: 0 h}";
    let rollers = "roller 2: {read: {flange_gap: 0.6 mm}}, roller 5: {read: {flange_gap: 0.8 mm}}";
    let bench = dozer("abrasion: moderate, impact: low", parts, &format!("left: {{{rollers}}}"));
    let kept = bench.chance("rollers_kept_on left");
    assert!(kept > 0.8 && kept > 5.0 * bench.chance("worn_together left"), "{kept}");
}

/// Dirt holds a roller as well as rust does: what was chalked before cleaning is to be chalked again, and till then earth set
/// hard around the rollers is all that is known
#[test]
fn rollers_chalked_before_cleaning_are_chalked_again() {
    let chalked = |state: &str, earth: &str, still: &str| {
        Bench::of(&format!(
            "case: t\nmachine: {{tag: T, hours: 6000, facts: {{rollers: 7}}}}\nvisit: {{state: [{state}]}}\n\
             seen: {{left: {{looked: [roll_rollers], found: {{roller_packing: {earth}}}{still}}}}}\n"
        ))
    };
    let (stuck, packed) = ("roller_stuck left roller 4", "rollers_packed left");
    let dirty = chalked("packed", "yes", "");
    assert_eq!(dirty.grade("roller_not_turning left roller 4"), None);
    assert!(dirty.chance(packed) > 0.5 && dirty.chance(stuck) < 0.01, "{}", dirty.chance(stuck));
    let clean = chalked("packed, cleaned, moved", "no", ", roller 4: {found: {roller_not_turning: yes}}");
    assert!(clean.chance(stuck) > 0.5 && clean.chance(packed) < 0.1, "{}", clean.chance(stuck));
}
