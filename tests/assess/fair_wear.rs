//! Both sides of the argument on the shipped rules: what gradual, even loss says of anybody, and what the cases say.

use crate::support::rules::shipped;
use crate::support::setting::split;
use crate::support::shipped::{Bench, SHIPPED};
use pinboss::assess::but_for::but_for;
use pinboss::assess::draws::{self, Drawn};
use pinboss::assess::scale::{Strength, Support};
use pinboss::assess::{self, Asked, Damage, Party, damage_at, expected, ratios};
use pinboss::case;
use pinboss::ground::{Ground, ground};
use pinboss::infer::Limits;
use pinboss::reason::Weighing;
use pinboss::reason::decibans::ratio;
use pinboss::source::Sources;
use rstest::rstest;
use std::fs;
use std::path::Path;

/// Draws behind a range here: enough to tell on which side of 1 it lies
const DRAWS: u64 = 20;

/// Damage named as in a case
fn damage(own: &Ground, named: &[&str]) -> Vec<Damage> {
    let one = |name: &&str| {
        let (name, place) = split(name);
        damage_at(&SHIPPED.model, own, name, None, place).unwrap()
    };
    named.iter().map(one).collect()
}

/// A machine weighed by the shipped rules
fn weighing(own: &Ground) -> Weighing {
    Weighing::new(shipped(), own.clone())
}

/// For each party with a cause what is supported throughout its range
fn supported(own: &Ground, damage: &[Damage]) -> Vec<(Party, Support)> {
    let model = &SHIPPED.model;
    let all = ratios(&weighing(own), damage).unwrap();
    let asked: Vec<Asked> =
        all.iter().map(|(party, _)| Asked { party: party.clone(), supposed: None }).collect();
    let draw = |number| draws::draw(model, own, &asked, &Limits::often(), number);
    let drawn: Vec<Vec<Drawn>> = (0..DRAWS).filter_map(draw).collect();
    let support = |(turn, (party, decibans)): (usize, (Party, f64))| {
        let own: Vec<f64> = drawn.iter().map(|row| row[turn].decibans).collect();
        let least = own.iter().copied().fold(decibans, f64::min);
        let most = own.iter().copied().fold(decibans, f64::max);
        (party, Support::throughout((least, most)))
    };
    all.into_iter().enumerate().map(support).collect()
}

/// Sizes on both sides with so much of what may go gone, by the medium dimensions of the shipped rules, which are invented
fn even(share: f64) -> String {
    let at = |new: f64, limit: f64| new + (limit - new) * share;
    format!(
        "sag_clean: 46 mm, link_height: {:.2} mm, idler_depth: {:.2} mm, bushing_fwd: {:.2} mm, bushing_rev: {:.2} mm",
        at(112.0, 103.5),
        at(22.0, 33.0),
        at(59.0, 54.8),
        at(59.0, 54.8)
    )
}

/// A machine worn gradually and alike on both sides, everything else looked at and sound
fn evenly_worn(hours: f64, share: f64, teeth: &str) -> Bench {
    let side = format!(
        "{{looked: [look_sprocket, sight_idler, walk_rollers, walk_chain, gauge_links, measure_idler, caliper_bushings, \
         read_clean_sag], found: {{teeth_sharp: {teeth}}}, read: {{{}}}}}",
        even(share)
    );
    Bench::of(&format!(
        "case: bench\nmachine: {{tag: B1, hours: {hours}, size: medium, facts: {{chain_type: sealed_lubricated, layout: oval, \
         rear_mount: pivot_shaft, equalizer: pinned, abrasion: moderate, impact: low, packing_ground: dry, water: dry, \
         rollers: 7}}}}\n\
         parts: [{{part: chain, on: 0 h, turned: never}}, {{part: idler, on: 0 h}}, {{part: sprocket, on: 0 h}}, {{part: roller, on: 0 h}}]\n\
         visit: {{state: [cleaned]}}\n\
         seen: {{machine: {{looked: [walk_round, watch_cycles]}}, left: {side}, right: {side}}}\n"
    ))
}

/// Common practice: loss that is gradual and even is what work does to steel, whether it came late or early; by itself it
/// never speaks for misuse, neglect, bad fitting or a bad part
#[rstest]
#[case::of_its_age(3000.0, 0.55, "none")]
#[case::old(4800.0, 0.85, "slight")]
#[case::young_and_worn_as_if_twice_its_age(1500.0, 0.55, "none")]
#[case::half_gone_early_with_sharp_teeth(1800.0, 0.7, "slight")]
fn gradual_even_loss_is_never_by_itself_misuse(#[case] hours: f64, #[case] share: f64, #[case] teeth: &str) {
    let own = evenly_worn(hours, share, teeth).ground;
    let damage = damage(&own, &["teeth_sharp left", "flange_worn left"]);
    let all = ratios(&weighing(&own), &damage).unwrap();
    assert!(all.len() >= 3, "hardly anybody is asked about");
    for (party, decibans) in all {
        assert!(ratio(decibans) < 2.0, "{}: {}", party.name, ratio(decibans));
    }
}

/// What was read is held against hours and ground: twice the pace is told as more than they let expect, its own is not
#[rstest]
#[case(3245.0, 0.55, false)]
#[case(1500.0, 0.55, true)]
fn wear_is_held_against_hours(#[case] hours: f64, #[case] share: f64, #[case] past: bool) {
    let worn = expected::worn(&SHIPPED.model, &evenly_worn(hours, share, "none").ground);
    let link = worn.iter().find(|worn| SHIPPED.model[worn.measure].common.name == "link_height").unwrap();
    // 5900 h is the life that the rules give the rails on such ground.
    assert!((link.expected - hours / 59.0).abs() < 1e-9);
    assert!((link.percent - 55.0).abs() < 0.5);
    assert_eq!(link.excess > 2.0, past, "{}", link.excess);
    // One reading in 44 of a normal law lies past two standard deviations on the one side, from memory.
    assert_eq!(link.by_chance < 1.0 / 43.9, past, "{}", link.by_chance);
}

/// A case of the folder, with its damage in question
fn of_the_folder(name: &str) -> (Ground, Vec<Damage>) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases").join(name);
    let mut sources = Sources::default();
    let id = sources.add(name, fs::read_to_string(path).unwrap());
    let inspection = case::read(&sources, id).0.unwrap();
    let (own, _) = ground(&SHIPPED.model, &inspection);
    let asked = inspection.in_question.iter().map(|name| assess::damage(&SHIPPED.model, &own, name).unwrap());
    let asked = asked.collect();
    (own, asked)
}

/// Whom the whole range speaks for having a cause, by the cases that were written for either side of the argument
#[rstest]
#[case::looks_like_misuse_and_is_the_layout("terrace_dozer_one_way.yaml", &["site"])]
#[case::looks_like_misuse_and_is_honest("pond_dozer_even_teeth.yaml", &[])]
#[case::looks_like_neglect_and_is_sand("dredging_dozer_sand_eaten.yaml", &[])]
#[case::old_and_even("old_even_dozer.yaml", &[])]
#[case::looks_like_age_and_is_neglect("clay_dozer_idler_kept.yaml", &["owner"])]
#[case::laid_to_the_slope_and_is_fitting("bench_dozer_blamed_slope.yaml", &["fitter"])]
#[case::shims_that_nobody_moved_are_upkeep("quarry_dozer_two_faults.yaml", &["owner"])]
#[case::looks_even_and_is_the_driver("hired_dozer_habits.yaml", &["operator"])]
#[case::looks_fair_and_is_the_driver("island_dozer_walked_home.yaml", &["operator"])]
fn both_sides_of_the_argument(#[case] name: &str, #[case] spoken_for: &[&str]) {
    let (own, damage) = of_the_folder(name);
    let all = supported(&own, &damage);
    let named = all.iter().filter(|(_, support)| support.first && support.strength >= Strength::Moderate);
    assert_eq!(named.map(|(party, _)| party.name.as_str()).collect::<Vec<_>>(), spoken_for);
    // Of those the damage would have been less but for their causes, of nobody else.
    for (party, _) in &all {
        for one in &damage {
            let without = but_for(&SHIPPED.model, &own, one, &party.causes, &Limits::default()).unwrap();
            let wanted = spoken_for.contains(&party.name.as_str());
            assert_eq!(without.lower > 0.5, wanted, "{}: {}", party.name, without.lower);
        }
    }
}

/// A turn gives a chain most of its pitch back, and nobody knows how much: hours let expect nothing of it then, while they do of
/// all that a turn leaves as it was
#[test]
fn nothing_is_expected_of_the_pitch_of_a_turned_chain() {
    let (own, _) = of_the_folder("old_even_dozer.yaml");
    let worn = expected::worn(&SHIPPED.model, &own);
    let told = |name: &str| worn.iter().any(|worn| SHIPPED.model[worn.measure].common.name == name);
    assert!(told("link_height") && told("idler_depth") && !told("four_link_pitch"));
}
