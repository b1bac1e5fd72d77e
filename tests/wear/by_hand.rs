//! Rates and hours left against arithmetic on a sheet of paper.

use crate::wear::visits::{height, near, part, trend_of, visit};
use pinboss::wear::rate::By;
use rstest::rstest;

/// 105.5 mm new, limit 96.5 mm, 102.8 mm at 1,200 h: 2.7 of 9 mm are 30 %, 30 % in 1,200 h are 4,000 h to the limit, 2,800 h
/// of them left
#[test]
fn one_reading_and_the_hours_on_the_part() {
    let settings = [height(1200.0, "102.8 mm")];
    let trend = trend_of(&settings);
    let chain = part(&trend, &settings, "link_height");
    let last = chain.history.points.last().unwrap();
    near(last.percent, 30.0);
    let line = chain.rates.from_new.unwrap();
    near(line.at(4000.0), 100.0);
    // 0.2 of 9 mm are 2.2222 %, over 1,200 h.
    near(line.slope_sigma(), 0.2 / 9.0 * 100.0 / 1200.0);
    assert_eq!(chain.by, Some(By::FromNew));
    let left = chain.left.unwrap();
    near(left.hours, 2800.0);
    // The level lies on the edge where 100 - y = 1.644854 σ √(1 + (h/1200)²), y = 30 h/1200, σ = 2.2222: h/1200 = u, and
    // (100 - 30u)² = 13.36071 (1 + u²): 886.63929 u² - 6000 u + 9986.63929 = 0, u = 2.95342 and 3.81371.
    near(left.lower, 2.953_418 * 1200.0 - 1200.0);
    near(left.upper.unwrap(), 3.813_708 * 1200.0 - 1200.0);
}

/// The same part at 104.0 mm after 1,000 h and 101.6 mm after 1,800 h: 16.667 % and 43.333 %. From new 43.333 % in 1,800 h
/// leave 2,353.8 h; the last 800 h took 26.667 %, at which pace 1,700 h are left. Read three times each, so that 0.2 mm
/// become 0.11547: the two paces lie five standard errors apart.
#[test]
fn wear_that_speeds_up_is_told_by_both_paces() {
    let settings =
        [height(1000.0, "[103.9 mm, 104.0 mm, 104.1 mm]"), height(1800.0, "[101.6 mm, 101.5 mm, 101.7 mm]")];
    let trend = trend_of(&settings);
    let chain = part(&trend, &settings, "link_height");
    near(chain.history.points[0].percent, 100.0 / 6.0);
    near(chain.history.points[1].percent, 130.0 / 3.0);
    let left = |by: By| chain.rates.left(by, &chain.history, 100.0).unwrap().hours;
    near(left(By::FromNew), 2_353.846_154);
    near(left(By::LastTwo), 1700.0);
    let change = chain.rates.change.unwrap();
    near(change.times, (80.0 / 3.0 / 800.0) / (130.0 / 3.0 / 1800.0));
    // (26.6667/800 - 43.3333/1800) over 1.28300 √(1/800² + (1/800 - 1/1800)²) = 0.00925926 over 0.00183462.
    near(change.errors, 5.046_949);
    assert_eq!(chain.by, Some(By::LastTwo));
    near(chain.left.unwrap().hours, 1700.0);
}

/// Equal wear in equal hours: no change is told, and all readings count together
#[test]
fn steady_wear_goes_by_all_readings() {
    let settings = [height(1000.0, "103.5 mm"), height(2000.0, "101.5 mm"), height(3000.0, "99.5 mm")];
    let trend = trend_of(&settings);
    let chain = part(&trend, &settings, "link_height");
    assert_eq!((chain.rates.change, chain.by), (None, Some(By::All)));
    near(chain.left.unwrap().hours, 1500.0);
}

/// Hours are those on the part: the chain went on at 5,000 h, and the machine has 6,200
#[test]
fn hours_count_on_the_part_and_not_on_the_machine() {
    let seen = "left: {read: {link_height: 102.8 mm}}";
    let settings = [visit(6200.0, "{part: chain, on: 5000 h}", seen)];
    let trend = trend_of(&settings);
    near(part(&trend, &settings, "link_height").left.unwrap().hours, 2800.0);
}

/// Past the limit the per cent goes on as before it, though wear is faster: 95.6 mm are 110 %; no hours are left
#[test]
fn past_the_limit_nothing_is_left_and_the_per_cent_goes_on() {
    let settings = [height(4000.0, "95.6 mm")];
    let trend = trend_of(&settings);
    let chain = part(&trend, &settings, "link_height");
    near(chain.history.points[0].percent, 110.0);
    near(chain.left.unwrap().hours, 0.0);
}

/// 30 % from new in 1,200 h where 4,000 h are usual: neither faster nor slower. At 60 % it would be twice the pace, and
/// ln 2 is 3.7 times a spread of 18 % and a pace error of 3.7 %.
#[rstest]
#[case("102.8 mm", 1.0, false)]
#[case("100.1 mm", 2.0, true)]
fn a_pace_is_held_against_what_the_ground_explains(
    #[case] read: &str,
    #[case] times: f64,
    #[case] clear: bool,
) {
    let settings = [height(1200.0, read)];
    let trend = trend_of(&settings);
    let against = part(&trend, &settings, "link_height").against.unwrap();
    near(against.times, times);
    assert_eq!(against.clear, clear);
    near(against.lower, libm::exp(-1.644_853_6 * 0.18));
}

/// Under 20 % worn the usual life counts: 10 % gone leave 0.9 × 4,000 h, give or take 1.645 × 18 % of that and of the reading
#[test]
fn a_young_part_goes_by_the_usual_life() {
    let settings = [height(300.0, "104.6 mm")];
    let trend = trend_of(&settings);
    let chain = part(&trend, &settings, "link_height");
    assert_eq!(chain.by, Some(By::Usual));
    let left = chain.left.unwrap();
    near(left.hours, 3600.0);
    let half = 1.644_853_6 * (3600.0_f64 * 0.18).hypot(40.0 * 0.2 / 9.0 * 100.0);
    near(left.lower, 3600.0 - half);
    near(left.upper.unwrap(), 3600.0 + half);
}

/// Work falls due at its figure: 95 % at 30 % in 1,200 h is 2,600 h away
#[test]
fn work_falls_due_where_a_remedy_says_so() {
    let settings = [height(1200.0, "102.8 mm")];
    let trend = trend_of(&settings);
    let due = &part(&trend, &settings, "link_height").due;
    assert_eq!(due.len(), 1);
    near(due[0].left.unwrap().hours, 2600.0);
}

/// Of 20 mm between flange and boss the rail has taken 2.7 mm in 1,200 h and the roller half of 4 mm: 15.3 mm are left and go
/// at 4.7 mm in 1,200 h, so the two touch in 3,906.4 h. With a roller that went on at 600 h they go at 2.7/1,200 + 2/600.
#[rstest]
#[case("{part: roller, on: 0 h}", 15.3 / 4.7 * 1200.0)]
#[case("{part: roller, on: 600 h}", 15.3 / (2.7 / 1200.0 + 2.0 / 600.0))]
fn a_gap_closes_by_what_both_parts_lose(#[case] roller: &str, #[case] hours: f64) {
    let seen = "left: {read: {link_height: 102.8 mm}, roller 1: {read: {roller_tread: 191 mm}}}";
    let settings = [visit(1200.0, &format!("{{part: chain, on: 0 h}}, {roller}"), seen)];
    let trend = trend_of(&settings);
    assert_eq!(trend.contacts.len(), 1);
    let contact = &trend.contacts[0];
    near(contact.gap, 15.3);
    let left = contact.left.unwrap();
    near(left.hours, hours);
    assert!(left.lower < hours && left.upper.unwrap() > hours);
}

/// A gap that is read, 20 mm new: 14 mm after 1,200 h and 11 mm after 1,800 h, 2,200 h to go
#[test]
fn a_gap_that_is_read_closes_by_its_readings() {
    let on = "{part: chain, on: 0 h}, {part: roller, on: 0 h}";
    let at = |hours: f64, gap: f64| {
        visit(hours, on, &format!("left: {{roller 2: {{read: {{flange_gap: {gap} mm}}}}}}"))
    };
    let settings = [at(1200.0, 14.0), at(1800.0, 11.0)];
    let trend = trend_of(&settings);
    near(trend.contacts[0].left.unwrap().hours, 2200.0);
}

/// 43.33 % on the left and 30 % on the right, 3.14 % apart by the errors of both: clear. Row against row is a reading of its own.
#[test]
fn sides_and_rows_are_held_against_one_another() {
    let seen = "left: {read: {link_height: 101.6 mm, row_step: 1.8 mm}}, right: {read: {link_height: 102.8 mm, row_step: 0.4 mm}}";
    let settings = [visit(1800.0, "{part: chain, on: 0 h}", seen)];
    let trend = trend_of(&settings);
    near(trend.sides[0].sigma, (2.0_f64).sqrt() * 0.2 / 9.0 * 100.0);
    assert_eq!(trend.sides[0].ahead, Some(pinboss::place::Side::Left));
    let clear: Vec<bool> = trend.steps.iter().map(|step| step.clear).collect();
    assert_eq!(clear, [true, false]);
}
