//! The cases that touch a name: as a finding, a reading, a look, a fact or a part told, or as the truth.

use crate::case::{Inspection, NameAt, Seen};
use crate::report::words::{figure, listed, plain};

/// A line for each case that names it
pub(super) fn touching(name: &str, cases: &[(String, Inspection)]) -> Vec<String> {
    let lines = cases.iter().filter_map(|(file, case)| {
        let touches = touches(name, case);
        (!touches.is_empty()).then(|| format!("{file}: {}.", touches.join("; ")))
    });
    lines.collect()
}

fn touches(name: &str, case: &Inspection) -> Vec<String> {
    let mut phrases = Vec::new();
    for seen in &case.seen {
        let place = &seen.place.value;
        for found in seen.found.iter().filter(|found| found.symptom.value == name) {
            phrases.push(format!("found, {place}: {}", grade(&found.seen)));
        }
        for read in seen.read.iter().filter(|read| read.measure.value == name) {
            let values = read
                .values
                .iter()
                .map(|one| format!("{} {}", figure(one.value.value), one.value.unit.word()));
            phrases.push(format!("read, {place}: {}", values.collect::<Vec<_>>().join(", ")));
        }
    }
    let looked = case.seen.iter().filter(|seen| seen.looked.iter().any(|check| check.value == name));
    let looked: Vec<String> = looked.map(|seen| seen.place.value.to_string()).collect();
    if !looked.is_empty() {
        phrases.push(format!("looked at, {}", listed(&looked)));
    }
    let facts = case.machine.facts.iter().filter(|fact| fact.name.value == name);
    phrases.extend(facts.map(|fact| format!("told: {}", plain(&fact.value.value))));
    if case.machine.size.as_ref().is_some_and(|size| size.value == name) {
        phrases.push("its size class".to_owned());
    }
    if case.parts.iter().any(|fitted| fitted.part.value == name) {
        phrases.push("its hours are told".to_owned());
    }
    if let Some(truth) = &case.truth {
        phrases.extend(named(name, &truth.present).map(|place| format!("it was there in the end{place}")));
        phrases.extend(named(name, &truth.absent).map(|place| format!("it was not there in the end{place}")));
    }
    phrases
}

fn named<'a>(name: &'a str, list: &'a [NameAt]) -> impl Iterator<Item = String> + 'a {
    list.iter()
        .filter(move |own| own.name.value == name)
        .map(|own| own.place.as_ref().map_or_else(String::new, |place| format!(", {}", place.value)))
}

fn grade(seen: &Seen) -> String {
    match seen {
        Seen::Grade(grade) => plain(&grade.value),
        Seen::Unsure { grade, sure } => {
            format!("{}, {} % sure", plain(&grade.value), figure(sure.value * 100.0))
        }
        Seen::Counted { noun, which, of, .. } => format!("{} of {} {}", which.len(), of.value, noun.value),
    }
}
