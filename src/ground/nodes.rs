//! The network of a machine: a node for each open fact, and for each place of a cause, condition and symptom.

use super::open::Open;
use super::paths;
use super::record::{Origin, Sharer};
use super::shared::{Draw, group_of};
use crate::invariant::Hold;
use crate::machine::{Answer, Machine, Supposed};
use crate::model::{Cause, CauseId, Common, Effect, Extent, FactId, Model, SymptomId};
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
        let places = machine.places(model, model[id].common.extent);
        common_fact(model, machine, id, &places, &mut built);
        for place in places {
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
        let places = machine.places(model, model[id].common.extent);
        common_draws(model, machine, &model[id], Sharer::Condition(id), &places, &mut built);
        for place in places {
            let origin = Origin::Condition(id, place.clone());
            effect(model, machine, &model[id], &place, origin, &mut built);
        }
    }
    for number in 0..model.symptoms.len() {
        let id = SymptomId(number);
        let places = machine.places(model, model[id].effect.common.extent);
        common_draws(model, machine, &model[id].effect, Sharer::Symptom(id), &places, &mut built);
        for place in places {
            let origin = Origin::Symptom(id, place.clone());
            effect(model, machine, &model[id].effect, &place, origin, &mut built);
        }
    }
    built
}

impl Built {
    fn add(&mut self, common: &Common, origin: Origin, states: usize, law: Law) {
        let place = origin.place();
        let name = match origin {
            Origin::Shared(..) => format!("{} shared {place}", common.name),
            _ => format!("{} {place}", common.name),
        };
        let id = self.network.add(name, states, law).hold("the rows of a node are made to fit it");
        self.origins.push(origin.clone());
        self.nodes.insert(origin, id);
    }
}

/// What a fact is on both sides at once, where its sides share it and nobody told either: state 0 that each side is for itself
fn common_fact(model: &Model, machine: &Machine, id: FactId, places: &[Place], built: &mut Built) {
    let fact = &model[id];
    let open = |place: &Place| {
        let key = Machine::key(model, id, place);
        machine.is_open(&key) && !machine.near.contains_key(&key)
    };
    if fact.shared <= 0.0 || places.len() < 2 || !places.iter().all(open) {
        return;
    }
    let lines = fact.shares.iter().map(|(test, shares)| (test, shares));
    let Ok(Some(shares)) = machine.first(model, lines, &Place::Machine, &Supposed::new()) else { return };
    let rows = std::iter::once(1.0 - fact.shared);
    let rows = rows.chain(normalized(shares).into_iter().map(|share| share * fact.shared)).collect();
    let origin = Origin::Shared(Sharer::Fact(id), Place::Machine);
    built.add(&fact.common, origin, fact.choices.len() + 1, Law::Table { parents: Vec::new(), rows });
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
    let law = match built.nodes.get(&Origin::Shared(Sharer::Fact(id), Place::Machine)) {
        Some(&common) => beside_common(common, open.nodes, &rows, fact.choices.len()),
        None => Law::Table { rows: beside_other_side(model, machine, id, place, rows), parents: open.nodes },
    };
    built.add(&fact.common, Origin::Fact(key.0, key.1), fact.choices.len(), law);
}

/// The law of one side of a fact beneath what both sides have in common
fn beside_common(common: NodeId, open: Vec<NodeId>, own: &[f64], choices: usize) -> Law {
    let mut rows = own.to_vec();
    for choice in 0..choices {
        for _ in own.chunks(choices) {
            rows.extend((0..choices).map(|other| if other == choice { 1.0 } else { 0.0 }));
        }
    }
    Law::Table { parents: std::iter::once(common).chain(open).collect(), rows }
}

/// The shares of one side of a fact where the other side is known
fn beside_other_side(
    model: &Model,
    machine: &Machine,
    id: FactId,
    place: &Place,
    mut rows: Vec<f64>,
) -> Vec<f64> {
    let fact = &model[id];
    let other = place.side().and_then(|side| machine.facts.get(&(id, Some(side.other()))));
    if let Some(&known) = other.filter(|_| fact.shared > 0.0) {
        for row in rows.chunks_mut(fact.choices.len()) {
            for (choice, share) in row.iter_mut().enumerate() {
                *share *= 1.0 - fact.shared;
                *share += if choice == known { fact.shared } else { 0.0 };
            }
        }
    }
    rows
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
        Origin::Condition(id, place) => {
            Some(paths::law(model, machine, &model[*id], Sharer::Condition(*id), place, nodes))
        }
        Origin::Symptom(id, place) => {
            Some(paths::law(model, machine, &model[*id].effect, Sharer::Symptom(*id), place, nodes))
        }
        Origin::Shared(sharer, group) => {
            Draw::of(model, machine, effect_of(model, *sharer)?, group, nodes).map(|draw| draw.law())
        }
    }
}

/// The block that shares; none for a fact
fn effect_of(model: &Model, sharer: Sharer) -> Option<&Effect> {
    match sharer {
        Sharer::Fact(_) => None,
        Sharer::Condition(id) => Some(&model[id]),
        Sharer::Symptom(id) => Some(&model[id].effect),
    }
}

/// The draws that the places of a block have in common
fn common_draws(
    model: &Model,
    machine: &Machine,
    effect: &Effect,
    sharer: Sharer,
    places: &[Place],
    built: &mut Built,
) {
    let groups: BTreeSet<Place> = places.iter().filter_map(|place| group_of(effect, place)).collect();
    for group in groups {
        if let Some(draw) = Draw::of(model, machine, effect, &group, &built.nodes) {
            let states = effect.grades.states() + 1;
            built.add(&effect.common, Origin::Shared(sharer, group), states, draw.law());
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
    let sharer = match &origin {
        Origin::Condition(id, _) => Sharer::Condition(*id),
        Origin::Symptom(id, _) => Sharer::Symptom(*id),
        Origin::Fact(..) | Origin::Cause(..) | Origin::Shared(..) => return,
    };
    let law = paths::law(model, machine, effect, sharer, place, &built.nodes);
    built.add(&effect.common, origin, effect.grades.states(), law);
}
