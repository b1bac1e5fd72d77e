//! The schema of case files against their reader: what one takes the other takes, and what one refuses so does the other.

use crate::support::rules::{SHIPPED, listed};
use jsonschema::Validator;
use pinboss::case::{self, keys};
use pinboss::ground::ground;
use pinboss::report::rules::schema::schema;
use pinboss::source::Sources;
use rstest::rstest;
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::sync::LazyLock;

/// The schema of the shipped rules, made once
static VALIDATOR: LazyLock<Validator> = LazyLock::new(|| {
    let schema = schema(&SHIPPED.model);
    jsonschema::meta::validate(&schema).unwrap();
    jsonschema::draft202012::new(&schema).unwrap()
});

/// What the reader says is wrong, a line each
fn said(text: &str) -> Vec<String> {
    let mut sources = Sources::default();
    let id = sources.add("case.yaml", text);
    let (inspection, mut problems) = case::read(&sources, id);
    if let Some(inspection) = inspection {
        problems.append(ground(&SHIPPED.model, &inspection).1);
    }
    problems.sorted().into_iter().map(|problem| problem.message.clone()).collect()
}

/// What the schema says is wrong, a line each
fn refused(text: &str) -> Vec<String> {
    let value: Value = serde_yaml::from_str(text).unwrap();
    VALIDATOR.iter_errors(&value).map(|error| format!("{}: {error}", error.instance_path())).collect()
}

#[test]
fn every_case_of_the_project_goes_with_the_schema() {
    let paths = listed("cases", "yaml");
    assert!(paths.len() >= 6);
    for path in paths {
        let text = fs::read_to_string(&path).unwrap();
        assert_eq!(refused(&text), Vec::<String>::new(), "{}", path.display());
    }
}

/// A key that the reader takes and the schema does not know would be refused by every editor
#[test]
fn the_schema_has_the_keys_of_the_reader_level_by_level() {
    let schema = schema(&SHIPPED.model);
    let known = |at: &str| -> BTreeSet<String> {
        let object = schema.pointer(at).and_then(Value::as_object).unwrap_or_else(|| panic!("no {at}"));
        object.iter().filter(|(_, under)| **under != Value::Bool(false)).map(|(key, _)| key.clone()).collect()
    };
    let set = |keys: &[&str]| keys.iter().map(|key| (*key).to_owned()).collect::<BTreeSet<_>>();
    assert_eq!(known("/properties"), set(&keys::WHOLE));
    assert_eq!(known("/properties/machine/properties"), set(&keys::MACHINE));
    assert_eq!(known("/properties/parts/items/properties"), set(&keys::PARTS));
    assert_eq!(known("/properties/visit/properties"), set(&keys::VISIT));
    assert_eq!(known("/properties/truth/properties"), set(&keys::TRUTH));
    assert_eq!(known("/properties/expect/properties"), set(&keys::EXPECT));
    for place in ["machine", "side", "roller"] {
        assert_eq!(known(&format!("/$defs/at_{place}/properties")), set(&keys::SEEN));
    }
}

/// Rules with hardly anything in them have a schema all the same
#[test]
fn the_schema_of_few_rules_is_a_schema() {
    let schema = schema(&pinboss::model::Model::default());
    jsonschema::meta::validate(&schema).unwrap();
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    let case = |text: &str| -> Value { serde_yaml::from_str(text).unwrap() };
    assert!(validator.is_valid(&case("{case: a, machine: {tag: T}}")));
    assert!(!validator.is_valid(&case("{case: a, machine: {tag: T}, visit: {state: [hot]}}")));
}

/// A case that uses every key and every form
const WHOLE: &str = "\
case: every form
machine:
  tag: 7
  hours: 6240 h
  size: medium
  facts: {chain_type: sealed_lubricated, rollers: 7, chain_age: {left: mid, right: late}}
parts:
  - {part: chain, on: 0, turned: 3050 h}
  - {part: roller, at: left 3, on: 5100 h}
  - {part: roller, at: right roller 2}
visit: {on: 2026-05-11, by: M. K., place: bench 2, state: [cleaned, hot]}
seen:
  machine: {looked: [walk_round, sight_idler]}
  left:
    looked: [sight_idler]
    found: {flange_worn: {saw: inboard, sure: 70%}, joint_hot: {joints: [9, 22], of: 39}, teeth_sharp: slight}
    read: {link_height: [107.3 mm, 4 7/32 in], idler_depth: {value: 28 mm, void: dirt}, idler_extension: {values: [24 mm]}}
    roller 3: {found: {oil_streak: yes}, photos: {oil_streak: p12.jpg}}
    not_possible: {hub_oil: caked}
  right:
  right roller 5: {found: {oil_streak: no}}
in_question: [flange_worn inboard left, oil_streak left roller 3]
earlier: [a.yaml]
photos: {left idler: p1.jpg, idler_extension left: p2.jpg, left roller 3: [p3.jpg, p4.jpg], right roller 6 oil_streak: p5.jpg, shoe: p6.jpg}
truth: {present: [idler_out_of_line left], absent: [slope_work left, slope_work, frame_toe toed_in right, roller_dry left roller 3]}
expect:
  first: [idler_out_of_line left]
  over: {idler_out_of_line left: 60%, roller_dry left roller 3: 0.5%}
  under: {frame_bent left: 10%}
  next: {scrape_tracks: 3, bar_guides left: 20}
  unexplained: oil_streak left roller 3
  held: [bushing_rev]
  weight: [owner over 10, operator under 0.5]
";

#[test]
fn every_form_is_taken_by_both() {
    assert_eq!(said(WHOLE), Vec::<String>::new());
    assert_eq!(refused(WHOLE), Vec::<String>::new());
}

fn with_fault(from: &str, to: &str) -> String {
    assert_eq!(WHOLE.matches(from).count(), 1, "`{from}` does not stand once in the case");
    WHOLE.replace(from, to)
}

#[rstest]
#[case::unknown_key("earlier:", "earliest:")]
#[case::no_title("case: every form\n", "")]
#[case::no_tag("tag: 7", "size: heavy")]
#[case::hours_in_minutes("6240 h", "30 min")]
#[case::hours_under_none("6240 h", "-3")]
#[case::hours_of_no_machine("6240 h", "1000000000")]
#[case::unknown_size("size: medium", "size: huge")]
#[case::unknown_fact("chain_type:", "chain_sort:")]
#[case::unknown_choice("sealed_lubricated", "oiled")]
#[case::sides_of_a_machine_fact("sealed_lubricated", "{left: dry}")]
#[case::too_many_rollers("rollers: 7", "rollers: 70")]
#[case::rollers_not_told("rollers: 7, ", "")]
#[case::unknown_part("part: chain", "part: chian")]
#[case::place_of_another_part("left 3, on", "left idler 3, on")]
#[case::a_part_without_hours_of_the_machine("  hours: 6240 h\n", "")]
#[case::no_day("2026-05-11", "2026-04-31")]
#[case::unknown_state("[cleaned, hot]", "[clean]")]
#[case::unknown_place("  right:\n", "  front:\n")]
#[case::unknown_check("looked: [walk_round", "looked: [walk_about")]
#[case::check_of_another_place("    looked: [sight_idler]", "    looked: [walk_round]")]
#[case::one_check_and_no_list("    looked: [sight_idler]", "    looked: sight_idler")]
#[case::unknown_symptom("teeth_sharp", "teeth_blunt")]
#[case::symptom_of_another_place("teeth_sharp: slight", "oil_streak: yes")]
#[case::grade_it_has_not("teeth_sharp: slight", "teeth_sharp: inboard")]
#[case::list_of_grades("teeth_sharp: slight", "teeth_sharp: [slight]")]
#[case::blank("teeth_sharp: slight", "teeth_sharp: ")]
#[case::share_without_its_sign("sure: 70%", "sure: 0.7")]
#[case::share_of_nothing("sure: 70%", "sure: 0%")]
#[case::share_over_all("sure: 70%", "sure: 101%")]
#[case::not_said_how_sure(", sure: 70%", "")]
#[case::not_said_of_how_many(", of: 39", "")]
#[case::number_none("joints: [9, 22]", "joints: [0, 22]")]
#[case::counts_of_what_is_not_counted("teeth_sharp: slight", "idler_chipped: {joints: [1], of: 39}")]
#[case::unknown_measure("idler_depth", "idler_deepness")]
#[case::no_unit("107.3 mm", "107.3")]
#[case::unit_that_does_not_fit("107.3 mm", "107.3 h")]
#[case::unknown_unit("107.3 mm", "107.3 mmm")]
#[case::comma("107.3 mm", "'107,3 mm'")]
#[case::two_numbers("107.3 mm", "107-108 mm")]
#[case::no_reading("[24 mm]", "[]")]
#[case::roller_this_machine_has_not("    roller 3: {found", "    roller 8: {found")]
#[case::roller_no_machine_has("right roller 5", "right roller 50")]
#[case::unknown_block("hub_oil", "hub_grease")]
#[case::grade_of_another("flange_worn inboard left", "flange_worn heavy left")]
#[case::name_without_its_side("in_question: [flange_worn inboard left", "in_question: [flange_worn inboard")]
#[case::unknown_cause("present: [idler_out_of_line left]", "present: [idler_out_of_lin left]")]
#[case::the_same_visit_twice("earlier: [a.yaml]", "earlier: [a.yaml, a.yaml]")]
#[case::picture_of_nothing_known("left idler: p1.jpg", "left idle: p1.jpg")]
#[case::picture_of_no_place("left idler: p1.jpg", "front idler: p1.jpg")]
#[case::picture_of_a_roller_no_machine_has("left roller 3: [p3", "left roller 33: [p3")]
#[case::the_same_picture_twice("[p3.jpg, p4.jpg]", "[p3.jpg, p3.jpg]")]
#[case::unknown_name_under_a_place("{oil_streak: p12.jpg}", "{oil_smear: p12.jpg}")]
#[case::condition_first("first: [idler_out_of_line left]", "first: [frame_toe left]")]
#[case::unknown_cause_under("frame_bent left: 10%", "frame_straight left: 10%")]
#[case::chance_without_its_sign("frame_bent left: 10%", "frame_bent left: 10")]
#[case::unknown_check_next("scrape_tracks: 3", "scrape_track: 3")]
#[case::no_number_next("scrape_tracks: 3", "scrape_tracks: soon")]
#[case::unknown_symptom_unexplained("unexplained: oil_streak", "unexplained: oil_smear")]
#[case::unknown_measure_held("held: [bushing_rev]", "held: [bushing_wear]")]
#[case::unknown_expectation("  held:", "  kept:")]
#[case::unknown_party("owner over", "tenant over")]
#[case::weight_without_a_word("owner over 10", "owner 10")]
#[case::weight_of_nothing("owner over 10", "owner over 0")]
fn what_the_reader_refuses_so_does_the_schema(#[case] from: &str, #[case] to: &str) {
    let text = with_fault(from, to);
    assert!(!said(&text).is_empty(), "the reader takes it");
    assert!(!refused(&text).is_empty(), "the schema takes it, the reader says {:?}", said(&text));
}

/// What hangs on other values of the file, or on the rules' tests, is the reader's alone
#[rstest]
#[case::hours_backwards("on: 0, turned", "on: 4000, turned")]
#[case::hours_after_now("turned: 3050 h", "turned: 7000 h")]
#[case::reading_out_of_range("107.3 mm", "1073 mm")]
#[case::picture_of_a_roller_this_machine_has_not("left roller 3: [p3", "left roller 8: [p3")]
#[case::no_such_leap_day("2026-05-11", "2026-02-29")]
#[case::number_over_how_many("joints: [9, 22]", "joints: [9, 40]")]
#[case::told_and_not_possible("hub_oil: caked", "flange_worn: caked")]
#[case::the_same_place_twice("right roller 5:", "left roller 3:")]
#[case::present_and_absent("slope_work left,", "idler_out_of_line left,")]
#[case::over_and_under("frame_bent left: 10%", "idler_out_of_line left: 10%")]
fn what_is_beyond_a_schema_the_reader_refuses_alone(#[case] from: &str, #[case] to: &str) {
    let text = with_fault(from, to);
    assert!(!said(&text).is_empty(), "the reader takes it");
    assert_eq!(refused(&text), Vec::<String>::new());
}
