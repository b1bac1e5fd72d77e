//! Readings that cannot all be right, on the shipped rules: what was to be expected is worked by hand on the invented
//! medium class, 112 to 103.5 mm of link, 195 to 171 mm of roller, 22 to 33 mm of idler depth, 800 to 809 mm of pitch.

use crate::support::shipped::{Bench, SHIPPED, dozer};
use pinboss::wear::contradiction::{Contradiction, contradictions};
use rstest::rstest;

const FACTS: &str =
    "chain_type: sealed_lubricated, abrasion: moderate, impact: low, carriers: two, layout: oval";
const PARTS: &str = "{part: chain, on: 1000 h, turned: never}";

fn told(bench: &Bench) -> Vec<Contradiction> {
    contradictions(&SHIPPED.model, &bench.ground.machine, &bench.ground.readings, &bench.ground.set_aside)
}

fn of<'a>(all: &'a [Contradiction], measure: &str) -> Option<&'a Contradiction> {
    all.iter().find(|one| SHIPPED.model[one.measure].common.name == measure)
}

fn read(left: &str) -> Bench {
    dozer(FACTS, PARTS, &format!("left: {{read: {{{left}}}}}"))
}

/// What wear explains: 4.9 × 4 mm of pitch + 1.57 × (5.5 of idler + 4 of rail + 3 of root) = 19.6 + 19.625 = 39.225 mm
const WORN: &str = "four_link_pitch: 804 mm, idler_depth: 27.5 mm, link_height: 108 mm, sprocket_root: 3 mm";

/// Idler travel against what pitch, tread and tooth wear explain (common practice)
#[rstest]
#[case::explained(41.0, None)]
#[case::a_link_taken_out(0.0, Some("a link has been taken out"))]
#[case::longer_than_taped(75.0, Some("dry joints"))]
fn idler_travel_is_held_against_wear(#[case] travel: f64, #[case] because: Option<&str>) {
    let all = told(&read(&format!("{WORN}, idler_extension: {travel} mm")));
    let found = of(&all, "idler_extension");
    assert_eq!(found.is_some(), because.is_some(), "{all:?}");
    let (Some(found), Some(because)) = (found, because) else { return };
    assert!((found.expected - 39.225).abs() < 1e-9, "{}", found.expected);
    assert!(found.because.contains(because), "{}", found.because);
    assert_eq!(found.excess > 0.0, travel > found.expected);
}

/// The error of the difference, by hand: 4.9 × 0.7 of pitch, 1.57 × (0.4, 0.4, 0.5) of idler, rail and root, 2 of the
/// travel itself and 5 mm by which the two differ of themselves
#[test]
fn the_excess_is_in_standard_errors_of_the_difference() {
    let all = told(&read(&format!("{WORN}, idler_extension: 0 mm")));
    let errors: [f64; 6] = [4.9 * 0.7, 1.57 * 0.4, 1.57 * 0.4, 1.57 * 0.5, 2.0, 5.0];
    let sigma = errors.iter().map(|error| error * error).sum::<f64>().sqrt();
    let found = of(&all, "idler_extension").unwrap();
    assert!((found.excess + 39.225 / sigma).abs() < 1e-9, "{} {sigma}", found.excess);
    // Pitch carries most of the error, but would have to be 8 mm less, so shorter than new; the travel itself is next.
    let first = &found.again[0];
    assert_eq!(SHIPPED.model[first.measure].common.name, "idler_extension");
    assert!((first.fits - 39.225).abs() < 1e-9, "{}", first.fits);
    let all = told(&read(&format!("{WORN}, idler_extension: 75 mm")));
    let first = &of(&all, "idler_extension").unwrap().again[0];
    assert_eq!(SHIPPED.model[first.measure].common.name, "four_link_pitch");
    assert!((first.fits - (804.0 + (75.0 - 39.225) / 4.9)).abs() < 1e-9, "{}", first.fits);
}

/// Flange clearance: 20 - 4 of rail - half of 12 of tread leaves 10 mm (R1 of the trade: common practice)
#[rstest]
#[case::agrees("roller 3", 9.0, false)]
#[case::too_small("roller 3", 1.0, true)]
#[case::too_large("roller 3", 19.0, true)]
fn flange_clearance_is_held_against_rail_and_roller(#[case] at: &str, #[case] gap: f64, #[case] odd: bool) {
    let seen = format!(
        "left: {{read: {{link_height: 108 mm}}, {at}: {{read: {{roller_tread: 183 mm, flange_gap: {gap} mm}}}}}}"
    );
    let all = told(&dozer(FACTS, PARTS, &seen));
    assert_eq!(of(&all, "flange_gap").is_some(), odd, "{all:?}");
    assert!(of(&all, "flange_gap").is_none_or(|found| (found.expected - 10.0).abs() < 1e-9));
}

/// Idler clearance: 20 - 4 of rail - 5.5 of tread leaves 10.5 mm
#[rstest]
#[case(10.0, false)]
#[case(18.0, true)]
fn idler_clearance_is_held_against_rail_and_idler(#[case] gap: f64, #[case] odd: bool) {
    let all = told(&read(&format!("link_height: 108 mm, idler_depth: 27.5 mm, idler_flange_gap: {gap} mm")));
    assert_eq!(of(&all, "idler_flange_gap").is_some(), odd, "{all:?}");
}

/// Sag against travel. With 4/3 × (d² - 47²) over a span of some metre, a sag of 110 mm would use about 25 mm of
/// stroke; an idler that lags as far agrees with it. With the sag right such an idler means a link less.
#[rstest]
#[case::slack_and_idler_back("sag_clean: 110 mm", 14.0, None)]
#[case::right_and_idler_back("sag_clean: 47 mm", 4.0, Some(false))]
#[case::slack_and_idler_where_it_should_be("sag_clean: 150 mm", 40.0, Some(true))]
#[case::right_by_two_spans("sag_front: 44 mm, sag_rear: 50 mm", 4.0, Some(false))]
fn sag_is_held_against_travel(#[case] sag: &str, #[case] travel: f64, #[case] more: Option<bool>) {
    let facts = format!("{FACTS}, sag_rule: mean_of_two");
    let bench =
        dozer(&facts, PARTS, &format!("left: {{read: {{{WORN}, {sag}, idler_extension: {travel} mm}}}}"));
    let all = told(&bench);
    assert_eq!(of(&all, "slack_by_sag").map(|found| found.excess > 0.0), more, "{all:?}");
}

/// A caliper over a turned bushing (R18 of the trade): turned with 90 % worn on the old side, 30 % on the new, it spans
/// both and seems 120 % worn. It does not count, and what is wrong with it is told.
#[test]
fn a_caliper_over_a_turned_bushing_is_told() {
    let parts = "{part: chain, on: 0 h, turned: 5000 h}";
    let bench = dozer(FACTS, parts, "left: {read: {bushing_rev: 53.96 mm}}");
    assert!(bench.ground.readings.is_empty(), "it does not count as wear");
    let all = told(&bench);
    let found = of(&all, "bushing_rev").expect("told");
    assert!(found.excess < -3.0, "{}", found.excess);
    assert!(found.because.contains("gauge the wall"), "{}", found.because);
    assert_eq!(found.again, vec![], "read again it would be the same");
    // 59 - 4.2 × 1000 h of the usual life of this face on such ground
    let life = pinboss::wear::estimate::Evaluator {
        model: &SHIPPED.model,
        machine: &bench.ground.machine,
        readings: &bench.ground.readings,
    };
    let life = life.life(found.measure, &found.named.place).unwrap();
    assert!((found.expected - (59.0 - 4.2 * 1000.0 / life)).abs() < 1e-9);
}

/// The same figure as the hours explain, on a chain never turned, is no contradiction
#[test]
fn a_caliper_on_the_first_side_agrees_with_its_hours() {
    let bench =
        dozer(FACTS, "{part: chain, on: 4000 h, turned: never}", "left: {read: {bushing_rev: 56.3 mm}}");
    assert_eq!(told(&bench), vec![]);
}

/// A chain does not get shorter: slack not taken up (NAVEDTRA 14273, ch. 6), or links counted wrongly (common practice).
/// A whole fifth short is refused where the case is read.
#[test]
fn a_chain_shorter_than_new_is_told() {
    let all = told(&read("four_link_pitch: 795 mm"));
    let found = of(&all, "four_link_pitch").expect("told");
    assert!(found.because.contains("divided by five"), "{}", found.because);
    assert_eq!(told(&read("four_link_pitch: 803 mm")), vec![]);
}

/// What is told does not weigh: the same findings give the same chances with the contradiction or without
#[test]
fn a_contradiction_does_not_weigh() {
    let sound = read("four_link_pitch: [800.9 mm, 801.1 mm], longest_group: 801 mm");
    let swapped = read("four_link_pitch: [800.9 mm, 801.1 mm], longest_group: 794 mm");
    assert_eq!(told(&sound), vec![]);
    assert!(of(&told(&swapped), "longest_group").is_some());
    let chance = |bench: &Bench| bench.chance("joints_dry left");
    assert!((chance(&sound) - chance(&swapped)).abs() < 0.02, "{} {}", chance(&sound), chance(&swapped));
}

/// Every case that ships and says of itself that it is sound says nothing against itself
#[test]
fn sound_machines_do_not_contradict_themselves() {
    for name in ["cases/healthy_dozer.yaml", "cases/old_even_dozer.yaml"] {
        let text =
            std::fs::read_to_string(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).unwrap();
        assert_eq!(told(&Bench::of(&text)), vec![], "{name}");
    }
}
