//! What is still open to look at: the checks not done, and the facts not given.

use super::What;
use crate::ground::{Ground, Origin};
use crate::machine::{Answer, Supposed};
use crate::model::{CheckId, Model, SymptomId};
use crate::network::NodeId;
use crate::place::{Place, within};

/// A check or question with the nodes it would show
#[derive(Clone, Debug)]
pub struct Open {
    /// What to do
    pub what: What,
    /// Where
    pub place: Place,
    /// Minutes of it, without what must be done first
    pub minutes: f64,
    /// What it would show, at least one
    pub probes: Vec<Probe>,
}

/// A node that would be seen
#[derive(Clone, Debug)]
pub struct Probe {
    /// The node
    pub node: NodeId,
    /// What it stands for
    pub origin: Origin,
}

/// Everything still open: the checks in the order of the rules and places, then the facts not given
pub fn open(model: &Model, ground: &Ground) -> Vec<Open> {
    let mut open = Vec::new();
    for number in 0..model.checks.len() {
        let id = CheckId(number);
        let check = &model[id];
        for place in ground.machine.places(model, check.common.extent) {
            let gate = ground.machine.holds(model, &check.common.gate, &place, &Supposed::new());
            if gate == Answer::No || ground.looked.contains(&(id, place.clone())) {
                continue;
            }
            let probes = probes(model, ground, id, &place);
            if !probes.is_empty() {
                open.push(Open { what: What::Check(id), place, minutes: check.minutes, probes });
            }
        }
    }
    for (index, origin) in ground.origins.iter().enumerate() {
        if let Origin::Fact(id, side) = origin
            && !ground.machine.facts.contains_key(&(*id, *side))
            && let (Some((_, minutes)), Some(node)) = (&model[*id].tell, ground.network.at(index))
        {
            open.push(Open {
                what: What::Tell(*id, *side),
                place: origin.place(),
                minutes: *minutes,
                probes: vec![Probe { node, origin: origin.clone() }],
            });
        }
    }
    open
}

/// Nodes of the symptoms that a check would show at a place and nobody has seen
fn probes(model: &Model, ground: &Ground, check: CheckId, place: &Place) -> Vec<Probe> {
    let mut probes = Vec::new();
    for number in 0..model.symptoms.len() {
        let id = SymptomId(number);
        let symptom = &model[id];
        let read = symptom.reading.as_ref().is_some_and(|(formula, _)| {
            let readings = formula.readings();
            !readings.is_empty() && readings.iter().all(|measure| model[check].reads.contains(measure))
        });
        if !read && !model[check].shows.contains(&id) {
            continue;
        }
        for own in ground.machine.places(model, symptom.effect.common.extent) {
            let inside = within(&own, place);
            let possible = !ground.not_possible.contains(&(id, own.clone()));
            let origin = Origin::Symptom(id, own.clone());
            if let Some(node) = ground.node(&origin)
                && inside
                && possible
                && !ground.is_seen(id, &own)
                && !gives_way(model, ground, id, &own)
            {
                probes.push(Probe { node, origin });
            }
        }
    }
    probes
}

fn gives_way(model: &Model, ground: &Ground, id: SymptomId, place: &Place) -> bool {
    model[id].gives_way.iter().any(|&other| ground.is_seen(other, place))
}

/// Causes that the probes or the findings hang on: no other can be moved
pub(super) fn targets(ground: &Ground, probes: &[NodeId]) -> Vec<NodeId> {
    let seen = ground.observations.iter().map(|own| own.node);
    let ends: Vec<NodeId> = seen.chain(probes.iter().copied()).collect();
    let reached = ground.network.ancestors(&ends);
    let is_fact = |node: &&NodeId| matches!(ground.origin(**node), Some(Origin::Fact(..)));
    let about_facts = probes.iter().any(|probe| is_fact(&probe));
    let causes = ground.causes().map(|(_, _, node)| node);
    causes
        .filter(|node| reached.contains(node) || (about_facts && depends_on(ground, *node, probes)))
        .collect()
}

fn depends_on(ground: &Ground, node: NodeId, facts: &[NodeId]) -> bool {
    let above = ground.network.ancestors(&[node]);
    facts.iter().any(|fact| above.contains(fact))
}
