//! Noisy-MAX over the three shapes of grades (Díez 1993; Henrion 1989), and which line counts.

use crate::language::grounded::{bench, same};
use proptest::prelude::*;
use rstest::rstest;

/// Causes that are always there, so that their lines show alone
const THERE: &str = "
cause a: \"a\"
    kind upkeep
    chance 100% of machines
cause b: \"b\"
    kind upkeep
    chance 100% of machines
";

fn there(symptom: &str) -> crate::language::grounded::Bench {
    bench(&format!("{THERE}\nsymptom s: \"s\"\n{symptom}"), "")
}

/// With no grades named: no shows when no line and not the leak brings yes about
#[rstest]
#[case("    with a: usually\n    with b: often\n    without 3%\n", 1.0 - 0.15 * 0.4 * 0.97)]
#[case("    with a: usually\n    with b: often\n", 1.0 - 0.15 * 0.4)]
#[case("    with a: seldom\n    without 3%\n", 1.0 - 0.92 * 0.97)]
#[case("    without 3%\n", 0.03)]
#[case("    with a: 100%\n    with b: often\n", 1.0)]
#[case("    with a: 0%\n", 0.0)]
fn yes_and_no(#[case] lines: &str, #[case] yes: f64) {
    let bench = there(lines);
    same(bench.chance(&[("s", "yes")]), yes);
    same(bench.chance(&[("s", "no")]), 1.0 - yes);
}

/// A cause that may be there: the share it brings about is weighed with its chance
#[test]
fn causes_that_may_be_there() {
    let rules = "
cause a: \"a\"
    kind upkeep
    chance 10% of machines
cause b: \"b\"
    kind upkeep
    chance 20% of machines
symptom s: \"s\"
    grades none, slight, heavy
    with a: usually slight
    with b: often slight, sometimes heavy
    without 2% slight, 1% heavy
";
    let bench = bench(rules, "");
    let none = (1.0 - 0.1 * 0.85) * (1.0 - 0.2 * 0.9) * 0.97;
    let up_to_slight = (1.0 - 0.2 * 0.3) * 0.99;
    same(bench.chance(&[("s", "none")]), none);
    same(bench.chance(&[("s", "slight")]), up_to_slight - none);
    same(bench.chance(&[("s", "heavy")]), 1.0 - up_to_slight);
    // Given a, nothing of a's brings heavy about.
    same(bench.given(("s", "heavy"), &[("a", "")]), 1.0 - 0.94 * 0.99);
    // By Bayes' rule from P(s, a) and P(s).
    let slight_with_a = (1.0 - 0.2 * 0.3) * 0.99 - 0.15 * (1.0 - 0.2 * 0.9) * 0.97;
    same(bench.given(("a", ""), &[("s", "slight")]), 0.1 * slight_with_a / (up_to_slight - none));
}

/// F(x) = product of the chances that each path yields normal or x; x shows with F(x) - F(normal)
#[test]
fn alternatives_that_come_together_show_the_last() {
    let bench = there(
        "    grades none, inboard | outboard | middle, both
    with a: 60% inboard
    with b: 30% outboard, 20% inboard
    without 5% outboard, 1% both
",
    );
    let none = 0.4 * 0.5 * 0.94;
    let inboard = 1.0 * 0.7 * 0.94 - none;
    let outboard = 0.4 * 0.8 * 0.99 - none;
    same(bench.chance(&[("s", "none")]), none);
    same(bench.chance(&[("s", "inboard")]), inboard);
    same(bench.chance(&[("s", "outboard")]), outboard);
    same(bench.chance(&[("s", "middle")]), 0.0);
    same(bench.chance(&[("s", "both")]), 1.0 - none - inboard - outboard);
}

/// Each arm is a ladder of its own: a finding on one says nothing of the other, normal speaks of both
#[test]
fn two_arms() {
    let rules = "
cause a: \"a\"
    kind upkeep
    chance 30% of machines
cause b: \"b\"
    kind upkeep
    chance 20% of machines
symptom s: \"s\"
    grades far_in < toed_in < straight > toed_out
    with a: 50% toed_in, 10% far_in
    with b: 40% toed_out
    without 1% toed_in, 2% toed_out
";
    let bench = bench(rules, "");
    // What the leak brings about on one arm it does not bring about on the other: its grades exclude one another.
    let none = (1.0 - 0.3 * 0.6) * (1.0 - 0.2 * 0.4) * 0.97;
    same(bench.chance(&[("s", "straight")]), none);
    same(bench.chance(&[("s", "far_in")]), 0.3 * 0.1);
    same(bench.chance(&[("s", "toed_in")]), 1.0 - 0.3 * 0.1 - (1.0 - 0.3 * 0.6) * 0.99);
    same(bench.chance(&[("s", "toed_out")]), 1.0 - (1.0 - 0.2 * 0.4) * 0.98);
    same(bench.given(("b", ""), &[("s", "far_in")]), 0.2);
    same(bench.given(("a", ""), &[("s", "toed_out")]), 0.3);
    same(bench.given(("b", ""), &[("s", "straight")]), 0.2 * 0.6 / (1.0 - 0.2 * 0.4));
    same(bench.given(("a", ""), &[("s", "straight")]), 0.3 * 0.4 / (1.0 - 0.3 * 0.6));
}

const GRADED: &str = "
fact f: \"f\"
    choices x 50%, y 50%, z 0%
condition c: \"c\"
    grades none, one, most
    without 30% one, 20% most
";

/// A line for a grade is for exactly that grade; a line without one is for every grade that has no line of its own
#[rstest]
#[case("    with c most: 90%\n    with c: 10%\n", 0.1, 0.9)]
#[case("    with c: 10%\n    with c most: 90%\n", 0.1, 0.9)]
#[case("    with c one: 40%\n", 0.4, 0.0)]
#[case("    with c: 40%\n", 0.4, 0.4)]
// The first line that holds counts, among those of one grade
#[case("    with c most: 90% where f is x\n    with c most: 70%\n    with c: 10%\n", 0.1, 0.9)]
#[case("    with c most: 90% where f is y\n    with c most: 70%\n    with c: 10%\n", 0.1, 0.7)]
#[case("    with c: 90% where f is y\n    with c: 30% where f is x\n    with c: 10%\n", 0.3, 0.3)]
// A grade with a line of its own has no other, whether its line holds or not
#[case("    with c most: 90% where f is y\n    with c: 10%\n", 0.1, 0.0)]
fn the_line_of_a_grade(#[case] lines: &str, #[case] with_one: f64, #[case] with_most: f64) {
    let bench = bench(&format!("{GRADED}symptom s: \"s\"\n{lines}"), "f: x");
    same(bench.given(("s", "yes"), &[("c", "one")]), with_one);
    same(bench.given(("s", "yes"), &[("c", "most")]), with_most);
    same(bench.given(("s", "yes"), &[("c", "none")]), 0.0);
}

/// A parent with two arms opens the line of each arm it stands out on
#[test]
fn a_parent_with_two_arms() {
    let rules = "
condition c: \"c\"
    grades low < right > high
    without 20% low, 10% high
cause a: \"a\"
    kind upkeep
    chance 100% of machines
condition d: \"d\"
    grades low < right > high
    with a: 50% low
    without 40% high
symptom s: \"s\"
    with c low: 70%
    with c: 10%
symptom t: \"t\"
    with d: 50%
";
    let bench = bench(rules, "");
    same(bench.given(("s", "yes"), &[("c", "low")]), 0.7);
    same(bench.given(("s", "yes"), &[("c", "high")]), 0.1);
    same(bench.given(("t", "yes"), &[("d", "low"), ("d", "high")]), 0.75);
    same(bench.chance(&[("d", "low"), ("d", "high")]), 0.5 * 0.4);
}

/// The first `without` line that holds counts, and so does the first `chance`; with none left nothing comes about
#[rstest]
#[case("x", 0.2, 0.5)]
#[case("y", 0.1, 0.05)]
#[case("z", 0.0, 0.0)]
fn first_line_that_holds(#[case] choice: &str, #[case] leak: f64, #[case] chance: f64) {
    let rules = "
fact f: \"f\"
    choices x 20%, y 30%, z 50%
cause a: \"a\"
    kind upkeep
    chance 50% of machines where f is x
    chance 5% of machines where f is x or y
symptom s: \"s\"
    without 20% where f is x
    without 10% where f is not z
symptom t: \"t\"
    with a: 100%
";
    let bench = bench(rules, &format!("f: {choice}"));
    same(bench.chance(&[("s", "yes")]), leak);
    same(bench.chance(&[("t", "yes")]), chance);
}

proptest! {
    /// What a line does not name goes to normal, so normal never speaks for a cause
    #[test]
    fn normal_never_speaks_for_a_cause(chance in 1..99_u32, share in 0..=100_u32, other in 0..=100_u32, leak in 0..100_u32) {
        let rules = format!("
cause a: \"a\"
    kind upkeep
    chance {chance}% of machines
cause b: \"b\"
    kind upkeep
    chance 30% of machines
symptom s: \"s\"
    with a: {share}%
    with b: {other}%
    without {leak}%
");
        let bench = bench(&rules, "");
        let prior = f64::from(chance) / 100.0;
        let after = bench.given(("a", ""), &[("s", "no")]);
        prop_assert!(after <= prior + 1e-12);
        // Normal reads each cause by itself: with its own line alone, whatever the others do.
        let own = prior * (1.0 - f64::from(share) / 100.0);
        prop_assert!((after - own / (own + 1.0 - prior)).abs() < 1e-9);
    }
}
