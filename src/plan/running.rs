//! What may run on, and till when; and what to watch because its time is not yet near.

use crate::ground::Ground;
use crate::model::{MeasureId, Model};
use crate::place::{Place, within};
use crate::plan::pace;
use crate::plan::prices::Terms;
use crate::plan::record::{Call, Job, Running, TurnDecision, Unread, Visit, Watched};
use crate::wear::Worn;

/// Part of the hours to its figure after which what is watched is read again (ours)
const AGAIN_AFTER: f64 = 0.5;

/// Everything read that has a limit, on each side the most worn of a row; what ends first stands first
pub fn running(
    model: &Model,
    ground: &Ground,
    worn: &[Worn],
    visits: &[Visit],
    turns: &[TurnDecision],
) -> Vec<Running> {
    let mut all: Vec<Running> = Vec::new();
    for own in worn {
        let state = pace::state(model, ground, worn, own.measure, &own.place);
        let left = state.as_ref().and_then(|state| state.left);
        let running = Running {
            measure: own.measure,
            named: model.subject(own.measure, &own.place),
            percent: own.percent,
            hours: state.and_then(|state| state.hours_to(100.0)),
            at_least: left.filter(|left| left.upper.is_none()).map(|left| left.lower),
            renewed: renewed(model, visits, own.measure, &own.place),
            undecided: turns.iter().any(|turn| is_decided_by(model, turn, own)),
        };
        let same =
            all.iter_mut().find(|it| it.measure == own.measure && it.named.place.side() == own.place.side());
        match same {
            Some(same) if same.percent < running.percent => *same = running,
            Some(_) => {}
            None => all.push(running),
        }
    }
    let ends = |it: &Running| it.hours.unwrap_or(f64::INFINITY); // else: nobody knows when: the last
    all.sort_by(|a, b| ends(a).total_cmp(&ends(b)));
    all
}

/// Whether what to do about what was read waits for a decision that cannot be made yet
fn is_decided_by(model: &Model, turn: &TurnDecision, own: &Worn) -> bool {
    turn.waits_for_a_reading()
        && within(&own.place, &turn.named.place)
        && model[turn.remedy].makes_new(own.measure)
}

/// Hours to the first visit in which work is done because of this measure or a sign that is read by it, or that renews it, at a
/// place that holds it
pub fn renewed(model: &Model, visits: &[Visit], measure: MeasureId, place: &Place) -> Option<f64> {
    let calls = |call: &Call| match call {
        Call::Worn { measure: own, .. } => *own == measure,
        Call::Seen { symptom, .. } => {
            let reading = model[*symptom].reading.as_ref();
            reading.is_some_and(|(formula, _)| formula.readings().contains(&measure))
        }
        Call::Hidden(_) => false,
    };
    let does = |job: &Job| job.calls.iter().any(calls) || model[job.remedy].makes_new(measure);
    let here = |job: &&Job| within(place, &job.named.place);
    let visit = visits.iter().find(|visit| visit.jobs.iter().filter(here).any(does))?;
    Some(visit.at)
}

/// Parts that a remedy renews, that come to its figure past the horizon, and that no visit renews before
pub fn watched(
    model: &Model,
    ground: &Ground,
    worn: &[Worn],
    terms: &Terms,
    visits: &[Visit],
) -> Vec<Watched> {
    let mut all: Vec<Watched> = Vec::new();
    for remedy in &model.remedies {
        for place in ground.machine.places(model, remedy.common.extent) {
            for renewed in &remedy.renews {
                let Some(state) = pace::state(model, ground, worn, renewed.measure, &place) else { continue };
                let reached = state.hours_to(renewed.from);
                let far = reached.is_none_or(|hours| hours > terms.horizon);
                let known = all.iter().any(|it| {
                    matches!(it, Watched::Worn { measure, named, .. } if *measure == renewed.measure && named.place == place)
                });
                if far && !known && self::renewed(model, visits, renewed.measure, &place).is_none() {
                    all.push(Watched::Worn {
                        named: model.subject(renewed.measure, &place),
                        measure: renewed.measure,
                        check: Unread::of(model, renewed.measure).check,
                        percent: state.percent,
                        from: renewed.from,
                        reached,
                        look: reached.map(|hours| hours * AGAIN_AFTER),
                        worst: state.worst_by(renewed.from),
                    });
                }
            }
        }
    }
    let when = |it: &Watched| match it {
        Watched::Worn { reached, .. } => reached.unwrap_or(f64::INFINITY), // else: nobody knows when: the last
        Watched::Hidden { .. } => 0.0,
    };
    all.sort_by(|a, b| when(a).total_cmp(&when(b)));
    all
}
