//! What the places of a machine have in common: on a share of machines one draw for all places, else each for itself.

use crate::language::grounded::{bench, same};
use rstest::rstest;

fn rules(shared: &str) -> String {
    format!(
        "
fact age, each side: \"age\"
    choices early 70%, late 30%
    {shared}
cause lot: \"bad lot\"
    kind    upkeep
    chance  2% of machines
symptom weep, each side: \"weep\"
    grades none, some, many
    with    lot: 60% some
    without 30% some, 10% many where age is late
    without 5% some
    {shared}
symptom cold, each roller: \"cold\"
    without 10%
    {shared}
"
    )
}

/// The ratio of the same sign left and right falls from `s²/q²` to `s²/q` as all of the background is shared
#[rstest]
#[case("", 0.0)]
#[case("shared 70%", 0.7)]
#[case("shared 100%", 1.0)]
fn two_like_signs_are_no_two_witnesses(#[case] clause: &str, #[case] share: f64) {
    let bench = bench(&rules(clause), "rollers: 3, age: {left: early, right: early}");
    let q: f64 = 0.05;
    let (without, with) = ((1.0 - share) * q * q + share * q, {
        let one = 1.0 - 0.4 * (1.0 - q);
        (1.0 - share) * one * one + share * (q + (1.0 - q) * 0.36)
    });
    let both = [("weep left", "some"), ("weep right", "some")];
    same(bench.chance(&[("weep left", "some")]), 0.02 * (1.0 - 0.4 * 0.95) + 0.98 * q);
    same(bench.given(("lot", ""), &both), 0.02 * with / (0.02 * with + 0.98 * without));
}

/// Old and young sides show as often as ever, and share the least that either shows
#[test]
fn places_that_differ_share_the_least() {
    let bench = bench(&rules("shared 50%"), "rollers: 3, age: {left: early, right: late}");
    let background = |some: f64, many: f64| {
        let (lot_none, lot_some) = ((1.0 - some - many) * 0.4, some + (1.0 - some - many) * 0.6);
        [0.98 * (1.0 - some - many) + 0.02 * lot_none, 0.98 * some + 0.02 * lot_some, many]
    };
    for (place, (some, many)) in [("weep left", (0.05, 0.0)), ("weep right", (0.3, 0.1))] {
        for (grade, chance) in ["none", "some", "many"].iter().zip(background(some, many)) {
            same(bench.chance(&[(place, grade)]), chance);
        }
    }
    let together = bench.chance(&[("weep left", "some"), ("weep right", "some")]);
    assert!(together > bench.chance(&[("weep left", "some")]) * bench.chance(&[("weep right", "some")]));
}

#[test]
fn a_row_goes_together_and_the_other_row_for_itself() {
    let bench = bench(&rules("shared 70%"), "rollers: 3");
    let q: f64 = 0.1;
    same(bench.chance(&[("cold left 1", "yes")]), q);
    same(bench.chance(&[("cold left 1", "yes"), ("cold left 3", "yes")]), 0.3 * q * q + 0.7 * q);
    same(bench.chance(&[("cold left 1", "yes"), ("cold right 1", "yes")]), q * q);
}

/// A fact of each side that nobody told, and one that is told of one side
#[test]
fn sides_share_a_fact() {
    let untold = bench(&rules("shared 90%"), "rollers: 3");
    same(untold.chance(&[("age left", "late")]), 0.3);
    same(untold.chance(&[("age left", "late"), ("age right", "early")]), 0.1 * 0.3 * 0.7);
    let told = bench(&rules("shared 90%"), "rollers: 3, age: {left: late}");
    same(told.chance(&[("age right", "late")]), 0.9 + 0.1 * 0.3);
}

/// A gate that hangs on a fact nobody told, and a background so large that little can be shared
#[test]
fn shut_gates_show_nothing_and_a_large_background_shares_what_it_can() {
    let rules = "
fact chain: \"chain\"
    choices sealed 60%, dry 40%
fact age, each side: \"age\"
    choices early 70%, late 30%
symptom weep, each side: \"weep\"
    only where chain is sealed
    without 10%
    shared 70%
symptom low, each side: \"low\"
    without 45% where age is late
    without 2%
    shared 70%
";
    let bench = bench(rules, "");
    same(bench.chance(&[("weep left", "yes")]), 0.6 * 0.1);
    same(bench.chance(&[("weep left", "yes"), ("weep right", "yes")]), 0.6 * (0.3 * 0.01 + 0.7 * 0.1));
    same(bench.given(("weep left", "no"), &[("chain", "dry")]), 1.0);
    same(bench.given(("low left", "yes"), &[("age left", "late")]), 0.45);
    same(bench.given(("low left", "yes"), &[("age left", "early")]), 0.02);
}
