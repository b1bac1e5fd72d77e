//! From the stages before to the report: labels put to names, and marks on what is told, by `extent`; nothing reckoned.

use super::{
    Cause, Clash, Condition, Form, Hardly, NOTICE, Reason, Report, Rival, Unclaimed, Unexplained, Wear,
};
use crate::case::Inspection;
use crate::ground::{Ground, Observation, Origin};
use crate::model::subject::Subject;
use crate::model::{Hidden, Model};
use crate::network::NodeId;
use crate::plan::record::Plan;
use crate::plan::standstill::Next;
use crate::reason::fit::Fit;
use crate::reason::steps::Step;
use crate::reason::unclaimed::look_for;
use crate::reason::{self, Ranked, paths};
use crate::report::extent::{self, RIVAL_FROM};
use crate::report::record::chance::Chance;
use crate::report::record::evidence;
use crate::report::record::hours_left::HoursLeft;
use crate::report::record::mending;
use crate::report::words;
use crate::wear;
use crate::wear::estimate::Evaluator;
use crate::wear::line::nine_of_ten;

/// What a report is made from
pub struct Made<'a> {
    /// The rules
    pub model: &'a Model,
    /// The inspection as written
    pub inspection: &'a Inspection,
    /// The inspection in the terms of the rules
    pub ground: &'a Ground,
    /// Causes and conditions with their probabilities
    pub diagnosis: &'a reason::Diagnosis,
    /// What to look at next; none where the findings are too entangled to rank it
    pub next: Option<&'a Next>,
    /// How worn what was read is
    pub worn: &'a [wear::Worn],
    /// One figure for all of it
    pub overall: Option<&'a wear::overall::Overall>,
    /// Readings that cannot all be right
    pub contradictions: &'a [wear::contradiction::Contradiction],
    /// What to mind about what was read
    pub advice: &'a [wear::advice::Advice],
    /// What to do
    pub plan: &'a Plan,
    /// Digest of the rules
    pub rules_digest: &'a str,
    /// Digest of the case file
    pub case_digest: &'a str,
}

/// The report of a diagnosis; all figures come from the stages before
pub fn report(made: &Made<'_>) -> Report {
    let Made { model, inspection, ground, diagnosis, next, worn, plan, rules_digest, case_digest, .. } =
        *made;
    let abnormal = ground.observations.iter().filter(|own| own.grade != 0).count();
    Report {
        case: inspection.title.value.clone(),
        machine: inspection.machine.tag.value.clone(),
        hours: ground.machine.hours,
        size: ground.machine.size.clone(),
        rules_digest: rules_digest.to_owned(),
        case_digest: case_digest.to_owned(),
        abnormal,
        normal: ground.observations.len() - abnormal,
        causes: causes(model, ground, &diagnosis.causes),
        conditions: diagnosis.conditions.iter().map(|it| condition(model, ground, it)).collect(),
        next_checks: next
            .into_iter() // where none: they are too entangled to be worked out, which is told beside
            .flat_map(|next| &next.checks)
            .map(|check| evidence::next_check(model, ground, check))
            .collect(),
        stands: next.and_then(|next| next.stands.clone()),
        plan: plan.clone(),
        wear: worn.iter().map(|it| wear_of(model, ground, it)).collect(),
        overall: made.overall.cloned(),
        contradictions: made.contradictions.to_vec(),
        advice: made.advice.to_vec(),
        outliers: ground.outliers.clone(),
        unclaimed: unclaimed(made),
        misfit: ground.misfit.clone(),
        held: ground.held.clone(),
        clashes: clashes(model, ground),
        unexplained: diagnosis.fit.as_ref().map_or_else(Vec::new, |fit| unexplained(model, ground, fit)),
        hardly_together: diagnosis.fit.as_ref().and_then(|fit| hardly(model, ground, fit)),
        entangled: next.is_none(),
        not_given: if next.is_some() { Vec::new() } else { not_given(model, ground) },
        log_evidence: diagnosis.fit.as_ref().map(|fit| fit.log_evidence),
        log_evidence_between: (!diagnosis.is_exact())
            .then_some([diagnosis.log_evidence.lower, diagnosis.log_evidence.upper]),
        conflict: diagnosis.fit.as_ref().map(|fit| fit.conflict),
        notice: NOTICE,
    }
}

fn causes(model: &Model, ground: &Ground, all: &[Ranked]) -> Vec<Cause> {
    let next = all.iter().skip(1).map(Some).chain([None]);
    let mut room = extent::MOST_CAUSES;
    let causes = all.iter().zip(next).map(|(own, next)| {
        let shown = room > 0 && extent::tells_cause(own.prior, own.within.lower, own.within.upper);
        room -= usize::from(shown);
        let order_open = next.is_some_and(|next| own.is_open_with(next));
        Cause { order_open, shown, ..cause(model, ground, own, all) }
    });
    causes.collect()
}

fn unclaimed(made: &Made<'_>) -> Vec<Unclaimed> {
    let Made { model, ground, diagnosis, next, plan, .. } = *made;
    let all = diagnosis.unclaimed(model, ground).into_iter();
    let unclaimed = all.filter_map(|number| {
        let own = ground.observations.get(number)?;
        let work = plan.jobs().filter(|job| job.calls.iter().any(|call| call.is_for(own)));
        let look = next.and_then(|next| look_for(ground, own, &next.checks));
        Some(Unclaimed {
            finding: evidence::observation(model, own),
            work: work.map(|job| job.named.label.clone()).collect(),
            look: look.map(|check| evidence::next_check(model, ground, check).label),
        })
    });
    unclaimed.collect()
}

fn unexplained(model: &Model, ground: &Ground, fit: &Fit) -> Vec<Unexplained> {
    let unexplained = fit.unexplained.iter().filter_map(|&(number, probability)| {
        let finding = evidence::observation(model, ground.observations.get(number)?);
        Some(Unexplained { finding, probability })
    });
    unexplained.collect()
}

fn hardly(model: &Model, ground: &Ground, fit: &Fit) -> Option<Hardly> {
    let found = fit.hardly.as_ref()?;
    let own = found.observations.iter().filter_map(|number| ground.observations.get(*number));
    let findings = own.map(|own| evidence::observation(model, own)).collect();
    Some(Hardly { findings, conflict: found.conflict, smallest: found.smallest })
}

fn not_given(model: &Model, ground: &Ground) -> Vec<Subject> {
    let facts = ground.origins.iter().filter_map(|origin| match origin {
        Origin::Fact(id, side) if !ground.machine.facts.contains_key(&(*id, *side)) => {
            Some(model.subject(*id, &origin.place()))
        }
        _ => None,
    });
    facts.collect()
}

/// A cause or a condition as a cause is told: `why` tells both in the same shape
pub fn cause(model: &Model, ground: &Ground, ranked: &Ranked, all: &[Ranked]) -> Cause {
    let common = model.common(ranked.hidden);
    let kind = match ranked.hidden {
        Hidden::Cause(id) => Some(&model[model[id].kind]),
        Hidden::Condition(_) => None,
    };
    Cause {
        id: common.name.clone(),
        place: ranked.place.to_string(),
        label: common.label.clone(),
        kind: kind.map_or_else(|| "condition".to_owned(), |kind| kind.common.name.clone()),
        kind_label: kind.map_or_else(String::new, |kind| kind.common.label.clone()),
        against: kind.map_or_else(|| "nobody".to_owned(), |kind| kind.against.clone()),
        prior: ranked.prior,
        chance: Chance::of(ranked),
        order_open: false,
        shown: false,
        form: form(model, ranked),
        lately: ranked.lately,
        reasons: reasons(model, ground, ranked),
        rivals: rivals(model, ground, ranked, all),
        remedies: mending::remedies(model, ground, ranked.hidden, &ranked.place),
    }
}

fn form(model: &Model, ranked: &Ranked) -> Option<Form> {
    let names = match ranked.hidden {
        Hidden::Cause(id) => model[id].forms.names(),
        Hidden::Condition(_) => return None,
    };
    if names.len() < 2 {
        return None;
    }
    let forms = names.into_iter().zip(ranked.grades.iter().skip(1));
    let likeliest = forms.max_by(|a, b| a.1.total_cmp(b.1));
    likeliest.map(|(name, &probability)| Form { name, probability })
}

fn reasons(model: &Model, ground: &Ground, ranked: &Ranked) -> Vec<Reason> {
    let mut from = ranked.prior;
    let mut reasons = Vec::new();
    for step in &ranked.reasons {
        reasons.extend(reason(model, ground, step, from));
        from = step.probability;
    }
    reasons
}

fn reason(model: &Model, ground: &Ground, step: &Step, from: f64) -> Option<Reason> {
    let mut findings = step
        .observations
        .iter()
        .filter_map(|&number| ground.observations.get(number))
        .map(|own: &Observation| evidence::observation(model, own));
    let finding = findings.next()?;
    let label = |node: &NodeId| match ground.origin(*node) {
        Some(Origin::Condition(id, _)) => Some(model[*id].common.label.clone()),
        _ => None,
    };
    Some(Reason {
        finding,
        together_with: findings.collect(),
        decibans: step.decibans,
        alone: step.alone,
        left_out: step.left_out,
        from,
        to: step.probability,
        because: step.way.as_ref().map_or_else(String::new, |way| way.because.join(" ")),
        by_way_of: step.way.iter().flat_map(|way| way.through.iter().filter_map(label)).collect(),
        direct: step.way.is_some(),
        rivals: step.rivals.iter().filter_map(|shift| evidence::then(model, ground, shift)).collect(),
        rest: step.rest,
    })
}

/// Other causes that would bring about the finding which speaks loudest for this one
fn rivals(model: &Model, ground: &Ground, ranked: &Ranked, all: &[Ranked]) -> Vec<Rival> {
    let loudest = ranked.reasons.iter().find(|step| step.decibans > 0.0 && step.way.is_some() && !step.rest);
    let Some(&finding) = loudest.and_then(|step| step.observations.first()) else {
        return Vec::new();
    };
    all.iter()
        .filter(|other| other.node != ranked.node && other.probability >= RIVAL_FROM)
        .filter(|other| paths::leads_to(ground, other.node, finding))
        .map(|other| Rival {
            named: model.subject(other.hidden, &other.place),
            probability: other.probability,
        })
        .collect()
}

fn condition(model: &Model, ground: &Ground, ranked: &Ranked) -> Condition {
    let as_cause = cause(model, ground, ranked, &[]);
    let names = match ranked.hidden {
        Hidden::Condition(id) => model[id].grades.names.as_slice(),
        Hidden::Cause(_) => &[],
    };
    let grades = names.iter().zip(&ranked.grades);
    let grades = grades.map(|(name, &probability)| Form { name: name.clone(), probability }).collect();
    Condition {
        shown: extent::tells_condition(as_cause.prior, as_cause.chance.lower, as_cause.chance.upper),
        id: as_cause.id,
        place: as_cause.place,
        label: as_cause.label,
        prior: as_cause.prior,
        chance: as_cause.chance,
        grades,
        remedies: as_cause.remedies,
    }
}

fn wear_of(model: &Model, ground: &Ground, worn: &wear::Worn) -> Wear {
    let evaluator = Evaluator { model, machine: &ground.machine, readings: &ground.readings };
    let longest = evaluator.longest_life();
    let measure = &model[worn.measure];
    let unit = measure.unit();
    Wear {
        measure: measure.common.name.clone(),
        place: worn.place.to_string(),
        label: measure.common.label.clone(),
        read: unit.from_base(worn.read),
        unit: unit.word().to_owned(),
        percent: worn.percent,
        sigma: worn.sigma,
        give_or_take: nine_of_ten(worn.sigma),
        left: worn.left.map(|own| HoursLeft {
            hours: own.hours,
            lower: own.lower,
            upper: own.upper,
            longest,
        }),
        hours_by: worn.left.map(|left| match left.by {
            wear::Pace::Own => "own pace",
            wear::Pace::Usual => "usual life",
        }),
    }
}

fn clashes(model: &Model, ground: &Ground) -> Vec<Clash> {
    let clashes = ground.clashes.iter();
    clashes
        .map(|clash| {
            let effect = &model[clash.symptom].effect;
            Clash {
                finding: effect.common.name.clone(),
                place: clash.place.to_string(),
                label: effect.common.label.clone(),
                seen: words::plain(effect.grades.name(clash.seen)),
                read: words::plain(effect.grades.name(clash.read)),
            }
        })
        .collect()
}
