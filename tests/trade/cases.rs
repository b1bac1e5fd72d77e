//! Every shipped inspection against what strip-down showed; common practice, and the machines are invented.

use crate::bench::{SHIPPED, listed, told};
use pinboss::case::{self, NameAt, Truth};
use pinboss::ground::{Ground, find_hidden, ground};
use pinboss::infer::Limits;
use pinboss::model::{Forms, Hidden};
use pinboss::place::{Place, Side};
use pinboss::reason::{self, Ranked};
use pinboss::source::Sources;
use std::fs;

/// Chance under which a cause that was not there must stay
const ABSENT_UNDER: f64 = 0.3;
/// Chance over which a condition that was there must lie
const CONDITION_OVER: f64 = 0.5;

/// What is wrong with a case: problems in its text, or an answer that strip-down gainsays
fn faults(name: &str, text: &str) -> Vec<String> {
    let mut sources = Sources::default();
    let id = sources.add(name, text);
    let (inspection, mut problems) = case::read(&sources, id);
    let Some(inspection) = inspection else {
        return told(&problems, &sources);
    };
    let (ground, said) = ground(&SHIPPED.model, &inspection);
    problems.append(said);
    if !problems.is_empty() {
        return told(&problems, &sources);
    }
    let Some(truth) = &inspection.truth else {
        return vec![format!("{name}: tells no truth: add what was present and what absent")];
    };
    match reason::diagnose(&SHIPPED.model, &ground, &Limits::default()) {
        Ok(found) => judge(name, truth, &ground, &found.causes, &found.conditions),
        Err(stop) => vec![format!("{name}: cannot be weighed: {stop:?}")],
    }
}

/// Causes that were there rank above all others, and what was not there stays low
fn judge(
    name: &str,
    truth: &Truth,
    ground: &Ground,
    causes: &[Ranked],
    conditions: &[Ranked],
) -> Vec<String> {
    let mut faults = Vec::new();
    let mut present: Vec<&Ranked> = Vec::new();
    for one in &truth.present {
        let Some((ranked, chance)) = find(one, causes, conditions) else {
            faults.push(format!("{name}: {} was there and cannot be on this machine", shown(one)));
            continue;
        };
        match ranked.hidden {
            Hidden::Cause(_) => {
                present.push(ranked);
                let form = chance / ranked.probability;
                if form < CONDITION_OVER {
                    faults.push(format!("{name}: {} is the less likely form, {form:.2}", shown(one)));
                }
            }
            Hidden::Condition(_) if chance <= CONDITION_OVER => {
                faults.push(format!("{name}: {} was there and gets {chance:.2}", shown(one)));
            }
            Hidden::Condition(_) => {}
        }
    }
    let others = causes.iter().filter(|own| !present.iter().any(|there| there.node == own.node));
    if let Some(first) = others.clone().next() {
        let over = present.iter().filter(|there| there.probability <= first.probability);
        faults.extend(
            over.map(|there| {
                format!("{name}: {} ranks over {}", called(ground, first), called(ground, there))
            }),
        );
        if present.is_empty() && first.probability > ABSENT_UNDER {
            let blamed = called(ground, first);
            faults.push(format!("{name}: sound, and {blamed} gets {:.2}", first.probability));
        }
    }
    for one in &truth.absent {
        // What the facts told rule out is not on the network at all.
        let chance = find(one, causes, conditions).map_or(0.0, |(_, chance)| chance);
        if chance >= ABSENT_UNDER {
            faults.push(format!("{name}: {} was not there and gets {chance:.2}", shown(one)));
        }
    }
    faults
}

/// What a name of the truth stands for, with the chance of the very form or grade that it names; none when the facts
/// told rule it out
fn find<'r>(one: &NameAt, causes: &'r [Ranked], conditions: &'r [Ranked]) -> Option<(&'r Ranked, f64)> {
    let hidden = find_hidden(&SHIPPED.model, &one.name.value).unwrap();
    let place = one.place.as_ref().map_or(Place::Machine, |place| place.value.clone());
    let toward = match (hidden, &place) {
        (Hidden::Cause(id), Place::Side(side)) if SHIPPED.model[id].forms == Forms::Sides => Some(*side),
        _ => None,
    };
    let place = if toward.is_some() { Place::Machine } else { place };
    let ranked = causes.iter().chain(conditions).find(|own| own.hidden == hidden && own.place == place)?;
    let grade = one.grade.as_ref().map(|grade| grade.value.as_str()).or(toward.map(Side::word));
    let chance = match (grade, hidden) {
        (None, _) => ranked.probability,
        (Some(grade), Hidden::Cause(id)) => {
            let forms = SHIPPED.model[id].forms.names();
            ranked.grades[1 + forms.iter().position(|form| form == grade).unwrap()]
        }
        (Some(grade), Hidden::Condition(id)) => ranked.grades[SHIPPED.model[id].grades.find(grade).unwrap()],
    };
    Some((ranked, chance))
}

fn shown(one: &NameAt) -> String {
    let place = one.place.as_ref().map_or_else(String::new, |place| format!(" {}", place.value));
    format!("`{}{place}`", one.name.value)
}

fn called(ground: &Ground, ranked: &Ranked) -> String {
    assert!(ground.origin(ranked.node).is_some());
    let name = &SHIPPED.model.common(ranked.hidden).name;
    format!("`{name} {}` ({:.2})", ranked.place, ranked.probability)
}

#[test]
fn strip_down_agrees_with_every_case() {
    let paths = listed("cases", "yaml");
    assert!(paths.len() >= 6, "only {} cases", paths.len());
    let mut all = Vec::new();
    for path in &paths {
        let name = path.file_name().unwrap().to_string_lossy();
        all.extend(faults(&name, &fs::read_to_string(path).unwrap()));
    }
    assert!(all.is_empty(), "{all:#?}");
}

#[test]
fn sound_machines_and_machines_with_two_faults_are_among_the_cases() {
    let mut counts = Vec::new();
    for path in listed("cases", "yaml") {
        let mut sources = Sources::default();
        let id = sources.add("case", fs::read_to_string(path).unwrap());
        let truth = case::read(&sources, id).0.unwrap().truth.unwrap();
        counts.push(truth.present.len());
    }
    assert!(counts.iter().filter(|count| **count == 0).count() >= 2, "{counts:?}");
    assert!(counts.iter().any(|count| *count >= 2), "{counts:?}");
}

/// Oil run down the right rear mount and nothing else wrong
const SEAL: &str = "\
case: t
machine: {tag: T, hours: 4000, size: medium, facts: {rollers: 7}}
seen:
  right: {looked: [wipe_rear_mount], found: {rear_mount_oil: run_down}}
";

#[test]
fn the_judge_lets_a_true_truth_pass() {
    let text =
        format!("{SEAL}truth: {{present: [rear_seal_failed right], absent: [rear_mount_worn right]}}\n");
    assert_eq!(faults("t", &text), Vec::<String>::new());
}

#[test]
fn the_judge_finds_a_case_that_tells_no_truth() {
    assert_eq!(faults("t", SEAL), ["t: tells no truth: add what was present and what absent"]);
}

#[test]
fn the_judge_finds_what_strip_down_gainsays() {
    let gainsaid = |truth: &str| faults("t", &format!("{SEAL}truth: {truth}\n")).join("\n");
    let sound = gainsaid("{present: [], absent: [rear_seal_failed right]}");
    assert!(sound.contains("t: sound, and `rear_seal_failed right`"), "{sound}");
    assert!(sound.contains("`rear_seal_failed right` was not there"), "{sound}");
    let other = gainsaid("{present: [frame_bent left]}");
    assert!(other.contains("`rear_seal_failed right` (") && other.contains("ranks over"), "{other}");
    let state = gainsaid("{present: [rear_seal_failed right, frame_toe toed_in left]}");
    assert!(state.contains("`frame_toe left` was there and gets 0.0"), "{state}");
    let nobody = gainsaid("{present: [rear_seal_bad right]}");
    assert!(nobody.contains("rear_seal_bad"), "{nobody}");
}
