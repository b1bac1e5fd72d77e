//! Readings that cannot all be right, and what to mind about what was read, as a reader is told.

use crate::model::{MeasureId, Model};
use crate::place::Place;
use crate::wear::line::nine_of_ten;
use crate::wear::{advice, contradiction};
use serde::Serialize;

/// A reading that others do not explain; it is told and does not weigh
#[derive(Debug, Serialize)]
pub struct Contradiction {
    /// Name of the measure
    pub measure: String,
    /// Where
    pub place: String,
    /// Its label
    pub label: String,
    /// What it reads, in `unit`
    pub read: f64,
    /// What it should read by the others, in `unit`
    pub expected: f64,
    /// Standard error of the difference, in `unit`
    pub sigma: f64,
    /// Half of what nine of ten such differences lie within, in `unit`
    pub give_or_take: f64,
    /// Standard errors by which it reads more; negative where it reads less
    pub excess: f64,
    /// Unit of the figures
    pub unit: String,
    /// What it mostly comes from
    pub because: String,
    /// Readings to take again, the one that is likeliest to be wrong first
    pub again: Vec<Again>,
}

/// A reading to take again
#[derive(Debug, Serialize)]
pub struct Again {
    /// Name of the measure
    pub measure: String,
    /// Where
    pub place: String,
    /// Its label
    pub label: String,
    /// What was read, in `unit`
    pub read: f64,
    /// What would have to be read for the two to agree, in `unit`
    pub fits: f64,
    /// Unit of the figures
    pub unit: String,
}

/// What to mind about a measure that was read
#[derive(Debug, Serialize)]
pub struct Advice {
    /// Name of the measure
    pub measure: String,
    /// Its label
    pub label: String,
    /// Where it is to be minded
    pub places: Vec<String>,
    /// What to mind
    pub text: String,
}

/// A contradiction as it is told
pub fn contradiction(model: &Model, found: &contradiction::Contradiction) -> Contradiction {
    let measure = &model[found.measure];
    let unit = measure.unit();
    Contradiction {
        measure: measure.common.name.clone(),
        place: found.place.to_string(),
        label: measure.common.label.clone(),
        read: unit.from_base(found.read),
        expected: unit.from_base(found.expected),
        sigma: found.sigma / unit.step_to_base(1.0),
        give_or_take: nine_of_ten(found.sigma) / unit.step_to_base(1.0),
        excess: found.excess(),
        unit: unit.word().to_owned(),
        because: found.because.clone(),
        again: found.again.iter().map(|it| again(model, it.measure, &it.place, (it.read, it.fits))).collect(),
    }
}

fn again(model: &Model, measure: MeasureId, place: &Place, (read, fits): (f64, f64)) -> Again {
    let measure = &model[measure];
    let unit = measure.unit();
    Again {
        measure: measure.common.name.clone(),
        place: place.to_string(),
        label: measure.common.label.clone(),
        read: unit.from_base(read),
        fits: unit.from_base(fits),
        unit: unit.word().to_owned(),
    }
}

/// Advice as it is told
pub fn advice(model: &Model, given: &advice::Advice) -> Advice {
    let common = &model[given.measure].common;
    Advice {
        measure: common.name.clone(),
        label: common.label.clone(),
        places: given.places.iter().map(Place::to_string).collect(),
        text: given.text.clone(),
    }
}
