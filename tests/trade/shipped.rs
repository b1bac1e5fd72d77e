//! The shipped rules as a whole: how much they know, that nothing in them lacks its caution or its remedy, and how
//! many causes they expect on a machine.

use crate::support::rules::{SHIPPED, shipped, told};
use crate::support::shipped::Bench;
use pinboss::ground::empty;
use pinboss::model::{CauseId, Check, Common, ConditionId, Dimension, Hidden, How, MeasureId, Model};
use pinboss::reason::Weighing;
use pinboss::reason::balance::balance;
use rstest::rstest;
use std::collections::{BTreeMap, BTreeSet};

fn model() -> &'static Model {
    &SHIPPED.model
}

#[test]
fn nothing_in_the_rules_is_wrong_or_doubtful() {
    let said = told(&SHIPPED.problems, &SHIPPED.sources);
    assert!(said.is_empty(), "{said:#?}");
}

#[rstest]
#[case::causes(model().causes.len(), 25)]
#[case::conditions(model().conditions.len(), 8)]
#[case::symptoms(model().symptoms.len(), 45)]
#[case::checks(model().checks.len(), 25)]
#[case::remedies(model().remedies.len(), 20)]
fn the_rules_know_enough(#[case] known: usize, #[case] least: usize) {
    assert!(known >= least, "{known}");
}

#[rstest]
fn eight_measures_have_dimensions_and_a_limit(#[values("light", "medium", "heavy")] size: &str) {
    let size = &model().sizes[size];
    let limited = |(id, rows): &(MeasureId, &Vec<Dimension>)| {
        matches!(model()[*id].how, How::Read { .. }) && rows.iter().all(|row| row.points.len() >= 2)
    };
    let dimensions = size.dimensions.iter().map(|(id, rows)| (*id, rows));
    let with_limit: Vec<_> = dimensions.filter(limited).collect();
    assert!(with_limit.len() >= 8, "{}", with_limit.len());
    let with_life = with_limit.iter().filter(|(id, _)| size.life.contains_key(id)).count();
    assert!(with_life >= 8, "{with_life}");
}

/// Words that tell a mechanic of something that moves, falls, burns, cuts or flies; common practice
const HAZARDS: [&str; 22] = [
    "adjuster", "bar", "chain", "crib", "dig", "drive", "grease", "hammer", "heat", "hot", "hub", "idler",
    "jack", "lift", "master", "press", "recoil", "roll", "scrape", "spring", "teeth", "track",
];

/// What of a check tells of a hazard, if anything does
fn hazard(check: &Check) -> Option<&'static str> {
    match check.access.as_deref() {
        Some("moved") => return Some("the machine moves"),
        Some("lifted") => return Some("the machine is lifted"),
        Some("records") => return None,
        _ => {}
    }
    let text = check.common.text.as_deref().unwrap_or("");
    let words = format!("{} {} {}", check.common.label, text, check.needs.join(" ")).to_lowercase();
    HAZARDS.into_iter().find(|hazard| words.contains(hazard))
}

#[test]
fn every_check_that_can_hurt_carries_a_caution() {
    let hurting: Vec<&Check> = model().checks.iter().filter(|check| hazard(check).is_some()).collect();
    assert!(hurting.len() >= 25, "{}", hurting.len());
    let bare: Vec<&str> = hurting
        .iter()
        .filter(|check| check.cautions.is_empty())
        .map(|check| check.common.name.as_str())
        .collect();
    assert!(bare.is_empty(), "{bare:?}");
}

#[test]
fn nobody_goes_near_the_machine_without_a_caution() {
    let near = model().checks.iter().filter(|check| check.access.as_deref() != Some("records"));
    let bare: Vec<&str> =
        near.filter(|check| check.cautions.is_empty()).map(|check| check.common.name.as_str()).collect();
    assert!(bare.is_empty(), "{bare:?}");
}

/// What must be said at a check of these words, after the hazard table of 29 CFR 1926.600(a)(3), 29 CFR 1910.147(d)(5)
/// and HSE Safety Alert STSU 2-2017
#[rstest]
#[case::raised("lifted", &["crib", "hangs"])]
#[case::moving("moved", &["spotter", "clear", "aside", "driver", "moves", "engine off"])]
fn the_caution_speaks_of_the_hazard(#[case] access: &str, #[case] words: &[&str]) {
    let such: Vec<&Check> =
        model().checks.iter().filter(|check| check.access.as_deref() == Some(access)).collect();
    assert!(such.len() >= 5, "{}", such.len());
    for check in such {
        let said = check.cautions.join(" ").to_lowercase();
        assert!(words.iter().any(|word| said.contains(word)), "{}: {said}", check.common.name);
    }
}

#[test]
fn every_cause_and_condition_has_a_remedy() {
    let fixed: BTreeSet<Hidden> =
        model().remedies.iter().flat_map(|remedy| remedy.fixes.iter().copied()).collect();
    let causes = (0..model().causes.len()).map(|number| Hidden::Cause(CauseId(number)));
    let conditions = (0..model().conditions.len()).map(|number| Hidden::Condition(ConditionId(number)));
    let bare: Vec<&str> = causes
        .chain(conditions)
        .filter(|hidden| !fixed.contains(hidden))
        .map(|hidden| model().common(hidden).name.as_str())
        .collect();
    assert!(bare.is_empty(), "{bare:?}");
}

/// Longest label that still reads inside a sentence
const LONGEST: usize = 56;

#[test]
fn labels_of_causes_and_signs_are_short_and_no_two_are_alike() {
    let mut known: BTreeMap<&str, &str> = BTreeMap::new();
    let causes = model().causes.iter().map(|it| &it.common);
    let conditions = model().conditions.iter().map(|it| &it.common);
    let symptoms = model().symptoms.iter().map(|it| &it.effect.common);
    let all: Vec<&Common> = causes.chain(conditions).chain(symptoms).collect();
    for common in all {
        assert!(common.label.len() <= LONGEST, "{}: {}", common.name, common.label);
        let starts_low = common.label.chars().next().is_some_and(char::is_lowercase);
        assert!(starts_low && !common.label.ends_with('.'), "{}: {}", common.name, common.label);
        if let Some(other) = known.insert(&common.label, &common.name) {
            panic!("`{}` and `{other}` are both called \"{}\"", common.name, common.label);
        }
    }
}

#[test]
fn every_with_line_says_why_in_a_sentence() {
    let conditions = model().conditions.iter();
    let symptoms = model().symptoms.iter().map(|symptom| &symptom.effect);
    for effect in conditions.chain(symptoms) {
        for line in &effect.lines {
            let because = line.because.as_deref().unwrap_or("");
            let first = because.chars().next().is_some_and(char::is_uppercase);
            assert!(first && because.ends_with('.'), "{}: \"{because}\"", effect.common.name);
        }
    }
}

/// A machine of which nothing is told but the number of its rollers, and sound ones of its kind
#[test]
fn a_machine_has_one_or_two_causes_and_a_sound_one_is_seldom_blamed() {
    let machine = Bench::of("case: t\nmachine: {tag: T, facts: {rollers: 7}}\n").ground.machine;
    let ground = empty(model(), machine);
    let found = balance(&Weighing::new(shipped(), ground), 1000, 1).unwrap();
    assert!((1.0..=2.0).contains(&found.expected_causes), "{}", found.expected_causes);
    assert!((0.15..0.35).contains(&found.none), "{}", found.none);
    assert!(found.blamed < 60 && found.too_wide < 30, "{found:?}");
    let never: Vec<&str> = found
        .shown
        .iter()
        .filter(|(_, share)| *share <= 0.0 || *share >= 0.7)
        .map(|(id, _)| model()[*id].effect.common.name.as_str())
        .collect();
    assert!(never.is_empty(), "shown on no place, or on most: {never:?}");
}
