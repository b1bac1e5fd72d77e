//! Places: parents at other places than their block, and tests on side and row.

use crate::language::grounded::{Bench, bench, same, visit};
use crate::support::setting::set;
use pinboss::model::PartId;
use pinboss::place::{Place, Side};
use rstest::rstest;

const WIDE: &str = "
cause a, each side: \"a\"
    kind upkeep
    chance 10% of sides
cause b, each roller: \"b\"
    kind upkeep
    chance 20% of rollers
cause m: \"m\"
    kind upkeep
    chance 30% of machines
";

/// One independent path for each place of the parent that lies within the block's own
#[rstest]
#[case("symptom s: \"s\"\n    with a on either side: 50%\n", "s", 1.0 - 0.95 * 0.95)]
#[case("symptom s: \"s\"\n    with b on any roller: 50%\n", "s", 1.0 - 0.9 * 0.9 * 0.9 * 0.9)]
#[case("symptom s, each side: \"s\"\n    with b on any roller: 50%\n", "s left", 1.0 - 0.9 * 0.9)]
// One parent where the block stands, or around it
#[case("symptom s, each side: \"s\"\n    with a: 50%\n", "s left", 0.05)]
#[case("symptom s, each side: \"s\"\n    with m: 50%\n", "s left", 0.15)]
#[case("symptom s, each roller: \"s\"\n    with a: 50%\n", "s left 2", 0.05)]
#[case("symptom s, each roller: \"s\"\n    with b: 50%\n", "s left 2", 0.1)]
#[case("symptom s, each roller: \"s\"\n    with m: 50%\n", "s right 1", 0.15)]
fn a_parent_at_other_places(#[case] symptom: &str, #[case] at: &str, #[case] yes: f64) {
    let bench = bench(&format!("{WIDE}{symptom}"), "rollers: 2");
    same(bench.chance(&[(at, "yes")]), yes);
}

/// What the two sides share is the machine's; what is each side's own is not shared
#[test]
fn sides_share_the_machines_causes_only() {
    let rules = format!(
        "{WIDE}symptom s, each side: \"s\"\n    with m: 50%\nsymptom t, each side: \"t\"\n    with a: 50%\n"
    );
    let bench = bench(&rules, "rollers: 1");
    same(bench.chance(&[("s left", "yes"), ("s right", "yes")]), 0.3 * 0.25);
    same(bench.chance(&[("t left", "yes"), ("t right", "yes")]), 0.05 * 0.05);
}

fn rollers(count: u32, test: &str) -> Bench {
    let rules = format!("symptom s, each roller: \"s\"\n    without 100% where {test}\n");
    bench(&rules, &format!("rollers: {count}"))
}

/// Which rollers of a side pass a test
#[rstest]
#[case(5, "roller is first", &[1])]
#[case(5, "roller is last", &[5])]
#[case(5, "roller is first or last", &[1, 5])]
#[case(5, "roller is not first", &[2, 3, 4, 5])]
#[case(5, "roller is in front half", &[1, 2])]
#[case(5, "roller is in rear half", &[4, 5])]
#[case(4, "roller is in front half", &[1, 2])]
#[case(4, "roller is in rear half", &[3, 4])]
#[case(5, "roller is not in front half", &[3, 4, 5])]
#[case(5, "roller is last or in front half", &[1, 2, 5])]
#[case(1, "roller is first and roller is last", &[1])]
#[case(3, "rollers over 3", &[])]
#[case(4, "rollers over 3", &[1, 2, 3, 4])]
#[case(2, "rollers is 2 or 3", &[1, 2])]
#[case(2, "rollers is not 2 or 3", &[])]
fn tests_along_a_row(#[case] count: u32, #[case] test: &str, #[case] passing: &[u32]) {
    let bench = rollers(count, test);
    for side in ["left", "right"] {
        let passed: Vec<u32> = (1..=count)
            .filter(|number| bench.chance(&[(&format!("s {side} {number}"), "yes")]) > 0.5)
            .collect();
        assert_eq!(passed, passing);
    }
}

#[rstest]
#[case("side is left", 1.0, 0.0)]
#[case("side is not left", 0.0, 1.0)]
#[case("side is right", 0.0, 1.0)]
fn tests_on_the_side(#[case] test: &str, #[case] left: f64, #[case] right: f64) {
    let bench = bench(&format!("symptom s, each side: \"s\"\n    without 100% where {test}\n"), "");
    same(bench.chance(&[("s left", "yes")]), left);
    same(bench.chance(&[("s right", "yes")]), right);
}

/// A grade by the number or the share of those named; each starts where it says
#[rstest]
#[case("[]", 40, "none")]
#[case("[3]", 40, "one")]
#[case("[3, 9]", 40, "several")]
#[case("[1, 2, 3, 4]", 10, "several")]
#[case("[1, 2, 3, 4, 5]", 10, "most")]
fn a_grade_by_counting(#[case] joints: &str, #[case] of: u32, #[case] grade: &str) {
    let rules = "
symptom s, each side: \"s\"
    grades none, one, several, most
    counts one 1, several 2, most over 40% of joints
    without 10% one, 10% several, 10% most
";
    let seen = format!("{{left: {{found: {{s: {{joints: {joints}, of: {of}}}}}}}}}");
    let bench = visit(rules, "{tag: T}", &seen);
    assert_eq!(bench.said(), Vec::<String>::new());
    let [seen] = bench.ground.observations.as_slice() else { panic!("{:?}", bench.ground.observations) };
    assert_eq!(bench.model[seen.symptom].effect.grades.name(seen.grade), grade);
}

/// A symptom that gives way counts only while the other has no finding at the same place
#[test]
fn a_symptom_gives_way_at_its_own_place() {
    let rules = "
symptom better, each side: \"better\"
    without 10%
symptom worse, each side: \"worse\"
    gives way to better
    without 10%
";
    let seen = "{left: {found: {better: no, worse: yes}}, right: {found: {worse: yes}}}";
    let bench = visit(rules, "{tag: T}", seen);
    let counted: Vec<String> = bench
        .ground
        .observations
        .iter()
        .map(|seen| format!("{} {}", bench.model[seen.symptom].effect.common.name, seen.place))
        .collect();
    assert_eq!(counted, ["better left", "worse right"]);
}

/// A part at each of a row that is no row itself has the hours of its own place
#[test]
fn a_part_at_each_of_a_row_has_hours_of_its_own() {
    let case = "case: c\nmachine: {tag: T, hours: 5000, facts: {rollers: 3}}\nparts: [{part: seal, on: 4000 h}]\nseen: {}\n";
    let setting = set("part seal, each roller: \"seal\"\n", case);
    let seal = setting.model.parts.iter().position(|part| part.common.name == "seal").map(PartId).unwrap();
    let place = Place::Numbered { side: Side::Left, part: "roller".to_owned(), number: 2 };
    let service = setting.ground.machine.service(&setting.model, seal, &place);
    assert_eq!(service.and_then(|service| service.hours), Some(1000.0));
}
