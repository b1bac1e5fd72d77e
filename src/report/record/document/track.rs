//! One track as it is drawn: what stands where by the machine's facts, and what was found and read at each place.

use crate::ground::Ground;
use crate::machine::{Answer, Machine, Supposed};
use crate::model::drawn::Drawn::{BottomRow, FrontWheel, RaisedWheel, RearWheel, TopRow};
use crate::model::{Common, Model, PartId, drawn};
use crate::place::{Place, Side};
use crate::report::record::diagnosis::{Report, Wear};
use crate::report::record::evidence::{self, Finding};
use serde::Serialize;

/// One track, seen from outside
#[derive(Clone, Debug, Default, Serialize)]
pub struct Track {
    /// `left` or `right`
    pub side: &'static str,
    /// The wheel at its front
    pub front: Option<Drawn>,
    /// The wheel that drives it
    pub driven: Option<Drawn>,
    /// The driven wheel stands above the frame
    pub raised: bool,
    /// The wheel at its rear, where that is not the driven one
    pub rear: Option<Drawn>,
    /// The small wheels along the ground, and how many of them
    pub bottom: Option<(Drawn, u32)>,
    /// The small wheels beneath the top run, and how many of them; no number where nobody told
    pub top: Option<(Drawn, Option<u32>)>,
    /// The case tells all that says which wheels there are; else it is drawn with those that stand there in any case
    #[serde(rename = "layout_told")]
    pub layout_known: bool,
    /// Something was looked at or read on it
    pub looked: bool,
    /// Places at which something was found or read, numbered from 1
    pub spots: Vec<Spot>,
}

/// A part that is a wheel or a row of wheels of the picture
#[derive(Clone, Debug, Serialize)]
pub struct Drawn {
    /// Its name in the rules
    pub name: String,
    /// Its label
    pub label: String,
}

/// A place on a track with what was found and read there
#[derive(Clone, Debug, Serialize)]
pub struct Spot {
    /// Its number on the drawing
    pub number: usize,
    /// Name of the part in the rules; empty for what belongs to the side as a whole
    pub part: String,
    /// Where the rules have the part drawn; none where they do not say
    #[serde(skip)]
    pub drawn: Option<drawn::Drawn>,
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
    let parts = || (0..model.parts.len()).map(PartId);
    let seen = |id: PartId| (id, Seen::of(model, machine, id, side));
    let of = |wanted: fn(drawn::Drawn) -> bool| {
        parts().map(seen).find(|(_, seen)| seen.drawn.is_some_and(wanted) && seen.there == Answer::Yes)
    };
    let wheel = |wanted| of(wanted).map(|(id, _)| named(model, id));
    let count = |id: PartId, by_rules: Option<u32>| by_rules.unwrap_or_else(|| machine.count(id)); // else: the case tells it
    let driven = of(drawn::Drawn::is_driven);
    let bottom = of(|drawn| matches!(drawn, BottomRow(_)));
    Track {
        side: side.word(),
        front: wheel(|drawn| drawn == FrontWheel),
        raised: driven.as_ref().is_some_and(|(_, seen)| seen.drawn == Some(RaisedWheel)),
        driven: driven.map(|(id, _)| named(model, id)),
        rear: wheel(|drawn| drawn == RearWheel),
        bottom: bottom.and_then(|(id, seen)| match seen.drawn? {
            BottomRow(by_rules) => Some((named(model, id), count(id, by_rules))),
            _ => None,
        }),
        top: parts()
            .map(seen)
            .find_map(|(id, seen)| Some((named(model, id), seen.on_top(model, machine, id)?))),
        layout_known: parts().map(seen).all(|(_, seen)| !seen.may_be_a_wheel || seen.settled),
        looked: looked(ground, side),
        spots: spots(model, ground, report, side),
    }
}

/// How a part is drawn on a side, by what is told of the machine
struct Seen {
    /// Whether it is there
    there: Answer,
    /// The first line that surely holds
    drawn: Option<drawn::Drawn>,
    /// What is told settles whether it is there and which line holds
    settled: bool,
    /// Some line makes it a wheel
    may_be_a_wheel: bool,
}

impl Seen {
    fn of(model: &Model, machine: &Machine, id: PartId, side: Side) -> Self {
        let (part, place) = (&model[id], Place::Side(side));
        let nothing = Supposed::new();
        let holds = |test| machine.holds(model, test, &place, &nothing);
        let there = holds(&part.common.gate);
        let lines = part.drawn.iter().map(|(drawn, test)| (test, *drawn));
        let first = machine.first(model, lines, &place, &nothing);
        let sure = part.drawn.iter().find(|(_, test)| holds(test) == Answer::Yes);
        Seen {
            settled: first.is_ok() && !matches!(there, Answer::Hangs(_)),
            drawn: sure.map(|(drawn, _)| *drawn),
            there,
            may_be_a_wheel: part.drawn.iter().any(|(drawn, _)| drawn.is_wheel()),
        }
    }

    /// How many stand beneath the top run, and whether that is told; none for a part that stands elsewhere
    fn on_top(&self, model: &Model, machine: &Machine, id: PartId) -> Option<Option<u32>> {
        model[id].drawn.iter().find(|(drawn, _)| matches!(drawn, TopRow(_)))?;
        Some(match (&self.there, self.drawn) {
            (Answer::No, _) => Some(0),
            (Answer::Yes, Some(TopRow(Some(count)))) => Some(count),
            (Answer::Yes, Some(TopRow(None))) => Some(machine.count(id)),
            (Answer::Yes, None) if self.settled => Some(0),
            _ => None,
        })
    }
}

fn named(model: &Model, id: PartId) -> Drawn {
    let common = &model[id].common;
    Drawn { name: common.name.clone(), label: common.label.clone() }
}

fn looked(ground: &Ground, side: Side) -> bool {
    let here = |place: &Place| place.side() == Some(side);
    let seen = ground.observations.iter().any(|own| here(&own.place));
    seen || ground.readings.keys().any(|(_, place)| here(place))
        || ground.looked.iter().any(|(_, place)| here(place))
}

/// Places in the order of the rules' parts, a numbered part from the front
fn spots(model: &Model, ground: &Ground, report: &Report, side: Side) -> Vec<Spot> {
    let machine = &ground.machine;
    let mut all: Vec<(Option<PartId>, Option<u32>, Spot)> = Vec::new();
    let found = ground.observations.iter().filter(|own| own.grade != 0 && own.place.side() == Some(side));
    for own in found {
        let common = &model[own.symptom].effect.common;
        if let Some(spot) = spot(model, machine, &mut all, common, (&own.place, side)) {
            spot.findings.push(evidence::observation(model, own));
        }
    }
    let on_side = |wear: &&Wear| wear.place.split(' ').next() == Some(side.word());
    for wear in report.wear.iter().filter(on_side) {
        let measure = model.measures.iter().find(|measure| measure.common.name == wear.measure);
        let place =
            ground.readings.keys().map(|(_, place)| place).find(|place| place.to_string() == wear.place);
        if let (Some(measure), Some(place)) = (measure, place)
            && let Some(spot) = spot(model, machine, &mut all, &measure.common, (place, side))
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
    machine: &Machine,
    all: &'s mut Vec<(Option<PartId>, Option<u32>, Spot)>,
    common: &Common,
    (place, side): (&Place, Side),
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
            Spot {
                number: 0,
                part: name,
                drawn: part.and_then(|id| Seen::of(model, machine, id, side).drawn),
                label,
                along,
                findings: Vec::new(),
                wear: Vec::new(),
            },
        ));
        all.len() - 1
    });
    all.get_mut(at).map(|(_, _, spot)| spot)
}
