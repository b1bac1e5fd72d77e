//! How worn what a remedy renews is at its place, and how fast that goes on.

use crate::ground::Ground;
use crate::model::{MeasureId, Model};
use crate::place::{Place, within};
use crate::wear::Worn;
use crate::wear::estimate::Bench;

/// How worn a part is, or a set of numbered parts together
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State {
    /// Places read
    pub places: usize,
    /// Per cent worn; of several places the mean, by which a set is judged (common practice: one odd part is matched
    /// by itself)
    pub percent: f64,
    /// Per cent an hour, over 0; none when nothing tells
    pub per_hour: Option<f64>,
}

impl State {
    /// Hours until it is so many per cent worn: 0 when past it, none when nothing tells its pace
    pub fn hours_to(&self, percent: f64) -> Option<f64> {
        if self.percent >= percent {
            return Some(0.0);
        }
        Some((percent - self.percent) / self.per_hour?)
    }

    /// Hours from new to so many per cent; without end when nothing tells its pace
    pub fn life_to(&self, percent: f64) -> f64 {
        self.per_hour.map_or(f64::INFINITY, |pace| percent / pace)
    }
}

/// How worn a measure is at all places read within one; none when none was
pub fn state(
    model: &Model,
    ground: &Ground,
    worn: &[Worn],
    measure: MeasureId,
    place: &Place,
) -> Option<State> {
    let here: Vec<&Worn> =
        worn.iter().filter(|own| own.measure == measure && within(&own.place, place)).collect();
    let count = here.len() as f64;
    if here.is_empty() {
        return None;
    }
    let paces: Vec<f64> = here.iter().filter_map(|own| per_hour(model, ground, own)).collect();
    let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
    Some(State {
        places: here.len(),
        percent: here.iter().map(|own| own.percent).sum::<f64>() / count,
        per_hour: Some(mean(&paces)).filter(|pace| pace.is_finite() && *pace > 0.0),
    })
}

/// Per cent an hour at one place: what its hours left go by, else its own wear over its own hours, else the usual life
fn per_hour(model: &Model, ground: &Ground, own: &Worn) -> Option<f64> {
    let left = own.left.filter(|left| left.hours > 0.0 && own.percent < 100.0);
    if let Some(left) = left {
        return Some((100.0 - own.percent) / left.hours);
    }
    let part = model[own.measure].common.part;
    let service = part.and_then(|part| ground.machine.service(model, part, &own.place));
    if let Some(hours) = service.and_then(|service| service.hours).filter(|hours| *hours > 0.0) {
        return Some(own.percent / hours);
    }
    let bench = Bench { model, machine: &ground.machine, readings: &ground.readings };
    bench.life(own.measure, &own.place).ok().map(|life| 100.0 / life)
}
