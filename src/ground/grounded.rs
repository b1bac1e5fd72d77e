//! One inspection in the terms of the rules, as a whole.

use super::nodes;
use super::record::{Clash, Held, Misfit, Observation, Origin};
use super::several::Outlier;
use crate::invariant::Hold;
use crate::machine::{Answer, Machine, Supposed};
use crate::model::{CauseId, CheckId, ConditionId, Hidden, Model, Remedy, Sign, StateId, SymptomId};
use crate::network::{Law, Network, NodeId};
use crate::place::Place;
use crate::wear::Readings;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// One inspection in the terms of the rules
#[derive(Clone, Debug)]
pub struct Ground {
    /// The machine
    pub machine: Machine,
    /// Measures read and not void
    pub readings: Readings,
    /// Measures read that mean nothing on this machine by its facts
    pub set_aside: Readings,
    /// One of several values read at a place that lies far from the others
    pub outliers: Vec<Outlier>,
    /// The machine's class, where its sizes are not those of the machine
    pub misfit: Option<Misfit>,
    /// The dependency network of this machine: one node for each place of a block
    pub network: Arc<Network>,
    /// What each node stands for, by its index
    pub origins: Vec<Origin>,
    /// What was seen or read, in the order in which it counts
    pub observations: Vec<Observation>,
    /// Readings and looks that do not count, each with its reason
    pub held: Vec<Held>,
    /// Readings that say otherwise than the eye
    pub clashes: Vec<Clash>,
    /// Checks that were done
    pub looked: BTreeSet<(CheckId, Place)>,
    /// States the machine was in at some time of the visit
    pub states: BTreeSet<StateId>,
    /// Symptoms that could not be looked at
    pub not_possible: BTreeSet<(SymptomId, Place)>,
    nodes: BTreeMap<Origin, NodeId>,
}

/// The network of a machine on which nothing was looked at
pub fn empty(model: &Model, machine: Machine) -> Ground {
    let built = nodes::build(model, &machine);
    Ground {
        machine,
        readings: Readings::new(),
        set_aside: Readings::new(),
        outliers: Vec::new(),
        misfit: None,
        network: Arc::new(built.network),
        origins: built.origins,
        observations: Vec::new(),
        held: Vec::new(),
        clashes: Vec::new(),
        looked: BTreeSet::new(),
        states: BTreeSet::new(),
        not_possible: BTreeSet::new(),
        nodes: built.nodes,
    }
}

impl Ground {
    /// The node of something at a place; none when it is not on this machine
    pub fn node(&self, origin: &Origin) -> Option<NodeId> {
        self.nodes.get(origin).copied()
    }

    /// What a node stands for
    pub fn origin(&self, node: NodeId) -> Option<&Origin> {
        self.origins.get(node.index())
    }

    /// The law that other rules give a node, rules that differ from the ground's own in nothing but the strengths of their
    /// lines; none for a fact, which has no strength
    pub fn law(&self, model: &Model, node: NodeId) -> Option<Law> {
        nodes::law(model, &self.machine, self.origin(node)?, &self.nodes)
    }

    /// Nodes of all causes, in the order of the rules and places
    pub fn causes(&self) -> impl Iterator<Item = (CauseId, &Place, NodeId)> {
        self.nodes.iter().filter_map(|(origin, node)| match origin {
            Origin::Cause(id, place) => Some((*id, place, *node)),
            _ => None,
        })
    }

    /// Nodes of all conditions, in the order of the rules and places
    pub fn conditions(&self) -> impl Iterator<Item = (ConditionId, &Place, NodeId)> {
        self.nodes.iter().filter_map(|(origin, node)| match origin {
            Origin::Condition(id, place) => Some((*id, place, *node)),
            _ => None,
        })
    }

    /// What can be done on this machine about something hidden at a place: what its facts or the signs rule out is no
    /// remedy
    pub fn remedies<'m>(
        &self,
        model: &'m Model,
        hidden: Hidden,
        place: &Place,
    ) -> impl Iterator<Item = &'m Remedy> {
        let fixing = model.remedies.iter().filter(move |remedy| remedy.fixes.contains(&hidden));
        fixing.filter(move |remedy| self.offers(model, remedy, place) != Answer::No)
    }

    /// Whether a remedy is one at a place, by the facts given and by the signs it asks for; what nobody looked at counts
    /// as normal
    pub fn offers(&self, model: &Model, remedy: &Remedy, place: &Place) -> Answer {
        let so = |sign: &Sign| sign.grades.contains(&self.grade_at(model, sign.symptom, place));
        if !remedy.signs.iter().all(so) {
            return Answer::No;
        }
        self.machine.holds(model, &remedy.common.gate, place, &Supposed::new())
    }

    /// The grade that a symptom counts with at a place, or on its side or its machine; normal when nobody looked
    fn grade_at(&self, model: &Model, symptom: SymptomId, place: &Place) -> usize {
        let at = model[symptom].effect.common.extent.seen_from(place);
        let seen = self.observations.iter().find(|seen| seen.symptom == symptom && seen.place == at);
        seen.map_or(0, |seen| seen.grade)
    }

    /// An observation by its number, as steps name it
    pub fn observation(&self, number: usize) -> &Observation {
        self.observations.get(number).hold("observations are named by their numbers")
    }

    /// True when a symptom has been seen or read at a place
    pub fn is_seen(&self, symptom: SymptomId, place: &Place) -> bool {
        self.observations.iter().any(|seen| seen.symptom == symptom && seen.place == *place)
    }
}
