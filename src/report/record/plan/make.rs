//! From the plan to how it is told; every figure comes from the stages before.

use super::{Because, Job, Named, Plan, Running, Share, Turn, Unpriced, Unread, Visit, Watched, Worst};
use crate::ground::Ground;
use crate::model::{Common, Hidden, MeasureId, Model, SymptomId};
use crate::place::Place;
use crate::plan;
use crate::plan::jobs::{Call, When};
use crate::plan::prices::{Priced, Terms};
use crate::plan::turn::Verdict;

/// The plan as it is told
pub fn report(model: &Model, ground: &Ground, plan: &plan::Plan, terms: &Terms) -> Plan {
    let jobs = || plan.visits.iter().flat_map(|visit| &visit.jobs);
    let labels = |from: Priced| {
        let mut labels: Vec<String> = Vec::new();
        for job in jobs().filter(|job| job.priced == from) {
            let label = &model[job.remedy].common.label;
            if !labels.contains(label) {
                labels.push(label.clone());
            }
        }
        labels
    };
    let open = |call: &Call| matches!(call, Call::Hidden { within, .. } if within.lower < within.upper);
    Plan {
        currency: terms.currency.clone(),
        horizon: terms.horizon,
        visit_costs: terms.visit,
        hour_stands: terms.standing,
        visits: plan.visits.iter().map(|it| visit(model, ground, it)).collect(),
        cost: plan.cost,
        exact: plan.exact,
        turns: plan.turns.iter().map(|it| turn(model, it)).collect(),
        may_run: plan.running.iter().map(|it| running(model, it)).collect(),
        watch: plan.watched.iter().map(|it| watched(model, it)).collect(),
        unpriced: Unpriced { by_rules: labels(Priced::Rules), by_hours: labels(Priced::Hours) },
        bounded: jobs().any(|job| job.calls.iter().any(open))
            || plan.watched.iter().any(
                |it| matches!(it, plan::jobs::Watched::Hidden { within, .. } if within.lower < within.upper),
            ),
    }
}

fn named(common: &Common, place: &Place) -> Named {
    Named { id: common.name.clone(), place: place.to_string(), label: common.label.clone() }
}

fn visit(model: &Model, ground: &Ground, visit: &plan::Visit) -> Visit {
    Visit {
        in_hours: visit.at,
        at_meter: ground.machine.hours.map(|hours| hours + visit.at),
        hours: visit.hours,
        hours_saved: visit.saved,
        cost: visit.cost,
        jobs: visit.jobs.iter().map(|it| job(model, it, &visit.jobs)).collect(),
    }
}

fn job(model: &Model, job: &plan::jobs::Job, others: &[plan::jobs::Job]) -> Job {
    let remedy = &model[job.remedy];
    let shared = job
        .shares
        .as_ref()
        .filter(|own| others.iter().filter(|other| other.shares.as_ref() == Some(own)).nth(1).is_some());
    Job {
        id: remedy.common.name.clone(),
        place: job.place.to_string(),
        label: remedy.common.label.clone(),
        finds_out: remedy.finds_out,
        when: match job.when {
            When::Now => "now",
            When::Overdue => "overdue",
            When::ByHours => "by_hours",
            When::NextStop => "next_stop",
        },
        due: job.due,
        hours: job.hours,
        cost: job.cost,
        cost_from: match job.priced {
            Priced::Listed => "price",
            Priced::Rules => "rules",
            Priced::Hours => "hours",
        },
        loss_if_left: job.loss,
        chance: job.chance,
        expected_saving: job.saving(),
        because: job.calls.iter().map(|call| because(model, call, &job.place)).collect(),
        left: remedy.left.as_ref().map(|(text, _)| text.clone()),
        cautions: remedy.cautions.clone(),
        instead_of: job.instead_of.iter().map(|(id, place)| named(&model[*id].common, place)).collect(),
        put_off: job.put_off.iter().map(|(id, place)| named(&model[*id].common, place)).collect(),
        gives_life_again: !remedy.lasts.is_empty(),
        shares: shared.map(|own| model[own.state].common.label.clone()),
    }
}

fn sort(hidden: Hidden) -> &'static str {
    match hidden {
        Hidden::Cause(_) => "cause",
        Hidden::Condition(_) => "condition",
    }
}

fn because(model: &Model, call: &Call, at: &Place) -> Because {
    match call {
        Call::Hidden { hidden, place, within } => Because {
            named: named(model.common(*hidden), place),
            sort: sort(*hidden),
            at_least: Some(within.lower),
            at_most: Some(within.upper),
            percent: None,
            due_from: None,
            due_in: None,
            ends_in: None,
            places: None,
            worst: None,
        },
        Call::Worn { measure, places, percent, from, reached, ends, worst } => Because {
            named: named(&model[*measure].common, at),
            sort: "wear",
            at_least: None,
            at_most: None,
            percent: Some(*percent),
            due_from: Some(*from),
            due_in: Some(*reached),
            ends_in: Some(*ends),
            places: Some(*places).filter(|places| *places > 1),
            worst: worst.as_ref().map(|it| self::worst(it, *from)),
        },
    }
}

fn worst(worst: &plan::pace::Worst, from: f64) -> Worst {
    Worst { place: worst.place.to_string(), percent: worst.percent, due_in: worst.hours_to(from) }
}

fn turn(model: &Model, turn: &plan::turn::Turn) -> Turn {
    let share = |(measure, percent): (MeasureId, f64)| {
        let common = &model[measure].common;
        Share { measure: common.name.clone(), label: common.label.clone(), percent }
    };
    Turn {
        named: named(&model[turn.remedy].common, &turn.place),
        verdict: match turn.verdict {
            Verdict::Turn => "turn",
            Verdict::RunOut => "run_out",
            Verdict::TooLate => "too_late",
            Verdict::Open => "open",
            Verdict::Needless(_) => "needless",
        },
        instead: match turn.verdict {
            Verdict::Needless(by) => Some(named(&model[by].common, &turn.place)),
            _ => None,
        },
        face: turn.face.map(share),
        due_in: turn.due,
        lasts: turn.lasts.map(share),
        hours_left: turn.left,
        hours_won: turn.won,
        share_needed: turn.share,
        unread: turn.unread.iter().map(|id| unread(model, *id)).collect(),
        untold: turn.untold.iter().map(|(fact, _)| model[*fact].common.label.clone()).collect(),
    }
}

fn unread(model: &Model, id: MeasureId) -> Unread {
    let checks = model.checks.iter().filter(|check| check.reads.contains(&id));
    let quickest = checks.min_by(|a, b| a.minutes.total_cmp(&b.minutes));
    Unread {
        measure: model[id].common.name.clone(),
        label: model[id].common.label.clone(),
        check: quickest.map(|check| check.common.label.clone()),
        minutes: quickest.map(|check| check.minutes),
    }
}

fn running(model: &Model, running: &plan::running::Running) -> Running {
    Running {
        named: named(&model[running.measure].common, &running.place),
        percent: running.percent,
        hours: running.hours,
        renewed_in: running.renewed,
    }
}

fn watched(model: &Model, watched: &plan::jobs::Watched) -> Watched {
    match watched {
        plan::jobs::Watched::Hidden { hidden, place, within, dear } => Watched {
            named: named(model.common(*hidden), place),
            sort: sort(*hidden),
            at_least: Some(within.lower),
            at_most: Some(within.upper),
            check: looked_at(model, *hidden),
            remedy_costs: dear.map(|(_, cost, _)| cost),
            expected_loss: dear.and_then(|(_, _, loss)| loss),
            percent: None,
            due_from: None,
            due_in: None,
            worst: None,
        },
        plan::jobs::Watched::Worn { measure, place, percent, from, reached, worst } => Watched {
            named: named(&model[*measure].common, place),
            sort: "wear",
            at_least: None,
            at_most: None,
            check: unread(model, *measure).check,
            remedy_costs: None,
            expected_loss: None,
            percent: Some(*percent),
            due_from: Some(*from),
            due_in: *reached,
            worst: worst.as_ref().map(|it| self::worst(it, *from)),
        },
    }
}

/// Label of the quickest check that shows what a cause or condition brings about at once
fn looked_at(model: &Model, hidden: Hidden) -> Option<String> {
    let shows = |id: SymptomId| {
        let lines = &model[id].effect.lines;
        lines.iter().any(|line| line.parents.iter().any(|parent| parent.of == hidden))
    };
    let checks = model.checks.iter().filter(|check| check.shows.iter().any(|id| shows(*id)));
    let quickest = checks.min_by(|a, b| a.minutes.total_cmp(&b.minutes));
    quickest.map(|check| check.common.label.clone())
}
