//! What takes time to show: a cause that has been at work only lately shows a tenth of what it shows slowly.

use crate::language::grounded::{bench, same};

const RULES: &str = "
cause packing, each side: \"packing\"
    kind    upkeep
    chance  10% of sides
    recent  40%
cause slope: \"slope\"
    kind    upkeep
    chance  20% of machines, toward one side
    recent  25%
symptom tips, each side: \"sharp tips\"
    with    packing: 60% slowly
    without 5%
symptom prints, each side: \"prints\"
    with    packing: 80%
    without 5%
symptom flange, each side: \"worn flange\"
    with    slope toward this side: 70% slowly
    with    slope toward the other side: 10% slowly
    without 2%
";

#[test]
fn a_slow_sign_is_a_tenth_while_its_cause_is_recent() {
    let bench = bench(RULES, "");
    let long = 1.0 - 0.4 * 0.95;
    let recent = 1.0 - (1.0 - 0.06) * 0.95;
    same(bench.chance(&[("packing left", "")]), 0.1);
    same(bench.given(("tips left", "yes"), &[("packing left", "")]), 0.6 * long + 0.4 * recent);
    same(bench.given(("prints left", "yes"), &[("packing left", "")]), 1.0 - 0.2 * 0.95);
}

/// Clean tips speak against years of packing, and hardly against packing this week
#[test]
fn a_sign_that_is_not_there_yet_leaves_the_recent_cause() {
    let bench = bench(RULES, "");
    let (prints, none) = (1.0 - 0.2 * 0.95, 0.05);
    let long = 0.1 * 0.6 * prints * 0.4 * 0.95;
    let recent = 0.1 * 0.4 * prints * 0.94 * 0.95;
    let neither = 0.9 * none * 0.95;
    let seen = [("prints left", "yes"), ("tips left", "no")];
    same(bench.given(("packing left", ""), &seen), (long + recent) / (long + recent + neither));
}

#[test]
fn forms_and_times_go_together() {
    let bench = bench(RULES, "");
    same(bench.chance(&[("slope", "left")]), 0.1);
    let worn = |strength: f64| {
        0.75 * (1.0 - (1.0 - strength) * 0.98) + 0.25 * (1.0 - (1.0 - strength / 10.0) * 0.98)
    };
    same(bench.given(("flange left", "yes"), &[("slope", "left")]), worn(0.7));
    same(bench.given(("flange left", "yes"), &[("slope", "right")]), worn(0.1));
}
