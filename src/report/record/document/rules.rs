//! The rules that a document rests on: each cause, condition and symptom it speaks of, with its sentences and its basis.

use crate::ground::Ground;
use crate::model::{ConditionId, Effect, Hidden, Model, SymptomId};
use crate::report::record::assess;
use crate::report::record::diagnosis::{Cause, Report};
use crate::report::rules::entry::Says;
use crate::report::rules::shown;
use serde::Serialize;
use std::collections::BTreeSet;

/// A rule with what it says of this document's causes and findings
#[derive(Debug, Serialize)]
pub struct Rule {
    /// Its name
    pub id: String,
    /// `cause`, `condition` or `symptom`
    pub sort: &'static str,
    /// Its label
    pub label: String,
    /// Headed paragraphs: how often it is, what it comes from, where the rule comes from
    pub says: Vec<Says>,
}

/// Every rule in use, causes first, each sort in the order of the rules
///
/// A cause is in use when it is told with its reasons, or stands in a statement of the assessment; a symptom when it was
/// found, or stands in those reasons or in a step that leads in the assessment; a condition when it is told, or lies on a
/// way from such a cause to such a symptom.
pub fn in_use(
    model: &Model,
    ground: &Ground,
    report: &Report,
    assessment: Option<&assess::Report>,
) -> Vec<Rule> {
    let causes = causes(model, report, assessment);
    let symptoms = symptoms(model, ground, report, assessment);
    let conditions = conditions(model, report, &causes, &symptoms);
    let parents: BTreeSet<Hidden> =
        causes.iter().copied().chain(conditions.iter().map(|id| Hidden::Condition(*id))).collect();
    let rule = |entry: crate::report::rules::entry::Entry| Rule {
        id: entry.id,
        sort: entry.sort,
        label: entry.label,
        says: entry.says,
    };
    let of_causes = causes.iter().filter_map(|hidden| match hidden {
        Hidden::Cause(id) => Some(shown::used::cause(model, *id)),
        Hidden::Condition(_) => None,
    });
    let of_conditions = conditions.iter().map(|id| shown::used::condition(model, *id, &parents));
    let of_symptoms = symptoms.iter().map(|id| shown::used::symptom(model, *id, &parents));
    of_causes.chain(of_conditions).chain(of_symptoms).map(rule).collect()
}

fn causes(model: &Model, report: &Report, assessment: Option<&assess::Report>) -> BTreeSet<Hidden> {
    let with_reasons = report.shown_causes().map(|cause| cause.id.as_str());
    let weighed = assessment.into_iter().flat_map(|own| &own.against).flat_map(|own| &own.causes);
    let all = with_reasons.chain(weighed.map(|cause| cause.id.as_str()));
    all.filter_map(|name| crate::ground::find_hidden(model, name)).collect()
}

fn symptoms(
    model: &Model,
    ground: &Ground,
    report: &Report,
    assessment: Option<&assess::Report>,
) -> BTreeSet<SymptomId> {
    let found = ground.observations.iter().filter(|own| own.grade != 0).map(|own| own.symptom);
    let reasons = report.shown_causes().flat_map(Cause::shown_steps);
    let named = reasons.flat_map(|reason| std::iter::once(&reason.finding).chain(&reason.together_with));
    let steps = assessment
        .into_iter()
        .flat_map(|own| &own.against)
        .flat_map(|own| own.carried_by.iter().take(own.leading));
    let carrying = steps.flat_map(|step| std::iter::once(&step.finding).chain(&step.together_with));
    let named = named.chain(carrying).filter_map(|own| crate::ground::find_symptom(model, &own.finding));
    found.chain(named).collect()
}

fn conditions(
    model: &Model,
    report: &Report,
    causes: &BTreeSet<Hidden>,
    symptoms: &BTreeSet<SymptomId>,
) -> BTreeSet<ConditionId> {
    let shown = report.shown_conditions();
    let named = shown.filter_map(|condition| match crate::ground::find_hidden(model, &condition.id)? {
        Hidden::Condition(id) => Some(id),
        Hidden::Cause(_) => None,
    });
    let below = below(model, causes);
    let above = above(model, symptoms);
    named.chain(below.intersection(&above).copied()).collect()
}

fn parents(effect: &Effect) -> impl Iterator<Item = Hidden> {
    effect.lines.iter().flat_map(|line| line.parents.iter().map(|parent| parent.of))
}

/// Conditions that some causes lead to
fn below(model: &Model, causes: &BTreeSet<Hidden>) -> BTreeSet<ConditionId> {
    let mut reached = causes.clone();
    let mut conditions = BTreeSet::new();
    loop {
        let next = (0..model.conditions.len()).map(ConditionId).find(|id| {
            !conditions.contains(id) && parents(&model[*id]).any(|parent| reached.contains(&parent))
        });
        let Some(next) = next else { return conditions };
        conditions.insert(next);
        reached.insert(Hidden::Condition(next));
    }
}

/// Conditions that lead to some symptoms
fn above(model: &Model, symptoms: &BTreeSet<SymptomId>) -> BTreeSet<ConditionId> {
    let mut open: Vec<Hidden> = symptoms.iter().flat_map(|id| parents(&model[*id].effect)).collect();
    let mut conditions = BTreeSet::new();
    while let Some(next) = open.pop() {
        if let Hidden::Condition(id) = next
            && conditions.insert(id)
        {
            open.extend(parents(&model[id]));
        }
    }
    conditions
}
