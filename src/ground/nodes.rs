//! The network of a machine: a node for each open fact, and for each place of a cause, condition and symptom.

use super::open::Open;
use super::paths;
use super::record::{EffectId, Origin};
use super::shared::{Draw, group_of};
use crate::invariant::Hold;
use crate::machine::{Answer, Machine, Supposed};
use crate::model::{Cause, CauseId, Common, Extent, FactId, Model, SymptomId};
use crate::network::{Law, Network, NodeId};
use crate::place::{Place, Side};
use std::collections::{BTreeMap, BTreeSet};

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
    let conditions = model.condition_order.iter().map(|id| EffectId::Condition(*id));
    let symptoms = (0..model.symptoms.len()).map(|number| EffectId::Symptom(SymptomId(number)));
    for effect_id in conditions.chain(symptoms) {
        effects(model, machine, effect_id, &mut built);
    }
    built
}

impl Built {
    fn add(&mut self, common: &Common, origin: Origin, states: usize, law: Law) -> NodeId {
        let place = origin.place();
        let name = match origin {
            Origin::Shared(..) => format!("{} shared {place}", common.name),
            _ => format!("{} {place}", common.name),
        };
        let id = self.network.add(name, states, law).hold("the rows of a node are made to fit it");
        self.origins.push(origin.clone());
        self.nodes.insert(origin, id);
        id
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
    let law = beside_other_side(model, machine, key, Law::Table { parents: open.nodes, rows }, built);
    built.add(&fact.common, Origin::Fact(key.0, key.1), fact.choices.len(), law);
}

/// The law of a fact of one side beside what the other side is, so far as both are the same
fn beside_other_side(
    model: &Model,
    machine: &Machine,
    (id, side): (FactId, Option<Side>),
    own: Law,
    built: &Built,
) -> Law {
    let fact = &model[id];
    let (Law::Table { parents, rows }, Some(side)) = (&own, side) else { return own };
    if fact.shared <= 0.0 {
        return own;
    }
    let toward = |other: usize| {
        rows.chunks(fact.choices.len()).flat_map(move |row| {
            row.iter().enumerate().map(move |(choice, share)| {
                let same = if choice == other { fact.shared } else { 0.0 };
                share * (1.0 - fact.shared) + same
            })
        })
    };
    let other = (id, Some(side.other()));
    match (built.nodes.get(&Origin::Fact(other.0, other.1)), machine.facts.get(&other)) {
        (Some(&node), _) => Law::Table {
            parents: std::iter::once(node).chain(parents.iter().copied()).collect(),
            rows: (0..fact.choices.len()).flat_map(toward).collect(),
        },
        (None, Some(&known)) => Law::Table { parents: parents.clone(), rows: toward(known).collect() },
        (None, None) => own,
    }
}

/// Shares that add up to 1 to the last digit
fn normalized(shares: &[f64]) -> Vec<f64> {
    let sum: f64 = shares.iter().sum();
    shares.iter().map(|share| share / sum).collect()
}

fn cause(model: &Model, machine: &Machine, id: CauseId, place: &Place, built: &mut Built) {
    if let Some(law) = cause_law(model, machine, id, place, &built.nodes) {
        let states = model[id].states();
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
        let recent = cause.recent.unwrap_or(0.0); // else: all of it has been at work for long
        let each = chance / forms as f64;
        rows.extend(std::iter::repeat_n(each * (1.0 - recent), forms));
        rows.extend(std::iter::repeat_n(each * recent, cause.states() - 1 - forms));
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
        Origin::Condition(..) | Origin::Symptom(..) => {
            let (id, place) = (origin.as_effect()?, origin.place());
            let effect = id.effect(model);
            let group = group_of(effect, &place);
            let draw = group.as_ref().and_then(|group| paths::draw(model, machine, effect, group, nodes));
            let node = group.and_then(|group| nodes.get(&Origin::Shared(id, group)));
            let common = node.copied().zip(draw.as_ref());
            Some(paths::law(model, machine, effect, &place, nodes, common))
        }
        Origin::Shared(id, group) => {
            paths::draw(model, machine, id.effect(model), group, nodes).map(|draw| draw.law())
        }
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

/// A condition or symptom at all its places, after the draws that its places have in common
fn effects(model: &Model, machine: &Machine, id: EffectId, built: &mut Built) {
    let effect = id.effect(model);
    let places = machine.places(model, effect.common.extent);
    let groups: BTreeSet<Place> = places.iter().filter_map(|place| group_of(effect, place)).collect();
    let mut draws: BTreeMap<Place, (NodeId, Draw)> = BTreeMap::new();
    for group in groups {
        if let Some(draw) = paths::draw(model, machine, effect, &group, &built.nodes) {
            let states = effect.grades.states() + 1;
            let origin = Origin::Shared(id, group.clone());
            let node = built.add(&effect.common, origin, states, draw.law());
            draws.insert(group, (node, draw));
        }
    }
    for place in places {
        if machine.holds(model, &effect.common.gate, &place, &Supposed::new()) != Answer::No {
            let common = group_of(effect, &place).and_then(|group| draws.get(&group));
            let common = common.map(|(node, draw)| (*node, draw));
            let law = paths::law(model, machine, effect, &place, &built.nodes, common);
            built.add(&effect.common, id.at(place), effect.grades.states(), law);
        }
    }
}
