//! The network of a machine: a node for each open fact, and for each place of a cause, condition and symptom.

use super::open::Open;
use super::paths;
use super::record::Origin;
use crate::invariant::Hold;
use crate::machine::{Answer, Machine, Supposed};
use crate::model::{Cause, CauseId, Common, Effect, Extent, FactId, Model, SymptomId};
use crate::network::{Law, Network, NodeId};
use crate::place::{Place, Side};
use std::collections::BTreeMap;

/// A network with what its nodes stand for
#[derive(Debug, Default)]
pub(super) struct Built {
    pub(super) network: Network,
    pub(super) origins: Vec<Origin>,
    pub(super) nodes: BTreeMap<Origin, NodeId>,
}

/// Builds the network, parents first
pub(super) fn build(model: &Model, machine: &Machine) -> Built {
    let mut built = Built::default();
    for &id in &model.fact_order {
        for place in machine.places(model, model[id].common.extent) {
            fact(model, machine, id, &place, &mut built);
        }
    }
    for number in 0..model.causes.len() {
        let id = CauseId(number);
        for place in machine.places(model, model[id].common.extent) {
            cause(model, machine, id, &place, &mut built);
        }
    }
    for &id in &model.condition_order {
        for place in machine.places(model, model[id].common.extent) {
            let origin = Origin::Condition(id, place.clone());
            effect(model, machine, &model[id], &place, origin, &mut built);
        }
    }
    for number in 0..model.symptoms.len() {
        let id = SymptomId(number);
        for place in machine.places(model, model[id].effect.common.extent) {
            let origin = Origin::Symptom(id, place.clone());
            effect(model, machine, &model[id].effect, &place, origin, &mut built);
        }
    }
    built
}

impl Built {
    fn add(&mut self, common: &Common, origin: Origin, states: usize, law: Law) {
        let place = origin.place();
        let name = format!("{} {place}", common.name);
        let id = self.network.add(name, states, law).hold("the rows of a node are made to fit it");
        self.origins.push(origin.clone());
        self.nodes.insert(origin, id);
    }
}

fn fact(model: &Model, machine: &Machine, id: FactId, place: &Place, built: &mut Built) {
    let key = Machine::key(model, id, place);
    let fact = &model[id];
    if !machine.is_open(&key) {
        return;
    }
    if let Some(chances) = machine.near.get(&key) {
        let law = Law::Table { parents: Vec::new(), rows: normalized(chances) };
        built.add(&fact.common, Origin::Fact(key.0, key.1), fact.choices.len(), law);
        return;
    }
    let tests = fact.shares.iter().map(|(test, _)| test);
    let open = Open::of(model, machine, &built.nodes, tests, place);
    let mut rows = Vec::new();
    for supposed in open.combinations() {
        let lines = fact.shares.iter().map(|(test, shares)| (test, shares));
        let first = machine.first(model, lines, place, &supposed);
        match first {
            Ok(Some(shares)) => rows.extend(normalized(shares)),
            _ => return,
        }
    }
    let law = Law::Table { parents: open.nodes, rows };
    built.add(&fact.common, Origin::Fact(key.0, key.1), fact.choices.len(), law);
}

/// Shares that add up to 1 to the last digit
fn normalized(shares: &[f64]) -> Vec<f64> {
    let sum: f64 = shares.iter().sum();
    shares.iter().map(|share| share / sum).collect()
}

fn cause(model: &Model, machine: &Machine, id: CauseId, place: &Place, built: &mut Built) {
    if let Some(law) = cause_law(model, machine, id, place, &built.nodes) {
        let states = model[id].forms.names().len() + 1;
        built.add(&model[id].common, Origin::Cause(id, place.clone()), states, law);
    }
}

/// The law of a cause at a place; none where it cannot be
fn cause_law(
    model: &Model,
    machine: &Machine,
    id: CauseId,
    place: &Place,
    nodes: &BTreeMap<Origin, NodeId>,
) -> Option<Law> {
    let cause = &model[id];
    let gate = &cause.common.gate;
    let tests = cause.chances.iter().map(|chance| &chance.test).chain([gate]);
    let open = Open::of(model, machine, nodes, tests, place);
    let forms = cause.forms.names().len();
    let mut rows = Vec::new();
    let mut possible = false;
    for supposed in open.combinations() {
        let here = machine.holds(model, gate, place, &supposed) == Answer::Yes;
        let chance = if here { chance(model, machine, cause, place, &supposed) } else { 0.0 };
        possible |= chance > 0.0;
        rows.push(1.0 - chance);
        rows.extend(std::iter::repeat_n(chance / forms as f64, forms));
    }
    possible.then_some(Law::Table { parents: open.nodes, rows })
}

/// The law of a cause, condition or symptom that is on a machine; none for a fact
pub(super) fn law(
    model: &Model,
    machine: &Machine,
    origin: &Origin,
    nodes: &BTreeMap<Origin, NodeId>,
) -> Option<Law> {
    match origin {
        Origin::Fact(..) => None,
        Origin::Cause(id, place) => cause_law(model, machine, *id, place, nodes),
        Origin::Condition(id, place) => Some(paths::law(model, machine, &model[*id], place, nodes)),
        Origin::Symptom(id, place) => Some(paths::law(model, machine, &model[*id].effect, place, nodes)),
    }
}

/// Chance of a cause at one of its places: the first line that holds, its share spread over the places it is counted by
fn chance(model: &Model, machine: &Machine, cause: &Cause, place: &Place, supposed: &Supposed) -> f64 {
    let lines = cause.chances.iter().map(|chance| (&chance.test, chance));
    let Ok(Some(line)) = machine.first(model, lines, place, supposed) else {
        return 0.0;
    };
    let own = machine.places(model, cause.common.extent).len();
    let nouns = match (line.noun, cause.common.extent) {
        (noun, extent) if noun == extent => own,
        (Extent::Side, _) => Side::BOTH.len(),
        _ => 1,
    };
    let places = ((own / nouns.max(1)) as f64).max(1.0);
    if line.share >= 1.0 { 1.0 } else { 1.0 - libm::pow(1.0 - line.share, 1.0 / places) }
}

fn effect(
    model: &Model,
    machine: &Machine,
    effect: &Effect,
    place: &Place,
    origin: Origin,
    built: &mut Built,
) {
    if machine.holds(model, &effect.common.gate, place, &Supposed::new()) == Answer::No {
        return;
    }
    let law = paths::law(model, machine, effect, place, &built.nodes);
    built.add(&effect.common, origin, effect.grades.states(), law);
}
