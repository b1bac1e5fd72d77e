//! Lines with several parents: one path, open when all are present.

use crate::language::grounded::{bench, same};
use rstest::rstest;

const RULES: &str = "
cause a: \"a\"
    kind upkeep
    chance 20% of machines
condition c: \"c\"
    grades none, one, most
    without 30% one, 10% most
";

#[rstest]
#[case("    with a and c: 50%\n", 0.0, 0.0, 0.5, 0.5)]
#[case("    with a and c most: 50%\n", 0.0, 0.0, 0.0, 0.5)]
#[case("    with c most and a: 50%\n", 0.0, 0.0, 0.0, 0.5)]
// A path of its own beside those of its parents alone
#[case("    with a: 20%\n    with a and c: 50%\n", 0.2, 0.0, 1.0 - 0.8 * 0.5, 1.0 - 0.8 * 0.5)]
#[case("    with a: 20%\n    with c: 10%\n    with a and c: 50%\n    without 1%\n",
    1.0 - 0.8 * 0.99, 1.0 - 0.9 * 0.99, 1.0 - 0.8 * 0.9 * 0.5 * 0.99, 1.0 - 0.8 * 0.9 * 0.5 * 0.99)]
// The line that names the grade counts before the one that does not, in whichever order the parents stand
#[case("    with a and c: 50%\n    with c most and a: 90%\n", 0.0, 0.0, 0.5, 0.9)]
#[case("    with a and c most: 90%\n    with c and a: 50%\n", 0.0, 0.0, 0.5, 0.9)]
fn one_path_for_several_parents(
    #[case] lines: &str,
    #[case] a_alone: f64,
    #[case] one_alone: f64,
    #[case] a_and_one: f64,
    #[case] a_and_most: f64,
) {
    let bench = bench(&format!("{RULES}symptom s: \"s\"\n{lines}"), "");
    let none = ("c", "none");
    // Without a: from the rule of total probability over a.
    let without_a = |grade: &str| {
        let with_a = bench.given(("s", "yes"), &[("c", grade), ("a", "")]);
        (bench.given(("s", "yes"), &[("c", grade)]) - 0.2 * with_a) / 0.8
    };
    same(bench.given(("s", "yes"), &[none, ("a", "")]), a_alone);
    same(without_a("one"), one_alone);
    same(bench.given(("s", "yes"), &[("c", "one"), ("a", "")]), a_and_one);
    same(bench.given(("s", "yes"), &[("c", "most"), ("a", "")]), a_and_most);
}

/// A joint path of a wide parent: one for each of its places, the other parent being the same for all
#[test]
fn a_joint_path_on_either_side() {
    let rules = "
cause a: \"a\"
    kind upkeep
    chance 50% of machines
cause b, each side: \"b\"
    kind upkeep
    chance 20% of sides
symptom s: \"s\"
    with a and b on either side: 40%
";
    let bench = bench(rules, "");
    same(bench.given(("s", "yes"), &[("a", "")]), 1.0 - (1.0 - 0.2 * 0.4) * (1.0 - 0.2 * 0.4));
    same(bench.given(("s", "yes"), &[("a", ""), ("b left", ""), ("b right", "")]), 1.0 - 0.6 * 0.6);
    same(bench.chance(&[("s", "yes")]), 0.5 * (1.0 - 0.92 * 0.92));
}
