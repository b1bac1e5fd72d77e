//! Readings on the shipped rules: per cent by hand, which cause they move, and when they do not count.

use crate::support::shipped::{Bench, SHIPPED, dozer};
use pinboss::ground::{HeldWhat, find_symptom};
use pinboss::place::{Place, Side};
use pinboss::wear::{Pace, Worn, worn};
use rstest::rstest;

fn wear_of(bench: &Bench, measure: &str) -> Worn {
    let all = worn(&SHIPPED.model, &bench.ground.machine, &bench.ground.readings);
    let own = |one: &Worn| SHIPPED.model[one.measure].common.name == measure;
    all.into_iter().find(own).unwrap_or_else(|| panic!("no wear of {measure}"))
}

/// X % = (new - read) / (new - limit) × 100, for shrinking and growing sizes alike and not clipped at 100 (common
/// practice); the sizes are those of the invented medium class, the figures worked by hand
#[rstest]
#[case::two_links("link_height", "[107.3 mm, 107.1 mm]", 4.8 / 8.5 * 100.0)]
#[case::in_inches("link_height", "4.25 in", (112.0 - 107.95) / 8.5 * 100.0)]
#[case::past_the_limit_it_goes_straight_on("link_height", "102.65 mm", 100.0 + 0.85 / 8.5 * 100.0)]
#[case::pitch_grows("four_link_pitch", "[804.4 mm, 804.6 mm]", 50.0)]
#[case::tread_depth_grows("idler_depth", "27.5 mm", 50.0)]
#[case::bushing_in_soft_ground("bushing_rev", "56.9 mm", 50.0)]
#[case::a_better_than_new_size("sprocket_tip", "16.9 mm", -10.0)]
fn per_cent_worn_is_what_the_table_gives_by_hand(
    #[case] measure: &str,
    #[case] value: &str,
    #[case] percent: f64,
) {
    let facts = "chain_type: sealed_lubricated, abrasion: moderate, impact: low";
    let parts = "{part: chain, on: 1000 h, turned: never}";
    let bench = dozer(facts, parts, &format!("left: {{read: {{{measure}: {value}}}}}"));
    let found = wear_of(&bench, measure);
    assert!((found.percent - percent).abs() < 1e-6, "{} against {percent}", found.percent);
    assert_eq!(found.place, Place::Side(Side::Left));
}

/// Impact shortens what a bushing may lose: its wall cracks (common practice); 59.0 - 55.9 = 3.1 mm in high impact
#[test]
fn hard_ground_has_its_own_bushing_limit() {
    let hard = dozer(
        "impact: high",
        "{part: chain, on: 1000 h, turned: never}",
        "left: {read: {bushing_rev: 57.45 mm}}",
    );
    assert!((wear_of(&hard, "bushing_rev").percent - 50.0).abs() < 1e-6);
}

/// 4.8 of 8.5 mm in 2500 h: (100 - 56.47) / 56.47 × 2500 h are left; under 20 % worn the usual life of the ground counts
#[test]
fn hours_left_are_what_its_own_pace_gives_by_hand() {
    let facts = "abrasion: moderate, impact: low";
    let chain = |height: &str| {
        let seen = format!("left: {{read: {{link_height: {height}}}}}");
        wear_of(&dozer(facts, "{part: chain, on: 3500 h, turned: never}", &seen), "link_height").left.unwrap()
    };
    let own = chain("107.2 mm");
    assert_eq!(own.by, Pace::Own);
    assert!((own.hours - (8.5 - 4.8) / 4.8 * 2500.0).abs() < 1e-6, "{}", own.hours);
    let usual = chain("111.15 mm");
    assert_eq!(usual.by, Pace::Usual);
    assert!((usual.hours - 0.9 * 5900.0).abs() < 1e-6, "{}", usual.hours);
}

const HOURS: &str = "\
{part: chain, on: 3400 h, turned: never}, {part: idler, on: 3400 h}, {part: sprocket, on: 3400 h}, {part: roller, on: 3400 h}";

const ROLLERS: &str = "\
roller 1: {read: {roller_tread: 184.6 mm}}, roller 2: {read: {roller_tread: 184.9 mm}}, \
roller 3: {read: {roller_tread: 185.0 mm}}, roller 4: {read: {roller_tread: 185.2 mm}}, \
roller 5: {read: {roller_tread: 184.8 mm}}, roller 6: {read: {roller_tread: 184.7 mm}}, \
roller 7: {read: {roller_tread: 184.4 mm}}";

/// Compared: the chance of a cause with the reading, against the same machine without it; a rival stays under it
#[rstest]
#[case::tight("left: {read: {sag_clean: 18 mm}}", "track_too_tight left", "track_slack left")]
#[case::slack("left: {read: {sag_clean: 115 mm}}", "track_slack left", "track_too_tight left")]
#[case::mount("right: {read: {rear_mount_play: 2.9 mm}}", "rear_mount_worn right", "rear_seal_failed right")]
#[case::bar("machine: {read: {equalizer_play: 6.1 mm}}", "bar_centre_worn", "ledge_drops")]
#[case::reverse_face(
    "left: {read: {bushing_fwd: [58.1 mm, 58.0 mm, 58.1 mm], bushing_rev: [56.5 mm, 56.6 mm, 56.6 mm]}}, \
     right: {read: {bushing_fwd: [58.0 mm, 58.1 mm, 58.1 mm], bushing_rev: [56.6 mm, 56.5 mm, 56.5 mm]}}",
    "fast_reverse",
    "uphill_pull"
)]
#[case::forward_face(
    "left: {read: {bushing_fwd: [56.5 mm, 56.6 mm, 56.6 mm], bushing_rev: [58.1 mm, 58.0 mm, 58.1 mm]}}, \
     right: {read: {bushing_fwd: [56.6 mm, 56.5 mm, 56.5 mm], bushing_rev: [58.0 mm, 58.1 mm, 58.1 mm]}}",
    "uphill_pull",
    "fast_reverse"
)]
#[case::past_the_turn("left: {read: {bushing_rev: 54.0 mm}}", "turn_missed left", "turn_missed right")]
#[case::idler_ahead_of_the_rollers(
    "left: {read: {idler_depth: 30.6 mm}, ROLLERS}",
    "track_too_tight left",
    "track_too_tight right"
)]
#[case::rails_ahead_of_the_rollers(
    "left: {read: {link_height: 104.5 mm}, ROLLERS}",
    "rail_soft left",
    "rail_soft right"
)]
fn a_reading_moves_the_cause_it_speaks_for(#[case] seen: &str, #[case] cause: &str, #[case] rival: &str) {
    let facts = "chain_type: sealed_lubricated, abrasion: moderate, impact: low";
    let seen = seen.replace("ROLLERS", ROLLERS);
    let (with, without) = (dozer(facts, HOURS, &seen), dozer(facts, HOURS, ""));
    let (after, before) = (with.chance(cause), without.chance(cause));
    assert!(after > 3.0 * before, "{before} to {after}");
    assert!(after > with.chance(rival), "{after} against {}", with.chance(rival));
    assert!(with.ground.held.is_empty(), "{:?}", with.ground.held);
}

/// The same idler, rails and rollers in step: neither runs ahead
#[test]
fn parts_worn_in_step_blame_nobody() {
    let facts = "chain_type: sealed_lubricated, abrasion: moderate, impact: low";
    let seen = format!("left: {{read: {{idler_depth: 26.8 mm, link_height: 108.5 mm}}, {ROLLERS}}}");
    let bench = dozer(facts, HOURS, &seen);
    assert_eq!(bench.grade("rail_pace left"), Some("matched"));
    assert_eq!(bench.grade("idler_fast left"), Some("matched"));
    for cause in ["rail_soft left", "track_too_tight left", "packing_in_roots"] {
        let before = dozer(facts, HOURS, "").chance(cause);
        assert!(bench.chance(cause) <= before, "{cause}");
    }
}

/// A turn gives the bushings a new face and the rails nothing: rails are judged by all their hours
#[test]
fn a_turn_does_not_make_the_rails_young() {
    let facts = "chain_type: sealed_lubricated, abrasion: moderate, impact: low";
    let parts = HOURS
        .replace("{part: chain, on: 3400 h, turned: never}", "{part: chain, on: 3400 h, turned: 5600 h}");
    let seen = format!("left: {{read: {{link_height: 108.5 mm}}, {ROLLERS}}}");
    assert_eq!(dozer(facts, &parts, &seen).grade("rail_pace left"), Some("matched"));
}

/// Seen, read, and the grade that counts in the end
#[rstest]
#[case::drawn_tips_that_measure_as_new("teeth_sharp", "sharp", "sprocket_tip: 15.4 mm", Some("none"))]
#[case::tips_that_measure_as_they_look("teeth_sharp", "sharp", "sprocket_tip: 7.1 mm", None)]
#[case::tight_by_eye_and_slack_by_the_rule("sag_when_clean", "tight", "sag_clean: 90 mm", Some("slack"))]
#[case::slack_by_both("sag_when_clean", "slack", "sag_clean: 75 mm", None)]
fn an_eye_that_the_gauge_gainsays_is_told(
    #[case] symptom: &str,
    #[case] seen: &str,
    #[case] read: &str,
    #[case] clash: Option<&str>,
) {
    let bench = dozer("", "", &format!("left: {{found: {{{symptom}: {seen}}}, read: {{{read}}}}}"));
    let id = find_symptom(&SHIPPED.model, symptom).unwrap();
    let grades = &SHIPPED.model[id].effect.grades;
    let told: Vec<(&str, &str)> =
        bench.ground.clashes.iter().map(|own| (grades.name(own.seen), grades.name(own.read))).collect();
    assert_eq!(told, clash.map(|read| (seen, read)).into_iter().collect::<Vec<_>>());
    assert_eq!(bench.grade(&format!("{symptom} left")), Some(clash.unwrap_or(seen)), "the reading counts");
    let once = bench.ground.observations.iter().filter(|own| own.symptom == id).count();
    assert_eq!(once, 1, "seen and read are one finding");
}

/// Names of what is held back, each with why
fn held(bench: &Bench) -> Vec<(String, String)> {
    let name = |what: HeldWhat| match what {
        HeldWhat::Measure(id) => SHIPPED.model[id].common.name.clone(),
        HeldWhat::Symptom(id) => SHIPPED.model[id].effect.common.name.clone(),
        HeldWhat::Check(id) => SHIPPED.model[id].common.name.clone(),
    };
    bench.ground.held.iter().map(|own| (name(own.what), own.why.clone())).collect()
}

#[rstest]
#[case::kind_of_chain("", "four_link_pitch: 804 mm", "pitch_reading", "kind of track chain")]
#[case::whether_turned("", "bushing_rev: 57 mm", "bushing_rev", "whether pins and bushings have been turned")]
#[case::how_hard_the_ground(
    "bushings: first_side",
    "bushing_rev: 57 mm",
    "bushing_flats",
    "how hard the floor is"
)]
fn a_reading_waits_for_the_fact_its_meaning_hangs_on(
    #[case] facts: &str,
    #[case] read: &str,
    #[case] what: &str,
    #[case] fact: &str,
) {
    let waiting = held(&dozer(facts, "", &format!("left: {{read: {{{read}}}}}")));
    assert!(waiting.iter().any(|(name, _)| name == what), "{waiting:?}");
    assert!(waiting.iter().all(|(_, why)| why.contains(fact)), "{waiting:?}");
    let told = "chain_type: sealed_lubricated, bushings: first_side, impact: low";
    let counts = held(&dozer(told, "", &format!("left: {{read: {{{read}}}}}")));
    assert!(counts.is_empty(), "{counts:?}");
}

/// The jaws span old wear and new together (common practice)
#[test]
fn a_caliper_tells_nothing_of_a_turned_bushing() {
    let chain =
        |part: &str| dozer("impact: low", part, "left: {read: {bushing_fwd: 53.1 mm, bushing_rev: 52.6 mm}}");
    let turned = chain("{part: chain, on: 0 h, turned: 3000 h}");
    assert_eq!(
        held(&turned).iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>(),
        ["bushing_fwd", "bushing_rev"]
    );
    assert!(turned.ground.readings.is_empty());
    assert_eq!(turned.grade("bushing_flats left"), None);
    let first = chain("{part: chain, on: 0 h, turned: never}");
    assert!(held(&first).is_empty());
    assert_eq!(first.grade("bushing_flats left"), Some("heavy"));
}

#[rstest]
#[case::dirty("", false)]
#[case::told("visit: {state: [cleaned]}", true)]
#[case::another_state("visit: {state: [hot]}", false)]
fn sag_counts_only_on_the_cleaned_track(#[case] visit: &str, #[case] counts: bool) {
    let text = |looked: &str| {
        format!(
            "case: t\nmachine: {{tag: T, size: medium, facts: {{rollers: 7}}}}\n{visit}\n\
             seen: {{machine: {{looked: [{looked}]}}, left: {{read: {{sag_clean: 20 mm}}}}}}\n"
        )
    };
    let bench = Bench::of(&text(""));
    assert_eq!(bench.grade("sag_when_clean left").is_some(), counts);
    assert_eq!(held(&bench).len(), usize::from(!counts));
    if let [(name, why)] = held(&bench).as_slice() {
        assert_eq!(name, "sag_clean");
        assert!(why.contains("scraped and dry") && why.contains("scrape_tracks"), "{why}");
    }
    let scraped = Bench::of(&text("scrape_tracks"));
    assert!(scraped.grade("sag_when_clean left").is_some() && held(&scraped).is_empty());
}

/// What is gathered along a row takes three of it for all, so that an unread roller takes nothing from the others; of fewer it says
/// how many were read; another row is none of its business
#[test]
fn a_row_of_which_two_were_read_is_held_back() {
    let rollers = |numbers: std::ops::RangeInclusive<u32>| -> String {
        let read = |number| format!("roller {number}: {{read: {{roller_tread: 190 mm}}}}");
        format!("left: {{{}}}", numbers.map(read).collect::<Vec<_>>().join(", "))
    };
    let facts = "abrasion: moderate, impact: low";
    let of = |seen: &str| held(&dozer(facts, "{part: roller, on: 1000 h}", seen));
    let row = |all: &[(String, String)]| -> Vec<String> {
        let tread = all.iter().filter(|(name, _)| name == "roller_treads");
        tread.map(|(_, why)| why.clone()).collect()
    };
    let [why] = row(&of(&rollers(1..=2))).try_into().unwrap();
    assert!(why.contains("was read at only 2 of the 7 rollers of a side"), "{why}");
    assert!(row(&of(&rollers(1..=3))).is_empty());
    assert!(row(&of(&rollers(1..=7))).is_empty());
    assert!(row(&of("left: {read: {link_height: 108 mm}}")).is_empty());
}

/// One side's rails far ahead of the other's in the same hours are a sign, and what loads one side comes to mind; alike they are
/// none, and on a chain put on later the same readings are a steady pace (common practice)
#[test]
fn rails_of_one_side_far_ahead_of_the_other_are_a_sign() {
    let read = |left: f64, right: f64, since: u32| {
        let parts = format!(
            "{{part: chain, at: left, on: 3000 h, turned: never}}, {{part: chain, at: right, on: {since} h, turned: never}}"
        );
        let seen = format!(
            "left: {{read: {{link_height: {left} mm}}}}, right: {{read: {{link_height: {right} mm}}}}"
        );
        dozer("abrasion: moderate, impact: low", &parts, &seen)
    };
    let grade = |bench: &Bench| {
        let id = find_symptom(&SHIPPED.model, "rails_beside").unwrap();
        let own = bench.ground.observations.iter().find(|own| own.symptom == id).unwrap();
        SHIPPED.model[id].effect.grades.name(own.grade).to_owned()
    };
    let (ahead, alike, younger) =
        (read(106.5, 111.0, 3000), read(108.0, 108.2, 3000), read(106.5, 111.0, 5450));
    assert_eq!([grade(&ahead), grade(&alike), grade(&younger)], ["left", "alike", "alike"]);
    let chance = |bench: &Bench| bench.any_of(&["slope_work", "turns_one_way", "favoured_turn"]);
    assert!(chance(&ahead) > 3.0 * chance(&alike), "{} {}", chance(&ahead), chance(&alike));
}
