//! Symptoms over the same readings: more of them than there are readings would count one figure twice.

use crate::model::formula::{Formula, Row};
use crate::model::{How, MeasureId, Model, Symptom, SymptomId};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use std::collections::BTreeMap;

/// Readings a row of numbered parts is taken to give: more than any set of rules has symptoms of one row
const READINGS_IN_A_ROW: usize = 4;

/// Says where symptoms outnumber the readings they are made from
pub(super) fn check(model: &Model, problems: &mut Problems) {
    let mut told: Vec<Vec<usize>> = Vec::new();
    for symptom in &model.symptoms {
        let Some(own) = readings(model, symptom) else {
            continue;
        };
        let sharing: Vec<usize> = (0..model.symptoms.len())
            .filter(|&number| {
                let other = model.symptoms.get(number).and_then(|other| readings(model, other));
                other.is_some_and(|other| other.keys().all(|measure| own.contains_key(measure)))
            })
            .collect();
        let standing: Vec<usize> =
            sharing.iter().copied().filter(|&number| !gives_way_within(model, number, &sharing)).collect();
        if standing.len() > own.values().sum::<usize>() && !told.contains(&standing) {
            problems.push(problem(model, symptom, &standing));
            told.push(standing);
        }
    }
}

fn gives_way_within(model: &Model, number: usize, group: &[usize]) -> bool {
    let to = |other: &SymptomId| group.contains(&other.0);
    model.symptoms.get(number).is_some_and(|symptom| symptom.gives_way.iter().any(to))
}

fn problem(model: &Model, symptom: &Symptom, standing: &[usize]) -> Problem {
    let others: Vec<&Symptom> = standing.iter().filter_map(|&number| model.symptoms.get(number)).collect();
    let names: Vec<String> = others.iter().map(|other| format!("`{}`", other.effect.common.name)).collect();
    let last = others.last().unwrap_or(&symptom);
    let mut problem = Problem::new(
        Code::SharedReading,
        last.effect.common.at,
        format!("{} are made from too few readings", names.join(", ")),
    )
    .help(format!(
        "let one of them give way: write `gives way to {}` in it, or take another measure",
        others.first().unwrap_or(&symptom).effect.common.name
    ));
    for other in others.iter().rev().skip(1) {
        problem = problem.also(other.effect.common.at, "shares the readings");
    }
    problem
}

/// Measures read for a symptom, each with how many readings it gives; none without a `from`
fn readings(model: &Model, symptom: &Symptom) -> Option<BTreeMap<MeasureId, usize>> {
    let (formula, _) = symptom.reading.as_ref()?;
    let mut found = BTreeMap::new();
    gather(model, formula, 1, &mut found);
    Some(found)
}

fn gather(model: &Model, formula: &Formula, each: usize, found: &mut BTreeMap<MeasureId, usize>) {
    match formula {
        Formula::Measure(id) | Formula::Worn(id) | Formula::Loss(id) | Formula::Pace(id) => {
            match &model[*id].how {
                How::Reckoned(inner) => gather(model, inner, each, found),
                How::Read { .. } => {
                    let known = found.entry(*id).or_insert(each);
                    *known = (*known).max(each);
                }
            }
        }
        Formula::Across { of, row, .. } => {
            let several = if *row == Row::Sides { 2 } else { READINGS_IN_A_ROW };
            gather(model, of, each * several, found);
        }
        Formula::Pair(first, _, second) => {
            gather(model, first, each, found);
            gather(model, second, each, found);
        }
        _ => {}
    }
}
