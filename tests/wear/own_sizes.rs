//! A machine's own sizes, in its case: per cent by them, limits that hang on facts, and what is said where one is missing.

use crate::support::rules::told;
use crate::support::shipped::{Bench, SHIPPED};
use pinboss::case;
use pinboss::ground::ground;
use pinboss::source::Sources;
use pinboss::wear::{self, Worn};
use rstest::rstest;

/// A machine of no size class with its own sizes, chain cleaned and read on the left
fn of(facts: &str, sizes: &str, read: &str) -> String {
    format!(
        "case: own sizes\nmachine: {{tag: O1, hours: 1200, sizes: {{{sizes}}}, facts: {{{facts}, rollers: 7, bushings: \
         first_side}}}}\nvisit: {{state: [cleaned]}}\nseen: {{left: {{read: {{{read}}}}}}}\n"
    )
}

fn worn(text: &str) -> Vec<Worn> {
    let bench = Bench::of(text);
    wear::worn(&SHIPPED.model, &bench.ground.machine, &bench.ground.readings)
}

/// Per cent is the way gone from new to the limit, past 100 too: (new - read) / (new - limit) x 100 (common practice); the
/// figures are worked out by hand
#[rstest]
#[case::past_its_limit(
    "link_height",
    "{new: 105.5 mm, limit: 96.5 mm}",
    "95.0 mm",
    "impact: low",
    116.666_667
)]
#[case::else_where(
    "bushing_rev",
    "{new: 60.7 mm, limit: {impact high: 54.1 mm, else: 51.6 mm}}",
    "52.0 mm",
    "impact: low",
    95.604_396
)]
#[case::on_hard_ground(
    "bushing_rev",
    "{new: 60.7 mm, limit: {impact high: 54.1 mm, else: 51.6 mm}}",
    "52.0 mm",
    "impact: high",
    131.818_182
)]
#[case::the_choice_first(
    "bushing_rev",
    "{new: 60.7 mm, limit: {high impact: 54.1 mm, else: 51.6 mm}}",
    "52.0 mm",
    "impact: high",
    131.818_182
)]
#[case::growing("idler_depth", "{new: 18 mm, limit: 27 mm}", "28.8 mm", "impact: low", 120.0)]
#[case::in_inches("link_height", "{new: 4.1535 in, limit: 96.5 mm}", "101 mm", "impact: low", 49.993_888)]
fn per_cent_by_own_sizes(
    #[case] measure: &str,
    #[case] sizes: &str,
    #[case] read: &str,
    #[case] facts: &str,
    #[case] percent: f64,
) {
    let found = worn(&of(facts, &format!("{measure}: {sizes}"), &format!("{measure}: {read}")));
    assert_eq!(found.len(), 1);
    assert!((found[0].percent - percent).abs() < 1e-4, "{}", found[0].percent);
}

/// Own sizes stand in place of those of the class, and all others stay with it
#[test]
fn own_sizes_stand_beside_a_class() {
    let text = of(
        "impact: low",
        "link_height: {new: 105.5 mm, limit: 96.5 mm}",
        "link_height: 101 mm, idler_depth: 25 mm",
    )
    .replace("hours: 1200", "hours: 1200, size: medium");
    let found: Vec<f64> = worn(&text).iter().map(|own| own.percent.round()).collect();
    assert_eq!(found.len(), 2);
    assert!(found.contains(&50.0), "{found:?}");
}

/// A size without a limit says what is gone and that no limit is told; it is not dropped in silence
#[rstest]
#[case::shrinking(
    "link_height: {new: 105.5 mm}",
    "link_height: 101.2 mm",
    "4.3 mm are gone of 105.5 mm when new"
)]
#[case::growing("idler_depth: 20 mm", "idler_depth: 24 mm", "4 mm are gone of 20 mm when new")]
fn no_limit_is_told(#[case] sizes: &str, #[case] read: &str, #[case] said: &str) {
    let text = of("impact: low", sizes, read);
    assert!(worn(&text).is_empty());
    let held = Bench::of(&text).ground.held;
    let why: Vec<&str> = held.iter().map(|own| own.why.as_str()).collect();
    assert!(why.iter().any(|why| why.starts_with(said) && why.contains("No limit is told")), "{why:?}");
}

#[rstest]
#[case::no_measure("link_hight: {new: 105.5 mm}", "the rules know no measure `link_hight`")]
#[case::another_quantity("link_height: {new: 105 h}", "`link_height` is not told in `h`")]
#[case::no_range("link_height: {new: 1055 mm}", "`link_height` cannot be 1055 mm")]
#[case::limit_is_new(
    "link_height: {new: 105 mm, limit: 105 mm}",
    "`link_height` is worn out within the error of reading its new size"
)]
#[case::limit_is_next_to_new(
    "link_height: {new: 105 mm, limit: 104.9 mm}",
    "`link_height` is worn out within the error of reading its new size"
)]
#[case::exchanged(
    "link_height: {new: 96.5 mm, limit: 105.5 mm}",
    "`link_height` wears smaller, and its limit goes the other way: are the two exchanged?"
)]
#[case::exchanged_growing(
    "idler_depth: {new: 27 mm, limit: 18 mm}",
    "`idler_depth` wears larger, and its limit goes the other way: are the two exchanged?"
)]
#[case::no_fact(
    "link_height: {new: 105 mm, limit: {hard ground: 96 mm}}",
    "`hard ground` is no choice of a fact"
)]
#[case::nothing_new("link_height: {limit: 96 mm}", "`link_height` has no new size")]
#[case::unknown_key("link_height: {new: 105 mm, worn: 96 mm}", "`link_height` has no key `worn`")]
#[case::after_else(
    "link_height: {new: 105 mm, limit: {else: 96 mm, impact high: 97 mm}}",
    "nothing after `else` ever holds"
)]
fn faults_in_sizes(#[case] sizes: &str, #[case] said: &str) {
    let mut sources = Sources::default();
    let id = sources.add("case.yaml", of("impact: low", sizes, "link_height: 101 mm"));
    let (inspection, mut problems) = case::read(&sources, id);
    problems.append(ground(&SHIPPED.model, &inspection.unwrap()).1);
    let all = told(&problems, &sources);
    assert!(all.iter().any(|own| own.contains(said)), "{all:#?}");
}

/// Several sizes better than new, or past all measure beside them, are another machine's: nothing is made of them but that
#[test]
fn sizes_of_another_class_are_said_at_once() {
    let text = "case: wrong class\nmachine: {tag: W1, hours: 1200, size: medium, facts: {chain_type: sealed_lubricated, rollers: 7, \
                impact: low, bushings: first_side}}\nvisit: {state: [cleaned]}\nseen: {left: {read: {link_height: 139 mm, \
                bushing_rev: 72.9 mm, bushing_fwd: 75 mm, four_link_pitch: 862 mm}}}\n";
    assert!(worn(text).is_empty());
    let misfit = Bench::of(text).ground.misfit.unwrap();
    assert_eq!(
        (misfit.size.as_str(), misfit.of, misfit.better.len(), misfit.far_past.len()),
        ("medium", 4, 3, 1)
    );
    // One odd part is no other machine.
    let one = text
        .replace("139 mm", "110 mm")
        .replace("72.9 mm", "57 mm")
        .replace("75 mm", "57 mm")
        .replace("862", "805");
    assert_eq!(Bench::of(&one).ground.misfit, None);
    assert_eq!(worn(&one).len(), 4);
}

/// Of four bushings the thinnest counts, and the one that lies far off is asked for again; a mean is as uncertain as its values
/// scatter
#[test]
fn of_several_values_the_rule_says_what_counts() {
    let of = |read: &str| {
        Bench::of(&of(
            "impact: low",
            "link_height: {new: 112 mm, limit: 103.5 mm}, bushing_rev: {new: 59 mm, limit: 54.8 mm}",
            read,
        ))
        .ground
    };
    let ground = of("bushing_rev: [52.0 mm, 57.4 mm, 57.4 mm, 57.5 mm], link_height: [108 mm, 106 mm]");
    let read: Vec<f64> = ground.readings.values().map(|own| own.value).collect();
    assert!(read.contains(&52.0) && read.contains(&107.0), "{read:?}");
    let outlier = &ground.outliers[0];
    assert_eq!((ground.outliers.len(), outlier.read, outlier.of, outlier.counts), (1, 52.0, 4, true));
    assert!((outlier.others - 57.433_333).abs() < 1e-4);
    // Two heights of 108 and 106 mm have a standard deviation of 1.414 mm, and their mean 1 mm.
    assert!(ground.readings.values().any(|own| (own.error - 1.0).abs() < 1e-9));
    // Of 103 and three times 108.4 mm the standard deviation is 2.7 mm, and the error of their mean half of it.
    let scattered = of("link_height: [103 mm, 108.4 mm, 108.4 mm, 108.4 mm]");
    assert!(scattered.readings.values().all(|own| (own.error - 1.35).abs() < 1e-9));
    assert!(of("bushing_rev: [57.4 mm, 57.2 mm, 57.5 mm]").outliers.is_empty());
}

/// Left and right ten times apart are a point at the wrong place: neither speaks before it was read again
#[test]
fn two_sides_apart_by_a_slip_are_held() {
    let text = "case: slip\nmachine: {tag: F1, hours: 3100, facts: {rollers: 7, carriers: two, sag_rule: mean_of_two}}\nvisit: {state: \
                [cleaned]}\nseen: {left: {read: {sag_clean: 4.5 mm}}, right: {read: {sag_clean: 45 mm}}}\n";
    let ground = Bench::of(text).ground;
    assert!(ground.readings.is_empty());
    assert!(ground.held.iter().all(|own| own.why.contains("ten times apart")), "{:?}", ground.held);
    let near = Bench::of(&text.replace("4.5 mm", "38 mm")).ground;
    assert_eq!(near.readings.len(), 2);
}

/// A play begins at next to nothing, so that one side worn out beside a new one is ten times the other and no slip
#[test]
fn a_play_ten_times_the_other_is_wear() {
    let text = "case: play\nmachine: {tag: F2, hours: 3100, size: medium, facts: {rollers: 7}}\nvisit: {state: [cleaned, lifted]}\nseen: {left: {read: \
                {idler_end_play: 0.5 mm}}, right: {read: {idler_end_play: 5 mm}}}\n";
    assert_eq!(Bench::of(text).ground.readings.len(), 2);
}
