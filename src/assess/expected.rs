//! What honest hours on such ground let expect, and what goes past it.

use super::{Damage, NOBODY};
use crate::ground::Ground;
use crate::infer::Finding;
use crate::infer::pattern::Ask;
use crate::model::subject::{Subject, as_measure};
use crate::model::{MeasureId, Model};
use crate::network::open::open_ancestors;
use crate::network::shape::Shape;
use crate::network::{Law, NodeId};
use crate::reason::Weighing;
use crate::wear::estimate::Evaluator;
use crate::wear::history::hours_of_wear;
use crate::wear::{self, normal};
use serde::Serialize;

/// How worn a part is, and how worn its hours let expect
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Worn {
    /// The measure read
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words, and where
    #[serde(flatten, serialize_with = "as_measure")]
    pub named: Subject,
    /// Per cent worn
    pub percent: f64,
    /// Per cent that its hours are of its life on such ground
    pub expected: f64,
    /// Hours it has run, since the turn where that made it anew
    pub hours: f64,
    /// How far it goes past what is expected, in standard deviations of the difference: the reading's error, and the spread
    /// of life between machines; under 0 when it is less worn
    pub excess: f64,
    /// Probability that fair wear alone goes so far past what is usual, or so far short of it: the one tail of the normal
    /// law
    pub by_chance: f64,
}

/// Every part that was read, has a life and known hours, in the order of measures and places
pub fn worn(model: &Model, ground: &Ground) -> Vec<Worn> {
    let evaluator = Evaluator { model, machine: &ground.machine, readings: &ground.readings };
    let spread =
        ground.machine.size.as_ref().and_then(|size| model.sizes.get(size)).map_or(0.0, |size| size.spread);
    let against = |worn: wear::Worn| {
        let hours = hours_of_wear(&evaluator, worn.measure, &worn.place)?;
        let expected = 100.0 * hours / evaluator.life(worn.measure, &worn.place).ok()?;
        let sigma = libm::sqrt(worn.sigma * worn.sigma + spread * spread * expected * expected);
        let excess = (worn.percent - expected) / sigma.max(f64::MIN_POSITIVE);
        Some(Worn {
            measure: worn.measure,
            named: model.subject(worn.measure, &worn.place),
            percent: worn.percent,
            expected,
            hours,
            excess,
            by_chance: normal::between(excess.abs(), f64::INFINITY),
        })
    };
    wear::worn(model, &ground.machine, &ground.readings).into_iter().filter_map(against).collect()
}

/// How often a sign shows where nobody did anything wrong
#[derive(Clone, Debug, PartialEq)]
pub struct Usual {
    /// The symptom or condition
    pub node: NodeId,
    /// The grade, by its number
    pub grade: usize,
    /// Number of the observation, where there is one
    pub observation: Option<usize>,
    /// It is the damage in question
    pub in_question: bool,
    /// There is a worse grade than this
    pub or_worse: bool,
    /// Probability of this grade or worse, given the facts and hours and that no cause is present that counts against
    /// anybody
    pub chance: f64,
}

/// For the damage in question, and for every sign that one of `causes` can bring about: how usual it is where nothing that
/// counts against anybody is present, the rarest first after the damage itself
pub fn usual(weighing: &Weighing, damage: &[Damage], causes: &[NodeId]) -> Vec<Usual> {
    let (model, ground) = (weighing.model(), weighing.ground());
    let counted: Vec<NodeId> = ground
        .causes()
        .filter(|(id, _, _)| model[model[*id].kind].against != NOBODY)
        .map(|(_, _, node)| node)
        .collect();
    let absent: Vec<Finding> = counted.iter().map(|node| Finding::state(&ground.network, *node, 0)).collect();
    let mut all = Vec::new();
    for own in damage {
        let seen = own.observation.and_then(|number| ground.observations.get(number));
        if let Some(grade) = own.grade.or(seen.map(|seen| seen.grade)).filter(|grade| *grade != 0)
            && let Some(rarity) = at_least(weighing, own.node, grade, &absent)
        {
            all.push(Usual { observation: own.observation, in_question: true, ..rarity });
        }
    }
    let mut others: Vec<Usual> = Vec::new();
    for (number, own) in ground.observations.iter().enumerate() {
        let asked = damage.iter().any(|damage| damage.node == own.node);
        let above = || open_ancestors(&ground.network, &[own.node]);
        if own.grade != 0
            && !asked
            && above().iter().any(|node| causes.contains(node))
            && let Some(rarity) = at_least(weighing, own.node, own.grade, &absent)
        {
            others.push(Usual { observation: Some(number), ..rarity });
        }
    }
    others.sort_by(|a, b| a.chance.total_cmp(&b.chance));
    all.extend(others);
    all
}

/// How usual a grade or worse is with some causes absent and nothing found
fn at_least(weighing: &Weighing, node: NodeId, grade: usize, absent: &[Finding]) -> Option<Usual> {
    let (model, ground) = (weighing.model(), weighing.ground());
    let grades = &ground.origin(node)?.as_effect()?.effect(model).grades;
    let shape = match ground.network.law(node) {
        Law::Max { shape, .. } => *shape,
        Law::Table { .. } => Shape::Ladder { grades: ground.network.states(node) },
    };
    let least = grades.state(grade);
    let above = ground.network.ancestors(&[node]);
    let absent: Vec<Finding> =
        absent.iter().filter(|finding| above.contains(&finding.node)).cloned().collect();
    let ask = Ask { keep: vec![node], bound: Vec::new() };
    let circuit = weighing.engine().circuit(&absent, &ask, &weighing.settings().limits).ok()?;
    let beliefs = circuit.evaluate(&circuit.weights());
    let worse = beliefs.marginal(node)?.iter().enumerate();
    let chance = worse.filter(|(state, _)| shape.at_or_below(least, *state)).map(|(_, chance)| chance).sum();
    let (low, high) = grades.arms();
    let or_worse = grade != low && grade != low + high;
    Some(Usual { node, grade, observation: None, in_question: false, or_worse, chance })
}
