//! Which readings belong to the part as it is now, and which are asked about.

use crate::wear::visits::{height, near, part, trend_of, visit};
use pinboss::place::{Place, Side};
use pinboss::wear::estimate::Evaluator;
use pinboss::wear::history::{Doubt, LeftOut, hours_of_wear};
use pinboss::wear::rate::By;
use rstest::rstest;

const LEFT: &str = "left: {read: {link_height: HEIGHT}}";

fn read(height: &str) -> String {
    LEFT.replace("HEIGHT", height)
}

/// A later reading larger on a part that shrinks: nothing is taken from it but a question, unless it lies within the errors
#[rstest]
#[case("101.6 mm", "103.0 mm", true)]
#[case("101.6 mm", "101.7 mm", false)]
fn wear_does_not_go_back(#[case] first: &str, #[case] second: &str, #[case] asked: bool) {
    let settings = [height(1000.0, first), height(1800.0, second)];
    let trend = trend_of(&settings);
    let chain = part(&trend, &settings, "link_height");
    assert_eq!(chain.history.doubts == [Doubt::Younger { before: 0, after: 1 }], asked);
    assert_eq!(chain.history.doubts.is_empty(), !asked);
    assert_eq!(chain.by == Some(By::Usual), asked);
    assert_eq!(chain.rates.last_two.is_none(), asked);
}

/// Nor is a gap reckoned on from what is asked about, or from one that has opened
#[rstest]
#[case("link_height: 101.6 mm", "roller_tread: 191 mm", "link_height: 103.0 mm", "roller_tread: 189 mm")]
#[case("link_height: 101.6 mm", "flange_gap: 11 mm", "link_height: 101.0 mm", "flange_gap: 17 mm")]
fn a_gap_does_not_close_by_readings_in_doubt(
    #[case] rail: &str,
    #[case] roller: &str,
    #[case] later_rail: &str,
    #[case] later_roller: &str,
) {
    let on = "{part: chain, on: 0 h}, {part: roller, on: 0 h}";
    let at = |hours: f64, rail: &str, roller: &str| {
        visit(hours, on, &format!("left: {{read: {{{rail}}}, roller 1: {{read: {{{roller}}}}}}}"))
    };
    let settings = [at(1000.0, rail, roller), at(1800.0, later_rail, later_roller)];
    let trend = trend_of(&settings);
    assert_eq!(trend.contacts.len(), 1);
    assert!(trend.contacts[0].line.is_none() && trend.contacts[0].left.is_none());
}

/// Told that the chain was changed between, the same readings are a new chain's
#[test]
fn a_part_changed_between_visits_starts_anew() {
    let settings =
        [height(1000.0, "99.0 mm"), visit(1800.0, "{part: chain, on: 1200 h}", &read("104.15 mm"))];
    let trend = trend_of(&settings);
    let chain = part(&trend, &settings, "link_height");
    assert_eq!(chain.history.left_out, [LeftOut { visit: 0, at: 1200.0, turned: false }]);
    assert!(chain.history.doubts.is_empty());
    near(chain.history.now.unwrap(), 600.0);
    near(chain.rates.from_new.unwrap().slope, 15.0 / 600.0);
}

/// A place counts by itself: only the roller that was changed starts anew
#[test]
fn hours_are_told_by_place() {
    let seen = |first: f64, second: f64| {
        format!(
            "left: {{roller 1: {{read: {{roller_tread: {first} mm}}}}, roller 2: {{read: {{roller_tread: {second} mm}}}}}}"
        )
    };
    let settings = [
        visit(1000.0, "{part: roller, on: 0 h}", &seen(189.0, 189.0)),
        visit(2000.0, "{part: roller, on: 0 h}, {part: roller, at: left 2, on: 1400 h}", &seen(183.0, 192.0)),
    ];
    let trend = trend_of(&settings);
    let counts: Vec<usize> = trend.parts.iter().map(|part| part.history.points.len()).collect();
    assert_eq!(counts, [2, 1]);
    near(trend.parts[0].rates.from_new.unwrap().slope, 50.0 / 2000.0);
    near(trend.parts[1].rates.from_new.unwrap().slope, 12.5 / 600.0);
    assert!(trend.odd.is_empty());
}

/// What turning renews starts anew at the turn, rails go on; and where a measure has clearly gone back over a turn it does too
#[test]
fn a_turn_makes_anew_what_it_renews() {
    let seen = |bushing: f64, height: f64, pitch: f64| {
        format!(
            "left: {{read: {{bushing: {bushing} mm, link_height: {height} mm, four_link_pitch: {pitch} mm}}}}"
        )
    };
    let turned = "{part: chain, on: 0 h, turned: 2000 h}";
    let settings = [
        visit(1900.0, "{part: chain, on: 0 h}", &seen(55.0, 101.0, 808.0)),
        visit(2900.0, turned, &seen(57.95, 99.0, 801.8)),
    ];
    let trend = trend_of(&settings);
    let bushing = part(&trend, &settings, "bushing");
    assert_eq!(bushing.history.left_out, [LeftOut { visit: 0, at: 2000.0, turned: true }]);
    near(bushing.rates.from_new.unwrap().slope, 25.0 / 900.0);
    let height = part(&trend, &settings, "link_height");
    assert_eq!((height.history.points.len(), height.history.left_out.len()), (2, 0));
    let pitch = part(&trend, &settings, "four_link_pitch");
    assert_eq!(pitch.history.left_out.len(), 1);
    assert!(pitch.history.doubts.is_empty() && pitch.rates.from_new.is_none());
}

/// Pins and bores that bear on new sides give a chain most of its pitch back: read after the turn alone, neither the hours on
/// the chain nor those since the turn say how fast it grows. Bushings count from the turn, rails from when the chain went on.
#[rstest]
#[case("bushing", Some(900.0), None)]
#[case("link_height", Some(2900.0), None)]
#[case("four_link_pitch", None, Some(2000.0))]
fn after_a_turn_nobody_knows_where_the_pitch_began(
    #[case] measure: &str,
    #[case] hours: Option<f64>,
    #[case] turned: Option<f64>,
) {
    let seen = "left: {read: {bushing: 57.95 mm, link_height: 99 mm, four_link_pitch: 801.83 mm}}";
    let settings = [visit(2900.0, "{part: chain, on: 0 h, turned: 2000 h}", seen)];
    let trend = trend_of(&settings);
    let own = part(&trend, &settings, measure);
    assert_eq!(own.history.turned, turned);
    assert_eq!(own.rates.from_new.is_some(), hours.is_some());
    let ground = &settings[0].ground;
    let evaluator =
        Evaluator { model: &settings[0].model, machine: &ground.machine, readings: &ground.readings };
    assert_eq!(hours_of_wear(&evaluator, own.history.measure, &Place::Side(Side::Left)), hours);
}

/// Two sides a hair apart about 20 %: one way of reckoning for both
#[rstest]
#[case(103.6, 103.72, By::FromNew)]
#[case(103.65, 103.8, By::Usual)]
fn a_hair_does_not_part_one_side_from_the_other(#[case] left: f64, #[case] right: f64, #[case] by: By) {
    let seen =
        format!("left: {{read: {{link_height: {left} mm}}}}, right: {{read: {{link_height: {right} mm}}}}");
    let trend = trend_of(&[visit(1000.0, "{part: chain, on: 0 h}", &seen)]);
    let percents: Vec<bool> = trend.parts.iter().map(|part| part.history.points[0].percent < 20.0).collect();
    assert_eq!(percents, [false, true]);
    assert!(trend.parts.iter().all(|part| part.by == Some(by)));
}

/// Two visits that tell otherwise of the part that was on at both
#[test]
fn hours_told_twice_and_differently_are_asked_about() {
    let settings = [height(1000.0, "103.5 mm"), visit(1800.0, "{part: chain, on: 400 h}", &read("102.0 mm"))];
    let trend = trend_of(&settings);
    let chain = part(&trend, &settings, "link_height");
    assert_eq!(chain.history.doubts, [Doubt::HoursDiffer { before: 0, first: 0.0, after: 1, second: 400.0 }]);
    assert!(chain.rates.from_new.is_none());
}

/// A part read at the first visit alone has run on since
#[test]
fn what_was_not_read_again_has_fewer_hours_left_by_those_it_ran() {
    let settings = [height(1200.0, "102.8 mm"), visit(2000.0, "{part: chain, on: 0 h}", "")];
    let trend = trend_of(&settings);
    near(part(&trend, &settings, "link_height").left.unwrap().hours, 2000.0);
}

/// Without hours on the part the last two readings and the line through all still tell, from new does not
#[test]
fn hours_on_the_part_that_are_not_told_leave_the_machines() {
    let settings = [visit(1000.0, "", &read("103.5 mm")), visit(2000.0, "", &read("101.5 mm"))];
    let trend = trend_of(&settings);
    let chain = part(&trend, &settings, "link_height");
    assert!(chain.rates.from_new.is_none());
    assert_eq!(chain.by, Some(By::LastTwo));
    near(chain.left.unwrap().hours, 5.0 / 2.0 * 1000.0);
}
