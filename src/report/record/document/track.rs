//! One track as it is drawn: what stands where by the machine's facts, and what was found and read at each place.

use crate::ground::Ground;
use crate::machine::Machine;
use crate::model::{Common, Model, PartId};
use crate::place::{Place, Side};
use crate::report::record::diagnosis::{Report, Wear};
use crate::report::record::told::{self, Finding};
use serde::Serialize;

/// The fact that says how the track runs, and its choice for a sprocket above the track frame
const LAYOUT: (&str, &str) = ("layout", "elevated");
/// The fact that says how many carrier rollers there are, with its choices from none on
const CARRIERS: (&str, [&str; 3]) = ("carriers", ["none", "one", "two"]);
/// The numbered part along the ground
pub const ROLLER: &str = "roller";

/// One track, seen from outside
#[derive(Clone, Debug, Serialize)]
pub struct Track {
    /// `left` or `right`
    pub side: &'static str,
    /// The sprocket stands above the track frame, with an idler at each end of it
    pub elevated: bool,
    /// Bottom rollers
    pub rollers: u32,
    /// Carrier rollers; none where nobody told
    pub carriers: Option<u32>,
    /// The case tells how the track runs; else it is drawn oval
    pub layout_told: bool,
    /// Something was looked at or read on it
    pub looked: bool,
    /// Places at which something was found or read, numbered from 1
    pub spots: Vec<Spot>,
}

/// A place on a track with what was found and read there
#[derive(Clone, Debug, Serialize)]
pub struct Spot {
    /// Its number on the drawing
    pub number: usize,
    /// Name of the part in the rules; empty for what belongs to the side as a whole
    pub part: String,
    /// Its label
    pub label: String,
    /// Its number along the side, from the front
    #[serde(skip_serializing_if = "Option::is_none")]
    pub along: Option<u32>,
    /// Signs of trouble
    pub findings: Vec<Finding>,
    /// Readings with what they say
    pub wear: Vec<Wear>,
}

impl Spot {
    /// Most worn of what was read here, per cent
    pub fn percent(&self) -> Option<f64> {
        self.wear.iter().map(|wear| wear.percent).filter(|it| it.is_finite()).max_by(f64::total_cmp)
    }
}

/// Both tracks with what was found and read on them
pub fn tracks(model: &Model, ground: &Ground, report: &Report) -> Vec<Track> {
    Side::BOTH.map(|side| track(model, ground, report, side)).into()
}

fn track(model: &Model, ground: &Ground, report: &Report, side: Side) -> Track {
    let machine = &ground.machine;
    let roller = model.parts.iter().position(|part| part.common.name == ROLLER).map(PartId);
    let layout = choice(model, machine, LAYOUT.0, side);
    let carriers = choice(model, machine, CARRIERS.0, side);
    Track {
        side: side.word(),
        elevated: layout == Some(LAYOUT.1),
        rollers: roller.map_or(0, |part| machine.count(part)),
        carriers: carriers
            .and_then(|told| (0_u32..).zip(CARRIERS.1).find(|(_, word)| *word == told))
            .map(|(count, _)| count),
        layout_told: layout.is_some(),
        looked: looked(ground, side),
        spots: spots(model, ground, report, side),
    }
}

fn looked(ground: &Ground, side: Side) -> bool {
    let here = |place: &Place| place.side() == Some(side);
    let seen = ground.observations.iter().any(|own| here(&own.place));
    seen || ground.readings.keys().any(|(_, place)| here(place))
        || ground.looked.iter().any(|(_, place)| here(place))
}

/// The choice told of a fact, by names
fn choice<'m>(model: &'m Model, machine: &Machine, fact: &str, side: Side) -> Option<&'m str> {
    let told = machine
        .facts
        .iter()
        .find(|((id, at), _)| model[*id].common.name == fact && at.is_none_or(|at| at == side));
    let ((id, _), choice) = told?;
    model[*id].choices.get(*choice).map(String::as_str)
}

/// Places in the order of the rules' parts, a numbered part from the front
fn spots(model: &Model, ground: &Ground, report: &Report, side: Side) -> Vec<Spot> {
    let mut all: Vec<(Option<PartId>, Option<u32>, Spot)> = Vec::new();
    let found = ground.observations.iter().filter(|own| own.grade != 0 && own.place.side() == Some(side));
    for own in found {
        let common = &model[own.symptom].effect.common;
        if let Some(spot) = spot(model, &mut all, common, &own.place) {
            spot.findings.push(told::observation(model, own));
        }
    }
    let on_side = |wear: &&Wear| wear.place.split(' ').next() == Some(side.word());
    for wear in report.wear.iter().filter(on_side) {
        let measure = model.measures.iter().find(|measure| measure.common.name == wear.measure);
        let place =
            ground.readings.keys().map(|(_, place)| place).find(|place| place.to_string() == wear.place);
        if let (Some(measure), Some(place)) = (measure, place)
            && let Some(spot) = spot(model, &mut all, &measure.common, place)
        {
            spot.wear.push(wear.clone());
        }
    }
    all.sort_by_key(|(part, along, _)| (part.is_none(), *part, *along));
    let numbered = (1..).zip(all).map(|(number, (_, _, spot))| Spot { number, ..spot });
    numbered.collect()
}

/// The spot of a part at a place, made when it is not there yet
fn spot<'s>(
    model: &Model,
    all: &'s mut Vec<(Option<PartId>, Option<u32>, Spot)>,
    common: &Common,
    place: &Place,
) -> Option<&'s mut Spot> {
    let named = |name: &str| model.parts.iter().position(|part| part.common.name == name).map(PartId);
    let (part, along) = match place {
        Place::Numbered { part, number, .. } => (named(part), Some(*number)),
        Place::Machine | Place::Side(_) => (common.part, None),
    };
    let known = all.iter().position(|(own, number, _)| *own == part && *number == along);
    // else: it is the first that is found there
    let at = known.unwrap_or_else(|| {
        let (name, label) = part.map_or((String::new(), "the side as a whole".to_owned()), |id| {
            let row = model[id].numbered.is_some() && along.is_none();
            let plural = if row { "s" } else { "" };
            (model[id].common.name.clone(), format!("{}{plural}", model[id].common.label))
        });
        all.push((
            part,
            along,
            Spot { number: 0, part: name, label, along, findings: Vec::new(), wear: Vec::new() },
        ));
        all.len() - 1
    });
    all.get_mut(at).map(|(_, _, spot)| spot)
}
