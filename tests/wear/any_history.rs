//! What holds for any history: order, units, growing and shrinking sizes, and that nothing breaks.

use crate::support::setting::set;
use crate::wear::visits::{height, part, trend_of, visit};
use pinboss::model::Dimension;
use pinboss::model::test::Test;
use pinboss::wear::line::{Line, Point};
use pinboss::wear::table::percent;
use proptest::prelude::*;

fn dimension(points: &[(f64, f64)], after: f64) -> Dimension {
    let points = points.to_vec();
    Dimension { grows: Dimension::grows(&points), points, after, tolerance: 0.0, test: Test::default() }
}

fn point() -> impl Strategy<Value = Point> {
    (0.0..9000.0, -20.0..150.0, 0.5..8.0).prop_map(|(hours, value, sigma)| Point { hours, value, sigma })
}

proptest! {
    /// More gone is never less worn, whether the size shrinks or grows, and both ways the per cent is the same
    #[test]
    fn per_cent_is_monotone_and_the_same_for_shrinking_and_growing(
        (new, first, rest, kink, after) in (50.0..900.0, 0.5..9.0, 0.5..9.0, 5.0..95.0, 1.0..4.0),
        (a, b) in (-5.0..30.0, -5.0..30.0),
    ) {
        let table = |way: f64| dimension(&[(new, 0.0), (new + way * first, kink), (new + way * (first + rest), 100.0)], after);
        let at = |way: f64, gone: f64| percent(&table(way), new + way * gone).unwrap().0;
        let (less, more) = if a < b { (a, b) } else { (b, a) };
        prop_assert!(at(-1.0, less) <= at(-1.0, more));
        prop_assert!((at(1.0, a) - at(-1.0, a)).abs() < 1e-9 * at(1.0, a).abs().max(1.0));
    }

    /// The unit that a size is written in changes nothing, as long as a part may have it
    #[test]
    fn per_cent_is_the_same_in_every_unit(tenths in 900_u32..1070) {
        let size = f64::from(tenths) / 10.0;
        let worn = |read: &str| trend_of(&[height(1000.0, read)]).parts[0].history.points[0].percent;
        let by_mm = worn(&format!("{size} mm"));
        for other in [format!("{} cm", size / 10.0), format!("{} in", size / 25.4), format!("{} m", size / 1000.0)] {
            prop_assert!((worn(&other) - by_mm).abs() < 1e-6, "{other}");
        }
    }

    /// The line, its errors and its hours do not hang on the order of the readings
    #[test]
    fn a_line_does_not_hang_on_the_order_of_visits(points in prop::collection::vec(point(), 3..9), turn in 1_usize..8) {
        let mut turned = points.clone();
        turned.rotate_left(turn % points.len());
        turned.reverse();
        let (one, other) = (Line::nearest(&points), Line::nearest(&turned));
        prop_assert_eq!(one.is_some(), other.is_some());
        if let (Some(one), Some(other)) = (one, other) {
            let same = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1e-6);
            prop_assert!(same(one.slope, other.slope) && same(one.at(0.0), other.at(0.0)));
            prop_assert!(same(one.slope_sigma(), other.slope_sigma()) && same(one.sigma_at(0.0), other.sigma_at(0.0)));
        }
    }

    /// The ends of an interval are where the level lies on its edge, and hold the middle between them
    #[test]
    fn an_interval_ends_where_the_level_lies_on_its_edge(points in prop::collection::vec(point(), 3..9), sigma in 0.5..8.0) {
        let Some(line) = Line::nearest(&points) else { return Ok(()) };
        let level = line.level + 60.0;
        let Some(reached) = line.reaches(level, sigma) else { return Ok(()) };
        prop_assert!(reached.lower <= reached.hours);
        let tolerance = 1e-6 * level.abs().max(1.0) * (1.0 + reached.hours.abs() / 1e6);
        if line.interval(line.from, sigma).1 < level {
            prop_assert!((line.interval(reached.lower, sigma).1 - level).abs() < tolerance);
        }
        if let Some(upper) = reached.upper {
            prop_assert!(upper >= reached.hours);
            prop_assert!((line.interval(upper, sigma).0 - level).abs() < tolerance.max(1e-9 * upper * line.slope));
        }
    }

    /// Whatever is read whenever, figures are told or not told, and are finite
    #[test]
    fn no_history_breaks_it(
        read in prop::collection::vec((0_u32..9000, 60.0..160.0, 550.0..1100.0, 0_u32..3), 1..5),
        on in 0_u32..9000,
        turned in prop::option::of(0_u32..9000),
    ) {
        let mut read = read;
        read.sort_by_key(|(hours, ..)| *hours);
        let settings: Vec<_> = read
            .iter()
            .map(|&(hours, height, tread, told)| {
                let on = on.min(hours);
                let turn = turned.map_or(String::new(), |at| format!(", turned: {} h", at.clamp(on, hours)));
                let parts = match told {
                    0 => String::new(),
                    1 => format!("{{part: chain, on: {on} h{turn}}}"),
                    _ => format!("{{part: chain, on: {on} h}}, {{part: roller, on: {on} h}}"),
                };
                let tread = tread / 3.7;
                let seen = format!(
                    "left: {{read: {{link_height: {height} mm, bushing: 56 mm, row_step: 1 mm}}, \
                     roller 1: {{read: {{roller_tread: {tread} mm, flange_gap: 12 mm}}}}}}"
                );
                visit(f64::from(hours), &parts, &seen)
            })
            .collect();
        let trend = trend_of(&settings);
        let misfit = settings.iter().any(|own| own.ground.misfit.is_some());
        prop_assert!(!trend.parts.is_empty() || misfit);
        let lefts = trend.parts.iter().filter_map(|part| part.left);
        for left in lefts.chain(trend.contacts.iter().filter_map(|contact| contact.left)) {
            prop_assert!(left.hours.is_finite() && left.lower >= 0.0 && left.lower <= left.hours);
            prop_assert!(left.upper.is_none_or(|upper| upper >= left.hours));
        }
        for part in &trend.parts {
            if let Some(by) = part.by {
                for at in part.rates.ahead(by, &part.history, 100.0, Some(4000.0)) {
                    prop_assert!(at.percent.is_finite() && at.lower <= at.percent && at.percent <= at.upper);
                }
            }
        }
        if !misfit {
            part(&trend, &settings, "bushing");
        }
    }
}

/// A machine of no size, and one on which nothing was read
#[test]
fn nothing_to_tell_is_no_fault() {
    let rules = crate::wear::visits::RULES;
    for seen in ["{left: {read: {link_height: 100 mm}}}", "{}"] {
        let case = format!("case: c\nmachine: {{tag: T, facts: {{rollers: 3}}}}\nseen: {seen}\n");
        assert!(trend_of(&[set(rules, &case)]).parts.is_empty());
    }
}
