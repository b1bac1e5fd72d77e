//! How blocks stand before anything is seen, on rules whose figures are products of a few shares.

use crate::support::setting::{Setting, set};
use pinboss::ground::{find_hidden, find_symptom};
use pinboss::reason::standing::{Block, Standing, standing};
use pinboss::report::rules::shown::shown;

const RULES: &str = "\
cause loose: \"bolts loose\"
    kind upkeep
    chance 20% of machines
    basis estimate
cause bent, each side: \"frame bent\"
    kind upkeep
    chance 30% of sides
    basis estimate
fact ground: \"ground\"
    choices soft 75%, hard 25%
    tell \"Look.\"  takes 1 min
    basis estimate
symptom knock, each side: \"knock\"
    grades none, faint, loud
    with loose: 60% faint
    with bent: 50% loud
    without 2% faint
    basis estimate
symptom crooked: \"crooked\"
    with bent on either side: 80%
    basis estimate
check look: \"Look at it\"
    shows knock, crooked
    takes 2 min
    basis estimate
";

fn stands(block: impl Fn(&Setting) -> Block) -> Standing {
    let setting = set(RULES, "case: c\nmachine: {tag: T}\n");
    standing(&setting.weighing(), block(&setting)).unwrap()
}

fn symptom(name: &'static str) -> impl Fn(&Setting) -> Block {
    move |setting| Block::Symptom(find_symptom(&setting.model, name).unwrap())
}

fn hidden(name: &'static str) -> impl Fn(&Setting) -> Block {
    move |setting| Block::Hidden(find_hidden(&setting.model, name).unwrap())
}

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-12, "{found} is not {expected}");
}

/// Noisy-MAX by hand: a grade or one below it shows when every path stays at or below it
#[test]
fn a_symptom_shows_as_often_as_its_lines_make_it() {
    let knock = stands(symptom("knock"));
    let none = (1.0 - 0.2 * 0.6) * (1.0 - 0.3 * 0.5) * (1.0 - 0.02);
    let faint_at_most = 1.0 - 0.3 * 0.5;
    for (found, expected) in knock.shares.iter().zip([none, faint_at_most - none, 1.0 - faint_at_most]) {
        near(*found, expected);
    }
    let square = |value: f64| value * value;
    let either = 0.8 * square(0.85 * 0.98) + 0.2 * square(0.4 * 0.85 * 0.98);
    near(knock.anywhere.unwrap(), 1.0 - either);
}

/// Bayes by hand: P(cause | grade) = P(cause, grade) / P(grade)
#[test]
fn reasons_of_a_grade() {
    let knock = stands(symptom("knock"));
    let loud = &knock.reasons[1];
    assert_eq!(loud.grade, 2);
    near(loud.causes[0].1, 1.0);
    near(loud.causes[1].1, 0.2);
    near(loud.none, 0.0);
    let faint = &knock.reasons[0];
    let not_loud = |bent: bool| if bent { 0.3 * 0.5 } else { 0.7 };
    let with_loose = 0.2 * (not_loud(true) + not_loud(false)) * (1.0 - 0.4 * 0.98);
    let without = 0.8 * (not_loud(true) + not_loud(false)) * 0.02;
    near(faint.causes[0].1, with_loose / (with_loose + without));
    near(faint.causes[1].1, not_loud(true) / (not_loud(true) + not_loud(false)));
    near(faint.none, 0.8 * 0.7 * 0.02 / (with_loose + without));
}

#[test]
fn a_cause_of_either_side_is_one_reason() {
    let crooked = stands(symptom("crooked"));
    near(crooked.shares[1], 1.0 - (1.0 - 0.3 * 0.8) * (1.0 - 0.3 * 0.8));
    assert_eq!(crooked.reasons[0].causes.len(), 1);
    near(crooked.reasons[0].causes[0].1, 1.0);
}

#[test]
fn a_cause_stands_by_its_chance_and_shows_in_what_it_leads_to() {
    let bent = stands(hidden("bent"));
    near(bent.shares[1], 0.3);
    near(bent.anywhere.unwrap(), 1.0 - 0.7 * 0.7);
    assert_eq!(bent.reasons, []);
    let [crooked, knock] = bent.leads_to.as_slice() else { panic!("{:?}", bent.leads_to) };
    near(crooked.with, 1.0 - 0.2 * (1.0 - 0.3 * 0.8));
    near(crooked.without, 0.3 * 0.8);
    near(knock.with, 1.0 - (1.0 - 0.2 * 0.6) * 0.5 * 0.98);
    near(knock.without, 1.0 - (1.0 - 0.2 * 0.6) * 0.98);
}

/// What an editor shows of a name, without anything reckoned
#[test]
fn sentences_of_a_name_say_the_shares_as_counts() {
    let setting = set(RULES, "case: c\nmachine: {tag: T}\n");
    let entry = shown(&setting.model, "knock").unwrap().entry;
    let from = entry.says.iter().find(|says| says.about == "What it comes from").unwrap();
    assert_eq!(from.lines[0], "Of 100 sides with bolts loose, 60 show “faint” for that reason.");
    assert!(entry.says.iter().all(|says| says.about != "All told"), "{:?}", entry.says);
    assert!(shown(&setting.model, "no_such").is_none());
}

#[test]
fn a_fact_stands_by_its_choices() {
    let number = |setting: &Setting| {
        let place = setting.model.facts.iter().position(|fact| fact.common.name == "ground");
        Block::Fact(pinboss::model::FactId(place.unwrap()))
    };
    let ground = stands(number);
    near(ground.shares[0], 0.75);
    assert_eq!(ground.anywhere, None);
}
