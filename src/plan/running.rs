//! What may run on, and till when; and what to watch because its time is not yet near.

use crate::ground::Ground;
use crate::model::Model;
use crate::plan::pace;
use crate::plan::prices::Terms;
use crate::plan::record::{Call, Running, Unread, Visit, Watched};
use crate::wear::Worn;

/// Everything read that has a limit, on each side the most worn of a row; what ends first stands first
pub fn running(model: &Model, ground: &Ground, worn: &[Worn], visits: &[Visit]) -> Vec<Running> {
    let mut all: Vec<Running> = Vec::new();
    for own in worn {
        let state = pace::state(model, ground, worn, own.measure, &own.place);
        let running = Running {
            measure: own.measure,
            named: model.subject(own.measure, &own.place),
            percent: own.percent,
            hours: state.and_then(|state| state.hours_to(100.0)),
            renewed: renewed(visits, own),
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

/// The first visit in which work is done because of this measure at a place that holds it
fn renewed(visits: &[Visit], own: &Worn) -> Option<f64> {
    let renews = |visit: &&Visit| {
        visit.jobs.iter().any(|job| {
            crate::place::within(&own.place, &job.named.place)
                && job
                    .calls
                    .iter()
                    .any(|call| matches!(call, Call::Worn { measure, .. } if *measure == own.measure))
        })
    };
    visits.iter().find(renews).map(|visit| visit.at)
}

/// Parts that a remedy renews and that come to its figure past the horizon
pub fn watched(model: &Model, ground: &Ground, worn: &[Worn], terms: &Terms) -> Vec<Watched> {
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
                if far && !known {
                    all.push(Watched::Worn {
                        named: model.subject(renewed.measure, &place),
                        measure: renewed.measure,
                        check: Unread::of(model, renewed.measure).check,
                        percent: state.percent,
                        from: renewed.from,
                        reached,
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
