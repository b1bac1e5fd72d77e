//! One figure for an undercarriage, weighted by cost, with the worst part beside it.

use crate::support::shipped::{Bench, SHIPPED, dozer};
use pinboss::place::{Place, Side};
use pinboss::wear::overall::{Overall, overall};
use pinboss::wear::worn;

const FACTS: &str =
    "chain_type: sealed_lubricated, abrasion: moderate, impact: low, layout: oval, carriers: two";

fn of(bench: &Bench) -> Option<Overall> {
    let (machine, readings) = (&bench.ground.machine, &bench.ground.readings);
    overall(&SHIPPED.model, machine, readings, &worn(&SHIPPED.model, machine, readings))
}

fn cost(remedy: &str) -> f64 {
    let found = SHIPPED.model.remedies.iter().find(|it| it.common.name == remedy).unwrap();
    found.costs.unwrap()
}

/// Link 25 % and bushings 95 %: chain and turn weigh by what they cost, and the bushings stand beside the mean
#[test]
fn the_mean_goes_by_cost_and_the_worst_part_stands_beside_it() {
    let seen = "left: {read: {link_height: 109.875 mm, bushing_rev: 55.01 mm, bushing_fwd: 57.0 mm}}";
    let found = of(&dozer(FACTS, "{part: chain, on: 1000 h, turned: never}", seen)).unwrap();
    let (chain, turn) = (cost("renew_chain"), cost("turn_bushings"));
    let by_hand = (25.0 * chain + 95.0 * turn) / (chain + turn);
    assert!((found.machine.percent - by_hand).abs() < 1e-9, "{} {by_hand}", found.machine.percent);
    assert_eq!(SHIPPED.model[found.worst.measure].common.name, "bushing_rev");
    assert!((found.worst.percent - 95.0).abs() < 1e-9);
    assert_eq!(found.worst.named.place, Place::Side(Side::Left));
    // The right side is not read, nor are the rollers of the left: they are named, and the figure is no figure of all.
    assert!(!found.machine.is_enough);
    assert!(found.unread.iter().any(|it| it.place == Place::Side(Side::Right)));
    assert_eq!(found.sides.len(), 1);
}

/// A row of rollers is renewed as one, so that its mean counts; of tip and root the one nearer its end
#[test]
fn along_a_row_the_mean_counts_and_of_several_measures_the_worst() {
    let rollers = "roller 1: {read: {roller_tread: 183 mm}}, roller 2: {read: {roller_tread: 177 mm}}";
    let seen = format!("left: {{read: {{sprocket_tip: 11.5 mm, sprocket_root: 4.8 mm}}, {rollers}}}");
    let found = of(&dozer(FACTS, "", &seen)).unwrap();
    let percent = |remedy: &str| {
        let own = |it: &&pinboss::wear::overall::Part| SHIPPED.model[it.remedy].common.name == remedy;
        found.parts.iter().find(own).unwrap().worn.value
    };
    assert!((percent("reshell_rollers") - 62.5).abs() < 1e-9);
    assert!((percent("fit_teeth") - 80.0).abs() < 1e-9);
}

/// What this machine does not have is not missed: an oval layout has no rear idler
#[test]
fn what_the_machine_lacks_is_not_missed() {
    let found = of(&dozer(FACTS, "", "left: {read: {link_height: 108 mm}}")).unwrap();
    let missed: Vec<&str> =
        found.unread.iter().flat_map(|it| it.measures.iter().map(String::as_str)).collect();
    assert!(!missed.contains(&"rear_idler_depth"), "{missed:?}");
    assert!(missed.contains(&"roller_tread"), "{missed:?}");
}

/// More wear on any part never makes the whole look better
#[test]
fn the_whole_never_gets_better_by_wear() {
    let at = |tread: f64| {
        let seen = format!(
            "left: {{read: {{link_height: 108 mm}}, roller 1: {{read: {{roller_tread: {tread} mm}}}}}}"
        );
        of(&dozer(FACTS, "", &seen)).unwrap().machine.percent
    };
    let all: Vec<f64> = [195.0, 190.0, 180.0, 171.0, 165.0].into_iter().map(at).collect();
    assert!(all.is_sorted_by(|a, b| a < b), "{all:?}");
}

/// A pitch shorter than new is a slip: it must not lull anybody about the rest
#[test]
fn a_size_better_than_new_is_not_in_it() {
    let chain = |pitch: &str| {
        let seen = format!("left: {{read: {{four_link_pitch: {pitch}, sprocket_tip: 8.8 mm}}}}");
        of(&dozer(FACTS, "", &seen)).unwrap()
    };
    let slip = chain("795 mm");
    assert!((slip.machine.percent - 80.0).abs() < 1e-9, "{}", slip.machine.percent);
    assert_eq!(slip.parts.len(), 1);
    assert_eq!(chain("799 mm").parts.len(), 2, "a hair better than new is a new part");
}

/// Nothing read, no figure
#[test]
fn nothing_read_gives_no_figure() {
    assert_eq!(of(&dozer(FACTS, "", "")), None);
}
