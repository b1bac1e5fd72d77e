//! Chances: among what they are counted, toward which side, and in which form.

use crate::language::grounded::{bench, same};
use rstest::rstest;

fn cause(head: &str, chance: &str) -> String {
    format!("cause a{head}: \"a\"\n    kind upkeep\n    chance {chance}\n")
}

/// Chance that none of the places has it, told by the noun: the number of places does not change it
#[rstest]
#[case("", "4% of machines", "", &["a"], 0.96)]
#[case(", each side", "4% of machines", "", &["a left", "a right"], 0.96)]
#[case(", each side", "4% of sides", "", &["a left", "a right"], 0.96 * 0.96)]
#[case(", each roller", "4% of machines", "rollers: 2", &["a left 1", "a left 2", "a right 1", "a right 2"], 0.96)]
#[case(", each roller", "4% of sides", "rollers: 3", &["a left 1", "a left 2", "a left 3"], 0.96)]
#[case(", each roller", "4% of sides", "rollers: 1", &["a left 1"], 0.96)]
#[case(", each roller", "4% of rollers", "rollers: 3", &["a left 1"], 0.96)]
#[case(", each side", "100% of machines", "", &["a left"], 0.0)]
fn a_share_has_a_noun(
    #[case] head: &str,
    #[case] chance: &str,
    #[case] facts: &str,
    #[case] places: &[&str],
    #[case] none: f64,
) {
    let shown: String = places
        .iter()
        .enumerate()
        .map(|(number, _)| format!("symptom s{number}: \"s\"\n    without 1%\n"))
        .collect();
    let bench = bench(&format!("{}{shown}", cause(head, chance)), facts);
    let each: Vec<f64> = places.iter().map(|place| bench.chance(&[(place, "")])).collect();
    same(each.iter().map(|chance| 1.0 - chance).product(), none);
    assert!(each.iter().all(|chance| (chance - each[0]).abs() < 1e-15), "{each:?}");
}

/// A noun of its own on each line
#[test]
fn each_line_has_its_noun() {
    let rules = "
fact f: \"f\"
    choices x 50%, y 50%
cause a, each side: \"a\"
    kind upkeep
    chance 19% of machines where f is x
    chance 30% of sides
";
    same(bench(rules, "f: x").chance(&[("a left", "")]), 0.1);
    same(bench(rules, "f: y").chance(&[("a left", "")]), 0.3);
}

/// Left or right, each half; a side sees it as toward this side or the other, a machine by its form
#[test]
fn toward_one_side() {
    let rules = "
cause slope: \"slope\"
    kind upkeep
    chance 40% of machines, toward one side
symptom s, each side: \"s\"
    grades none, inboard | outboard, both
    with slope toward this side: often inboard
    with slope toward the other side: sometimes outboard
symptom r, each roller: \"r\"
    with slope toward this side: 50%
symptom m: \"m\"
    with slope left: usually
    with slope: seldom
";
    let bench = bench(rules, "rollers: 1");
    same(bench.chance(&[("slope", "left")]), 0.2);
    same(bench.chance(&[("slope", "right")]), 0.2);
    same(bench.chance(&[("s left", "inboard")]), 0.2 * 0.6);
    same(bench.chance(&[("s right", "outboard")]), 0.2 * 0.3);
    same(bench.chance(&[("s left", "inboard"), ("s right", "outboard")]), 0.2 * 0.6 * 0.3);
    same(bench.chance(&[("s left", "inboard"), ("s right", "inboard")]), 0.0);
    same(bench.given(("slope", "right"), &[("r right 1", "yes")]), 1.0);
    same(bench.given(("m", "yes"), &[("slope", "left")]), 0.85);
    same(bench.given(("m", "yes"), &[("slope", "right")]), 0.08);
}

/// Forms share the chance equally and exclude one another
#[test]
fn forms() {
    let rules = "
cause seal: \"seal\"
    kind upkeep
    chance 30% of machines
    forms inner, outer, both_ends
symptom s: \"s\"
    with seal inner: 50%
    with seal: 20%
";
    let bench = bench(rules, "");
    for form in ["inner", "outer", "both_ends"] {
        same(bench.chance(&[("seal", form)]), 0.1);
    }
    same(bench.chance(&[("seal", "inner"), ("seal", "outer")]), 0.0);
    same(bench.given(("s", "yes"), &[("seal", "inner")]), 0.5);
    same(bench.given(("s", "yes"), &[("seal", "outer")]), 0.2);
    same(bench.chance(&[("s", "yes")]), 0.1 * 0.5 + 0.2 * 0.2);
}
