//! Gates and tests on facts: told, and not told.

use crate::language::grounded::{bench, same, visit};
use rstest::rstest;

const RULES: &str = "
fact f: \"f\"
    choices x 30%, y 70%
cause a: \"a\"
    kind upkeep
    only where f is x
    chance 50% of machines
condition c: \"c\"
    only where f is x
    without 40%
symptom s: \"s\"
    only where f is x
    without 20%
symptom t: \"t\"
    with a: often where f is x
    without 10%
symptom u: \"u\"
    without 60% where f is x
    without 5%
";

/// A fact that is told opens or closes; one that is not is a parent with the chances of its choices
#[rstest]
#[case("f: x", 0.5, 0.4, 0.2, 1.0 - (1.0 - 0.5 * 0.6) * 0.9, 0.6)]
#[case("", 0.3 * 0.5, 0.3 * 0.4, 0.3 * 0.2, 1.0 - (1.0 - 0.3 * 0.5 * 0.6) * 0.9, 0.3 * 0.6 + 0.7 * 0.05)]
fn an_open_gate_and_an_untold_fact(
    #[case] facts: &str,
    #[case] a: f64,
    #[case] c: f64,
    #[case] s: f64,
    #[case] t: f64,
    #[case] u: f64,
) {
    let bench = bench(RULES, facts);
    same(bench.chance(&[("a", "")]), a);
    same(bench.chance(&[("c", "yes")]), c);
    same(bench.chance(&[("s", "yes")]), s);
    same(bench.chance(&[("t", "yes")]), t);
    same(bench.chance(&[("u", "yes")]), u);
}

/// What a told fact rules out is not there at all; a single line it rules out brings nothing about
#[test]
fn a_closed_gate() {
    let bench = bench(RULES, "f: y");
    for gone in ["a", "c", "s"] {
        assert!(!bench.has(gone), "{gone}");
    }
    same(bench.chance(&[("t", "yes")]), 0.1);
    same(bench.chance(&[("u", "yes")]), 0.05);
}

/// One untold fact stands behind everything that hangs on it: what speaks for the one speaks for the other
#[test]
fn an_untold_fact_ties_what_hangs_on_it_together() {
    let bench = bench(RULES, "");
    same(bench.chance(&[("s", "yes"), ("u", "yes")]), 0.3 * 0.2 * 0.6);
    same(bench.given(("f", "x"), &[("s", "yes")]), 1.0);
    same(bench.given(("a", ""), &[("s", "yes")]), 0.5);
    let x = 0.3 * 0.6;
    same(bench.given(("f", "x"), &[("u", "yes")]), x / (x + 0.7 * 0.05));
}

/// A gate on a part is one on everything seen on it
#[test]
fn the_gate_of_a_part_is_that_of_what_is_seen_on_it() {
    let rules = "
fact layout: \"layout\"
    choices oval 75%, elevated 25%
part rear, each side: \"rear idler\" only where layout is elevated
symptom s, each side, of rear: \"s\"
    without 20%
";
    same(bench(rules, "").chance(&[("s left", "yes")]), 0.25 * 0.2);
    same(bench(rules, "layout: elevated").chance(&[("s left", "yes")]), 0.2);
    assert!(!bench(rules, "layout: oval").has("s left"));
}

/// What is found on a machine that cannot have it is an error, not a finding
#[test]
fn a_finding_behind_a_closed_gate_is_an_error() {
    let bench = visit(RULES, "{tag: T, facts: {f: y}}", "{machine: {found: {s: yes}}}");
    assert_eq!(bench.said(), ["not-on-this-machine | s | `s` cannot be seen on this machine"]);
    assert!(visit(RULES, "{tag: T, facts: {f: x}}", "{machine: {found: {s: yes}}}").said().is_empty());
}

/// Choices of a fact by another fact: the first line that holds
#[test]
fn a_fact_by_another_fact() {
    let rules = "
fact f: \"f\"
    choices x 30%, y 70%
fact g: \"g\"
    choices p 90%, q 10% where f is x
    choices p 20%, q 80%
symptom s: \"s\"
    without 100% where g is p
symptom t: \"t\"
    without 100% where f is x
";
    same(bench(rules, "").chance(&[("s", "yes")]), 0.3 * 0.9 + 0.7 * 0.2);
    same(bench(rules, "f: y").chance(&[("s", "yes")]), 0.2);
    same(bench(rules, "f: y, g: q").chance(&[("s", "yes")]), 0.0);
    same(bench(rules, "").given(("t", "yes"), &[("s", "yes")]), 0.27 / 0.41);
    // Told g speaks for f.
    same(bench(rules, "g: p").chance(&[("t", "yes")]), 0.3);
}

/// A fact of each side is one for each: what is told of the left says nothing of the right
#[test]
fn a_fact_of_each_side() {
    let rules = "
fact age, each side: \"age\"
    choices early 60%, late 40%
symptom s, each side: \"s\"
    without 50% where age is late
    without 10%
symptom r, each roller: \"r\"
    without 30% where age is late
";
    let told = bench(rules, "age: {left: late}, rollers: 2");
    same(told.chance(&[("s left", "yes")]), 0.5);
    same(told.chance(&[("s right", "yes")]), 0.6 * 0.1 + 0.4 * 0.5);
    same(told.chance(&[("r left 2", "yes")]), 0.3);
    same(told.chance(&[("r right 1", "yes"), ("r right 2", "yes")]), 0.4 * 0.3 * 0.3);
}

/// Hours are over or under a figure when they are told, and neither when they are not
#[rstest]
#[case("{tag: T, hours: 3000}", 0.5)]
#[case("{tag: T, hours: 2000}", 0.25)]
#[case("{tag: T, hours: 100}", 0.125)]
#[case("{tag: T}", 0.25)]
fn tests_on_hours(#[case] machine: &str, #[case] share: f64) {
    let rules = "
symptom s: \"s\"
    without 50% where hours over 2000
    without 12.5% where hours under 2000 h
    without 25%
";
    same(visit(rules, machine, "{}").chance(&[("s", "yes")]), share);
}
