//! How worn what a remedy renews is at its place, and how fast that goes on: past the limit as many times as fast as its sizes say.

use crate::ground::Ground;
use crate::model::{MeasureId, Model};
use crate::place::{Place, within};
use crate::plan::record::Worst;
use crate::wear::estimate::Evaluator;
use crate::wear::trend::LIMIT;
use crate::wear::{self, HoursLeft, Worn};

/// How worn a part is, or a set of numbered parts together
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Places read; of a row only those whose parts are as old as most of it, since one changed later does not make the
    /// others younger
    pub places: usize,
    /// Per cent worn; of several places the mean, by which a set is judged (common practice: one odd part is matched
    /// by itself)
    pub percent: f64,
    /// Standard error of it
    pub sigma: f64,
    /// Per cent an hour, over 0; none when nothing tells
    pub per_hour: Option<f64>,
    /// Hours that the most worn of it has left, with what nine of ten such parts lie between; none when nothing tells
    pub left: Option<HoursLeft>,
    /// The pace is its own, so that an error of the per cent is one of the pace as well
    pub own_pace: bool,
    /// How many times as fast it goes on past its limit
    pub past_limit: f64,
    /// The most worn of several places, with its per cent and its pace; none of one
    pub worst: Option<(Place, f64, Option<f64>)>,
}

impl State {
    /// Hours until it is so many per cent worn: 0 when past it, none when nothing tells its pace
    pub fn hours_to(&self, percent: f64) -> Option<f64> {
        self.hours(self.percent, self.per_hour, percent)
    }

    /// The most worn of several places, with the hours until it is so many per cent worn
    pub fn worst_by(&self, percent: f64) -> Option<Worst> {
        let (place, own, per_hour) = self.worst.as_ref()?;
        Some(Worst { place: place.clone(), percent: *own, due_in: self.hours(*own, *per_hour, percent) })
    }

    /// Hours from new to so many per cent; without end when nothing tells its pace
    pub fn life_to(&self, percent: f64) -> f64 {
        self.per_hour.map_or(f64::INFINITY, |pace| percent / pace)
    }

    /// Hours from one per cent to another at a pace that holds up to the limit
    fn hours(&self, now: f64, per_hour: Option<f64>, percent: f64) -> Option<f64> {
        if now >= percent {
            return Some(0.0);
        }
        let pace = per_hour?;
        let within = (percent.min(LIMIT) - now).max(0.0);
        let past = (percent - now.max(LIMIT)).max(0.0);
        Some(within / pace + past / (pace * self.past_limit))
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
    let all = worn.iter().filter(|own| own.measure == measure && within(&own.place, place));
    let here = of_one_age(model, ground, all.collect());
    let count = here.len() as f64;
    let most =
        here.iter().copied().reduce(|most, own| if own.percent > most.percent { own } else { most })?;
    let paces: Vec<f64> = here.iter().filter_map(|own| per_hour(model, ground, own)).collect();
    let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
    let pace = || per_hour(model, ground, most).filter(|pace| *pace > 0.0);
    let evaluator = Evaluator { model, machine: &ground.machine, readings: &ground.readings };
    Some(State {
        places: here.len(),
        percent: here.iter().map(|own| own.percent).sum::<f64>() / count,
        sigma: libm::sqrt(here.iter().map(|own| own.sigma * own.sigma).sum::<f64>()) / count,
        left: most.left,
        own_pace: most.left.is_none_or(|left| left.by == wear::Pace::Own),
        per_hour: Some(mean(&paces)).filter(|pace| pace.is_finite() && *pace > 0.0),
        past_limit: evaluator.dimension(measure, &most.place).map_or(1.0, |own| own.after),
        worst: (here.len() > 1).then(|| (most.place.clone(), most.percent, pace())),
    })
}

/// Those of a row that are as old as most of it; of two ages as common the older
fn of_one_age<'w>(model: &Model, ground: &Ground, row: Vec<&'w Worn>) -> Vec<&'w Worn> {
    let hours = |own: &Worn| {
        let part = model[own.measure].common.part?;
        ground.machine.service(model, part, &own.place)?.hours
    };
    let alike = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() < 1.0,
        (a, b) => a.is_none() && b.is_none(),
    };
    let as_old = |age: Option<f64>| row.iter().filter(|own| alike(hours(own), age)).count();
    let ages = row.iter().map(|own| hours(own));
    let most = ages.max_by(|a, b| {
        // else: of parts of no known age one is as young as any
        let (young, old) = (a.unwrap_or(0.0), b.unwrap_or(0.0));
        as_old(*a).cmp(&as_old(*b)).then(young.total_cmp(&old))
    });
    match most {
        Some(age) => row.iter().copied().filter(|own| alike(hours(own), age)).collect(),
        None => row,
    }
}

/// Per cent an hour at one place: what its hours left go by, else its own wear over its own hours, else the usual life
fn per_hour(model: &Model, ground: &Ground, own: &Worn) -> Option<f64> {
    let left = own.left.filter(|left| left.hours > 0.0 && own.percent < LIMIT);
    if let Some(left) = left {
        return Some((LIMIT - own.percent) / left.hours);
    }
    let part = model[own.measure].common.part;
    let service = part.and_then(|part| ground.machine.service(model, part, &own.place));
    if let Some(hours) = service.and_then(|service| service.hours).filter(|hours| *hours > 0.0) {
        return Some(own.percent / hours);
    }
    let evaluator = Evaluator { model, machine: &ground.machine, readings: &ground.readings };
    evaluator.life(own.measure, &own.place).ok().map(|life| LIMIT / life)
}
