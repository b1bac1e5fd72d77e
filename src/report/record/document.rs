//! An inspection as a document that stands by itself: the diagnosis with the machine, the visit, what was sound, pictures,
//! and every rule it rests on. Its JSON and its HTML hold the same.
//!
//! A document has no clock in it, so that `report verify` can make it again and compare bytes. What was asked for beyond the
//! case stands in it (`asked`, from `Extent` in the command), prices by their digest: every new option that changes what is
//! said must be added. It draws strengths 200 times for how firm the leading cause stands, fewer than the command of that name,
//! and says so.

pub mod photo;
pub mod rules;
pub mod track;

use crate::case::{Fitted, GivenFact, Inspection, Turned};
use crate::ground::{Ground, Observation};
use crate::model::{Common, Model};
use crate::place::Place;
use crate::plan::swing::Swing;
use crate::report::draw::curve::Curve;
use crate::report::extent::MOST_CURVES;
use crate::report::record::assess;
use crate::report::record::diagnosis::Report;
use crate::report::record::evidence::{self, Finding};
use crate::report::record::robust::Robust;
use crate::report::record::trend::{self, Trend};
use crate::report::words::plain;
use photo::Photo;
use rules::Rule;
use serde::Serialize;
use track::Track;

/// The document
#[derive(Debug, Serialize)]
pub struct Document {
    /// The program and its version, such as `pinboss 0.1.0`
    pub made_by: &'static str,
    /// What was asked for beyond the case, as options of the command; two documents are the same only if this is
    pub asked: String,
    /// When, by whom and where it was looked at
    pub visit: Visit,
    /// What is told of the machine, in the order of the case
    pub facts: Vec<Fact>,
    /// When parts went on and were turned, in the order of the case
    pub parts: Vec<Part>,
    /// Both tracks as they are drawn, left first
    pub tracks: Vec<Track>,
    /// Signs of trouble that belong to no side
    pub on_the_machine: Vec<Finding>,
    /// What was looked at and was as it should be, by place
    pub sound: Vec<Sound>,
    /// What could not be looked at or read
    pub not_possible: Vec<NotPossible>,
    /// Wear over this visit and the earlier ones
    pub history: Trend,
    /// Wear over hours, of the parts most worn
    pub curves: Vec<Curve>,
    /// How far one error of one reading moves what the plan costs
    pub swing: Swing,
    /// How firm the leading cause stands; none where there is none, or the findings are too entangled
    #[serde(skip_serializing_if = "Option::is_none")]
    pub robust: Option<Robust>,
    /// What weighs for and against each party, where damage is in question
    #[serde(skip_serializing_if = "Option::is_none")]
    pub assessment: Option<assess::Report>,
    /// Pictures
    pub photos: Vec<Photo>,
    /// Every rule that what is told rests on, causes first
    pub rules: Vec<Rule>,
    /// What was weighed
    #[serde(flatten)]
    pub diagnosis: Report,
}

/// When, by whom and where the machine was looked at; what the case does not tell is left out
#[derive(Debug, Default, Serialize)]
pub struct Visit {
    /// Day, `yyyy-mm-dd`
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on: Option<String>,
    /// Who looked
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// Where the machine stood
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// What state the machine was in on arrival, in the words of the rules
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub state: Vec<String>,
}

/// A fact that the case gives
#[derive(Debug, Serialize)]
pub struct Fact {
    /// Its name in the rules
    pub id: String,
    /// Its label
    pub label: String,
    /// `machine`, `left` or `right`
    pub place: String,
    /// The choice or number
    pub value: String,
}

/// When a part went on
#[derive(Debug, Serialize)]
pub struct Part {
    /// Its name in the rules
    pub id: String,
    /// Its label
    pub label: String,
    /// Where; none for all of them
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// Hours of the machine when it went on
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on: Option<f64>,
    /// Hours of the machine when it was turned
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turned: Option<f64>,
    /// It is told that it was never turned
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub never_turned: bool,
}

/// What was as it should be at some places alike
#[derive(Debug, Serialize)]
pub struct Sound {
    /// Where: one place, or several in one row of numbered parts
    pub places: Vec<String>,
    /// Labels of what was looked at or read
    pub what: Vec<String>,
}

/// Something that could not be looked at or read
#[derive(Debug, Serialize)]
pub struct NotPossible {
    /// Its name in the rules
    pub id: String,
    /// Where
    pub place: String,
    /// Its label
    pub label: String,
    /// Why not
    pub why: String,
}

/// What a document is made from beyond the diagnosis
pub struct Made<'a> {
    /// The rules
    pub model: &'a Model,
    /// The inspection as written
    pub inspection: &'a Inspection,
    /// The inspection in the terms of the rules
    pub ground: &'a Ground,
    /// What was asked for beyond the case
    pub asked: String,
    /// Wear over this visit and the earlier ones
    pub history: Trend,
    /// How far one error of one reading moves what the plan costs
    pub swing: Swing,
    /// How firm the leading cause stands
    pub robust: Option<Robust>,
    /// What weighs for and against each party
    pub assessment: Option<assess::Report>,
    /// Pictures
    pub photos: Vec<Photo>,
}

/// The document around a diagnosis
pub fn document(made: Made<'_>, diagnosis: Report) -> Document {
    let Made { model, inspection, ground, asked, history, swing, robust, assessment, photos } = made;
    let machine = |own: &&Observation| own.place == Place::Machine && own.grade != 0;
    Document {
        made_by: concat!("pinboss ", env!("CARGO_PKG_VERSION")),
        asked,
        visit: visit(model, inspection),
        facts: inspection.machine.facts.iter().map(|given| fact(model, given)).collect(),
        parts: inspection.parts.iter().map(|fitted| part(model, fitted)).collect(),
        tracks: track::tracks(model, ground, &diagnosis),
        on_the_machine: ground
            .observations
            .iter()
            .filter(machine)
            .map(|own| evidence::observation(model, own))
            .collect(),
        sound: sound(model, ground),
        not_possible: not_possible(model, inspection),
        curves: curves(&history),
        history,
        swing,
        robust,
        rules: rules::in_use(model, ground, &diagnosis, assessment.as_ref()),
        assessment,
        photos,
        diagnosis,
    }
}

/// The curves of the parts most worn, in the order of measures and places
fn curves(history: &Trend) -> Vec<Curve> {
    let all: Vec<Curve> = trend::curves(history).into_iter().map(|(_, curve)| curve).collect();
    let last = |curve: &Curve| curve.points.last().map_or(f64::NEG_INFINITY, |point| point.percent);
    let mut percents: Vec<f64> = all.iter().map(last).collect();
    percents.sort_by(|a, b| b.total_cmp(a));
    let least = percents.get(MOST_CURVES - 1).copied().unwrap_or(f64::NEG_INFINITY); // else: all are shown
    all.into_iter().filter(|curve| last(curve) >= least).take(MOST_CURVES).collect()
}

fn visit(model: &Model, inspection: &Inspection) -> Visit {
    let given = &inspection.visit;
    let state = given.state.iter().map(|state| label(model, &state.value));
    Visit {
        on: given.on.as_ref().map(|on| on.value.clone()),
        by: given.by.as_ref().map(|by| by.value.clone()),
        place: given.place.as_ref().map(|place| place.value.clone()),
        state: state.collect(),
    }
}

fn fact(model: &Model, given: &GivenFact) -> Fact {
    let name = &given.name.value;
    let row = model.row_of(name).map(|part| format!("{}s on a side", model[part].common.label));
    Fact {
        id: name.clone(),
        label: row.unwrap_or_else(|| label(model, name)), // else: it is no row of parts
        place: Place::of(given.side).to_string(),
        value: plain(&given.value.value),
    }
}

fn part(model: &Model, fitted: &Fitted) -> Part {
    Part {
        id: fitted.part.value.clone(),
        label: label(model, &fitted.part.value),
        place: fitted.at.as_ref().map(|at| at.value.to_string()),
        on: fitted.on.as_ref().map(|on| on.value),
        turned: fitted.turned.as_ref().and_then(|turned| turned.value.at()),
        never_turned: fitted.turned.as_ref().is_some_and(|turned| turned.value == Turned::Never),
    }
}

fn sound(model: &Model, ground: &Ground) -> Vec<Sound> {
    let mut all: Vec<(Place, Vec<String>)> = Vec::new();
    let mut normal: Vec<&Observation> = ground.observations.iter().filter(|own| own.grade == 0).collect();
    normal.sort_by_key(|own| own.place.clone());
    for own in normal {
        let label = model[own.symptom].effect.common.label.clone();
        match all.last_mut().filter(|(place, _)| *place == own.place) {
            Some((_, what)) => what.push(label),
            None => all.push((own.place.clone(), vec![label])),
        }
    }
    let mut sound: Vec<(Place, Sound)> = Vec::new();
    for (place, what) in all {
        match sound.last_mut().filter(|(first, own)| own.what == what && same_row(first, &place)) {
            Some((_, own)) => own.places.push(place.to_string()),
            None => sound.push((place.clone(), Sound { places: vec![place.to_string()], what })),
        }
    }
    sound.into_iter().map(|(_, sound)| sound).collect()
}

/// True for numbered parts of one sort and side
fn same_row(first: &Place, other: &Place) -> bool {
    match (first, other) {
        (Place::Numbered { side, part, .. }, Place::Numbered { side: own, part: sort, .. }) => {
            side == own && part == sort
        }
        _ => false,
    }
}

fn not_possible(model: &Model, inspection: &Inspection) -> Vec<NotPossible> {
    let places = inspection.seen.iter();
    let each = places.flat_map(|seen| seen.not_possible.iter().map(move |(name, why)| (seen, name, why)));
    each.map(|(seen, name, why)| NotPossible {
        id: name.value.clone(),
        place: seen.place.value.to_string(),
        label: label(model, &name.value),
        why: why.clone(),
    })
    .collect()
}

/// The label of a name, or the name itself where the rules do not know it
fn label(model: &Model, name: &str) -> String {
    let block: Option<&Common> = model.blocks().find(|block| block.name == name);
    block.map_or_else(|| plain(name), |block| block.label.clone())
}
