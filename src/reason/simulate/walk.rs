//! The walk round a machine drawn: what is so on it, which checks are done, and what they show.

use super::Drawn;
use crate::ground::{self, Ground, Origin};
use crate::infer::draw::Dice;
use crate::infer::forward::forward;
use crate::invariant::Hold;
use crate::machine::{Answer, Supposed};
use crate::model::{CheckId, Extent, Model, StateId, SymptomId};
use crate::network::NodeId;
use crate::place::{Place, Side, within};
use std::collections::{BTreeMap, BTreeSet};

/// How often a machine that shows something is looked at because of it
const COMPLAINED_OF: f64 = 0.8;
/// Least and most share of the checks that a walk takes in; the share itself is drawn for each machine
const THOROUGH: (f64, f64) = (0.15, 0.9);
/// How many times as seldom a check is done that asks for a state of the machine
const STATE_WANTED: f64 = 0.5;
/// How often a check of both sides is done on one of them only
const ONE_SIDE: f64 = 0.1;

/// A symptom at one of its places, with the state drawn for it
type Shown = (SymptomId, Place, NodeId, usize);

/// A check that can be done, of the whole machine or of all of a side, with what it shows
struct Look {
    check: CheckId,
    place: Place,
    shows: Vec<Shown>,
}

impl Look {
    fn is_abnormal(&self) -> bool {
        self.shows.iter().any(|(.., state)| *state > 0)
    }
}

/// Why a node has a state
const DRAWN: &str = "every node is drawn";

/// Draws what is so on the machine, and the visit
pub(super) fn walk(model: &Model, drawn: Drawn, dice: &mut Dice) -> Drawn {
    let ground = ground::empty(model, drawn.machine.clone());
    let states = forward(&ground.network, dice, |_, _| true).hold("any state is taken");
    let looks = looks(model, &ground, &states);
    let done = done(model, &looks, dice);
    let done: Vec<&Look> = done.iter().filter_map(|&number| looks.get(number)).collect();
    let found = found(model, &done, dice);
    let signs: Vec<NodeId> =
        done.iter().flat_map(|look| &look.shows).filter(|own| own.3 > 0).map(|own| own.2).collect();
    let suspects: BTreeSet<NodeId> = ground.network.ancestors(&signs).into_iter().collect();
    let state = |node: NodeId| *states.get(node.index()).hold(DRAWN);
    let causes = || ground.causes().map(|(id, place, node)| (id, place.clone(), node, state(node)));
    let present: Vec<_> =
        causes().filter(|own| own.3 > 0).map(|(id, place, _, form)| (id, place, form)).collect();
    let absent = causes().filter(|own| own.3 == 0 && !present.is_empty() && suspects.contains(&own.2));
    Drawn {
        states: wanted_states(model, &done),
        looked: done.iter().map(|look| (look.check, look.place.clone())).collect(),
        absent: absent.map(|(id, place, ..)| (id, place)).collect(),
        shows: shows(&ground, &states),
        found,
        present,
        ..drawn
    }
}

/// State of every symptom that is not normal
fn shows(ground: &Ground, states: &[usize]) -> BTreeMap<(SymptomId, Place), usize> {
    let own = ground.origins.iter().zip(states).filter(|(_, state)| **state > 0);
    own.filter_map(|(origin, &state)| match origin {
        Origin::Symptom(id, place) => Some(((*id, place.clone()), state)),
        _ => None,
    })
    .collect()
}

/// Every check that can be done on the machine, in the order of the rules and places
fn looks(model: &Model, ground: &Ground, states: &[usize]) -> Vec<Look> {
    let mut symptoms: BTreeMap<SymptomId, Vec<(&Place, NodeId)>> = BTreeMap::new();
    for node in ground.network.nodes() {
        if let Some(Origin::Symptom(id, place)) = ground.origin(node) {
            symptoms.entry(*id).or_default().push((place, node));
        }
    }
    let mut looks = Vec::new();
    for (number, check) in model.checks.iter().enumerate() {
        let own: Vec<Place> = ground
            .machine
            .places(model, check.common.extent)
            .into_iter()
            .filter(|place| {
                ground.machine.holds(model, &check.common.gate, place, &Supposed::new()) == Answer::Yes
            })
            .collect();
        let at = match check.common.extent {
            Extent::Machine => vec![Place::Machine],
            Extent::Side | Extent::Each(_) => Side::BOTH.map(Place::Side).to_vec(),
        };
        for place in at {
            let own: Vec<&Place> = own.iter().filter(|own| within(own, &place)).collect();
            if own.is_empty() {
                continue;
            }
            let there = check.shows.iter().filter(|id| !model.by_hours(**id)).flat_map(|id| {
                symptoms.get(id).into_iter().flatten().map(move |(place, node)| (*id, *place, *node))
            });
            let shows = there
                .filter(|(_, symptom, _)| own.iter().any(|own| within(symptom, own)))
                .map(|(id, place, node)| (id, place.clone(), node, *states.get(node.index()).hold(DRAWN)))
                .collect();
            looks.push(Look { check: CheckId(number), place, shows });
        }
    }
    looks
}

/// Numbers of the checks done: what is complained of, then a share of all others
fn done(model: &Model, looks: &[Look], dice: &mut Dice) -> BTreeSet<usize> {
    let mut done = BTreeSet::new();
    let telling: Vec<usize> =
        looks.iter().enumerate().filter(|(_, look)| look.is_abnormal()).map(|(number, _)| number).collect();
    if dice.comes(COMPLAINED_OF) {
        done.extend(telling.get(dice.below(telling.len())));
    }
    let share = THOROUGH.0 + (THOROUGH.1 - THOROUGH.0) * dice.unit();
    let mut before: Option<(CheckId, bool)> = None;
    for (number, look) in looks.iter().enumerate() {
        let rarer = if model[look.check].needs_state.is_some() { STATE_WANTED } else { 1.0 };
        let whole = match before {
            Some((check, whole)) if check == look.check => whole,
            _ => dice.comes(share * rarer),
        };
        before = Some((look.check, whole));
        if whole && !(look.place != Place::Machine && dice.comes(ONE_SIDE)) {
            done.insert(number);
        }
    }
    done
}

/// What is noted, in the order of the rules and places
fn found(model: &Model, done: &[&Look], dice: &mut Dice) -> Vec<(SymptomId, Place, usize)> {
    let mut found: BTreeMap<(SymptomId, Place), usize> = BTreeMap::new();
    for look in done {
        for (id, place, _, state) in &look.shows {
            let key = (*id, place.clone());
            if let Some(grade) = noted(model, look.check, *id, *state, dice) {
                found.entry(key).or_insert(grade);
            }
        }
    }
    found.into_iter().map(|((id, place), grade)| (id, place, grade)).collect()
}

/// The grade noted of a symptom in a state, drawn where it shows one on each arm; none where the check says by itself that
/// what is not noted is normal
pub fn noted(
    model: &Model,
    check: CheckId,
    symptom: SymptomId,
    state: usize,
    dice: &mut Dice,
) -> Option<usize> {
    if state == 0 {
        return (!model.by_eye(check, symptom)).then_some(0);
    }
    let grades = &model[symptom].effect.grades;
    let showing: Vec<usize> = (1..grades.names.len()).filter(|grade| grades.shows(*grade, state)).collect();
    Some(showing.get(dice.below(showing.len())).copied().unwrap_or(0)) // else: it shows in no grade alone
}

/// The states that checks done ask for and none of them brings about
fn wanted_states(model: &Model, done: &[&Look]) -> Vec<StateId> {
    let made: BTreeSet<StateId> = done.iter().filter_map(|look| model[look.check].makes).collect();
    let wanted: BTreeSet<StateId> = done.iter().filter_map(|look| model[look.check].needs_state).collect();
    wanted.difference(&made).copied().collect()
}
