//! Symptoms over the same readings: more of them than there are readings would count one figure twice.

use crate::invariant::Hold;
use crate::model::formula::{Formula, Row};
use crate::model::{How, MeasureId, Model, Symptom, SymptomId};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use std::collections::{BTreeMap, BTreeSet};

/// Readings a row of numbered parts is taken to give: more than any set of rules has symptoms of one row
const READINGS_IN_A_ROW: usize = 4;

/// Most symptoms named in a message
const MOST_NAMED: usize = 8;

/// The measures that symptoms are made from, each with how many readings it gives
type Sources = BTreeMap<MeasureId, usize>;

/// Says where symptoms outnumber the readings they are made from
pub(super) fn check(model: &Model, problems: &mut Problems) {
    let sources: Vec<Option<Sources>> = model.symptoms.iter().map(|it| readings(model, it)).collect();
    let mut by_measure: BTreeMap<MeasureId, Vec<usize>> = BTreeMap::new();
    for (number, own) in sources.iter().enumerate() {
        for &measure in own.iter().flat_map(Sources::keys) {
            by_measure.entry(measure).or_default().push(number);
        }
    }
    let mut looked: BTreeSet<Vec<(MeasureId, usize)>> = BTreeSet::new();
    let mut reported: BTreeSet<Vec<usize>> = BTreeSet::new();
    for own in sources.iter().flatten() {
        if !looked.insert(own.iter().map(|(&measure, &each)| (measure, each)).collect()) {
            continue;
        }
        let near: BTreeSet<usize> =
            own.keys().filter_map(|it| by_measure.get(it)).flatten().copied().collect();
        let within = |other: &Sources| other.keys().all(|measure| own.contains_key(measure));
        let sharing: BTreeSet<usize> = near
            .into_iter()
            .filter(|&number| sources.get(number).and_then(Option::as_ref).is_some_and(within))
            .collect();
        let standing: Vec<usize> =
            sharing.iter().copied().filter(|&number| !gives_way_within(model, number, &sharing)).collect();
        if standing.len() > own.values().sum::<usize>() && reported.insert(standing.clone()) {
            problems.push(problem(model, &standing));
        }
    }
}

fn gives_way_within(model: &Model, number: usize, group: &BTreeSet<usize>) -> bool {
    let to = |other: &SymptomId| group.contains(&other.0);
    model.symptoms.get(number).is_some_and(|symptom| symptom.gives_way.iter().any(to))
}

/// Why there are symptoms to be told of
const SEVERAL: &str = "they outnumber the readings";

fn problem(model: &Model, standing: &[usize]) -> Problem {
    let others: Vec<&Symptom> = standing.iter().filter_map(|&number| model.symptoms.get(number)).collect();
    let mut names: Vec<String> =
        others.iter().take(MOST_NAMED).map(|other| format!("`{}`", other.effect.common.name)).collect();
    if others.len() > MOST_NAMED {
        names.push(format!("and {} more", others.len() - MOST_NAMED));
    }
    let (first, last) = (others.first().hold(SEVERAL), others.last().hold(SEVERAL));
    let mut problem = Problem::new(
        Code::SharedReading,
        last.effect.common.at,
        format!("these symptoms outnumber the readings they are made from: {}", names.join(", ")),
    )
    .help(format!(
        "let one of them give way: write `gives way to {}` in it, or take another measure",
        first.effect.common.name
    ));
    for other in others.iter().rev().skip(1).take(MOST_NAMED) {
        problem = problem.also(other.effect.common.at, "shares the readings");
    }
    problem
}

/// Measures read for a symptom, each with how many readings it gives; none without a `from`.
///
/// How far the left is ahead of the right stands beside what each side says by itself: of two readings with like errors the
/// difference says nothing of their mean.
fn readings(model: &Model, symptom: &Symptom) -> Option<Sources> {
    let (formula, _) = symptom.reading.as_ref().filter(|(formula, _)| !formula.compares_sides())?;
    let mut found = Sources::new();
    let mut open: Vec<(&Formula, usize)> = vec![(formula, 1)];
    let mut written_out: BTreeMap<MeasureId, usize> = BTreeMap::new();
    while let Some((formula, each)) = open.pop() {
        match formula {
            Formula::Measure(id) | Formula::Worn(id) | Formula::Loss(id) | Formula::Pace(id) => {
                if matches!(model[*id].how, How::Read { .. }) {
                    let known = found.entry(*id).or_insert(each);
                    *known = (*known).max(each);
                } else if written_out.get(id).is_none_or(|&known| known < each) {
                    written_out.insert(*id, each);
                    open.extend(model[*id].sums.iter().map(|(sum, _)| (sum, each)));
                }
            }
            Formula::Across { of, row, .. } => {
                let several = if *row == Row::Sides { 2 } else { READINGS_IN_A_ROW };
                open.push((of, each.saturating_mul(several)));
            }
            Formula::Among { of, .. } => open.extend(of.iter().map(|of| (of, each))),
            Formula::Pair(first, _, second) => open.extend([(first.as_ref(), each), (second.as_ref(), each)]),
            _ => {}
        }
    }
    Some(found)
}
