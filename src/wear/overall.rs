//! One figure for a whole undercarriage, beside the part that is worst.
//!
//! It goes by `renews` and `costs`: what has no remedy that renews it has no weight, of several measures renewed as one the
//! worst counts, along a row the mean; a size better than new is a slip and left out. Under half the cost read, no figure is
//! shown.

use super::estimate::{Estimate, Evaluator, gathered};
use super::line::nine_of_ten;
use super::{Readings, Worn};
use crate::machine::{Answer, Machine, Supposed};
use crate::model::formula::Gather;
use crate::model::subject::{Subject, as_measure, as_remedy};
use crate::model::{Common, MeasureId, Model, Remedy, RemedyId};
use crate::place::{Place, Side, within};
use serde::Serialize;
use serde::ser::{SerializeStruct, Serializer};
use std::collections::BTreeSet;

/// How worn a whole undercarriage is
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Overall {
    /// Both sides, and what the machine has one of
    #[serde(flatten)]
    pub machine: Mean,
    /// Each side of which something was read, by itself
    pub sides: Vec<OfSide>,
    /// The reading nearest to its limit, or farthest past it
    pub worst: Worst,
    /// What the figure is made of, in the order of the rules
    pub parts: Vec<Part>,
    /// What was not read and is not in the figure
    pub unread: Vec<Unread>,
}

/// A mean weighted by cost
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Mean {
    /// Per cent worn, not clipped at 100
    pub percent: f64,
    /// Its standard error
    pub sigma: f64,
    /// Half of what nine of ten such figures lie within
    pub give_or_take: f64,
    /// Cost of renewing what is in it, over that of renewing what is in it and what was not read: from 0 to 1
    #[serde(rename = "share_of_cost")]
    pub share: f64,
    /// So much of the whole was read that the figure speaks for it
    #[serde(rename = "enough_read")]
    pub is_enough: bool,
}

/// The mean of a side
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OfSide {
    /// Which
    pub side: Side,
    /// Its mean
    #[serde(flatten)]
    pub mean: Mean,
}

/// The worst reading
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Worst {
    /// The measure
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words, and where
    #[serde(flatten, serialize_with = "as_measure")]
    pub named: Subject,
    /// Per cent worn
    pub percent: f64,
}

/// Share of the cost from which a figure speaks for the whole: a choice
pub const ENOUGH: f64 = 0.5;

/// Something that is renewed at a cost of its own
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Part {
    /// What renews it
    #[serde(skip)]
    pub remedy: RemedyId,
    /// The same with its words, and where
    #[serde(flatten, serialize_with = "as_remedy")]
    pub named: Subject,
    /// How worn it is: of several measures the one most worn, along a row the mean
    #[serde(flatten, serialize_with = "percent_and_sigma")]
    pub worn: Estimate,
    /// What renewing it costs, in the money of the rules
    pub cost: f64,
}

/// Something that is renewed at a cost of its own and was not read
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Unread {
    /// Where
    pub place: Place,
    /// Names of the measures any of which would tell
    pub measures: Vec<String>,
    /// Their labels
    pub labels: Vec<String>,
    /// What renewing it costs, in the money of the rules
    pub cost: f64,
}

/// One figure for the machine: the per cent worn of what has a remedy that renews it at a cost, weighted by that cost;
/// none when nothing of it was read.
///
/// `worn` is what was read. A measure that several remedies renew counts under the first of them.
pub fn overall(model: &Model, machine: &Machine, readings: &Readings, worn: &[Worn]) -> Option<Overall> {
    let worst = worn.iter().max_by(|a, b| a.percent.total_cmp(&b.percent))?;
    let worst = Worst {
        measure: worst.measure,
        named: model.subject(worst.measure, &worst.place),
        percent: worst.percent,
    };
    let evaluator = Evaluator { model, machine, readings };
    let (mut parts, mut unread) = (Vec::new(), Vec::new());
    let mut taken: BTreeSet<MeasureId> = BTreeSet::new();
    for (number, remedy) in model.remedies.iter().enumerate() {
        let measures: Vec<MeasureId> =
            remedy.renews.iter().map(|own| own.measure).filter(|id| taken.insert(*id)).collect();
        let Some(cost) = remedy.costs.filter(|cost| *cost > 0.0 && !measures.is_empty()) else {
            continue;
        };
        for place in places(machine, model, remedy) {
            let measures: Vec<MeasureId> = measures
                .iter()
                .copied()
                .filter(|id| may_be(machine, model, &model[*id].common, &place))
                .collect();
            match nearest_its_end(&evaluator, &measures, &place) {
                Some(worn) => {
                    let remedy = RemedyId(number);
                    parts.push(Part { remedy, named: model.subject(remedy, &place), worn, cost });
                }
                None if measures.iter().any(|id| is_there(machine, model, *id, &place)) => {
                    let blocks = || measures.iter().map(|id| &model[*id].common);
                    unread.push(Unread {
                        place,
                        measures: blocks().map(|common| common.name.clone()).collect(),
                        labels: blocks().map(|common| common.label.clone()).collect(),
                        cost,
                    });
                }
                None => {}
            }
        }
    }
    let side = |side: Side| {
        let mean = mean(&parts, &unread, |place| place.side() == Some(side))?;
        Some(OfSide { side, mean })
    };
    Some(Overall {
        machine: mean(&parts, &unread, |_| true)?,
        sides: Side::BOTH.into_iter().filter_map(side).collect(),
        worst,
        parts,
        unread,
    })
}

/// Where a remedy can be done on this machine, as far as is known
fn places(machine: &Machine, model: &Model, remedy: &Remedy) -> Vec<Place> {
    let mut places = machine.places(model, remedy.common.extent);
    places.retain(|place| may_be(machine, model, &remedy.common, place));
    places
}

/// Whether a block is not ruled out at a place by what is known of the machine
fn may_be(machine: &Machine, model: &Model, block: &Common, place: &Place) -> bool {
    machine.holds(model, &block.gate, place, &Supposed::new()) != Answer::No
}

/// Whether the part that a measure is of is on this machine for sure: nobody misses what few machines have
fn is_there(machine: &Machine, model: &Model, measure: MeasureId, place: &Place) -> bool {
    let gate = model[measure].common.part.map(|part| &model[part].common.gate);
    gate.is_none_or(|gate| machine.holds(model, gate, place, &Supposed::new()) == Answer::Yes)
}

/// Per cent worn of what is renewed as one: of its measures the one most worn, each the mean of its places there. A size
/// better than new is a slip, and no sign that the whole is sound
fn nearest_its_end(evaluator: &Evaluator<'_>, measures: &[MeasureId], place: &Place) -> Option<Estimate> {
    let means = measures.iter().filter_map(|id| {
        let all = evaluator.machine.places(evaluator.model, evaluator.model[*id].common.extent);
        let here = all.iter().filter(|own| within(own, place));
        let sound = here.filter(|own| {
            let read = evaluator.measure(*id, own);
            read.is_ok_and(|read| !evaluator.is_better_than_new(*id, own, read.value))
        });
        let worn: Vec<Estimate> = sound.filter_map(|own| evaluator.worn(*id, own).ok()).collect();
        gathered(Gather::Mean, &worn).ok()
    });
    gathered(Gather::Largest, &means.collect::<Vec<_>>()).ok()
}

fn mean(parts: &[Part], unread: &[Unread], wanted: impl Fn(&Place) -> bool) -> Option<Mean> {
    let parts: Vec<&Part> = parts.iter().filter(|part| wanted(&part.named.place)).collect();
    let read: f64 = parts.iter().map(|part| part.cost).sum();
    let missing: f64 = unread.iter().filter(|it| wanted(&it.place)).map(|it| it.cost).sum();
    let weighted = parts.iter().map(|part| (&part.worn, part.cost / read));
    let sum = Estimate::weighted(weighted);
    let share = read / (read + missing);
    (!parts.is_empty()).then(|| Mean {
        percent: sum.value,
        sigma: sum.sigma(),
        give_or_take: nine_of_ten(sum.sigma()),
        share,
        is_enough: share >= ENOUGH,
    })
}

fn percent_and_sigma<S: Serializer>(worn: &Estimate, out: S) -> Result<S::Ok, S::Error> {
    let mut fields = out.serialize_struct("Estimate", 2)?;
    fields.serialize_field("percent", &worn.value)?;
    fields.serialize_field("sigma", &worn.sigma())?;
    fields.end()
}
