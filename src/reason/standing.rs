//! How a block of the rules stands before anything is seen: how often it shows, for what reasons, and what it brings with it.

use super::Weighing;
use super::ranks::by_name;
use crate::ground::{Ground, Origin};
use crate::infer::{self, Finding, Limits, TooWide};
use crate::invariant::Hold;
use crate::model::grades::Grades;
use crate::model::{CauseId, FactId, Hidden, SymptomId};
use crate::network::shape::Shape;
use crate::network::{Law, Network, NodeId, Path};
use crate::place::Place;
use crate::reason::evidence::ASKED;
use std::collections::{BTreeMap, BTreeSet};

/// A block that is a node of the network
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Block {
    /// A fact; it has nodes only as long as it is not given
    Fact(FactId),
    /// A cause or condition
    Hidden(Hidden),
    /// A symptom
    Symptom(SymptomId),
}

/// How a block stands on one machine
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Share of its places in each named grade, form or choice, normal or absent first; on two arms both may be so at once.
    /// Empty when it has no place on this machine.
    pub shares: Vec<f64>,
    /// Share of machines on which any of its places is not normal or absent; none for facts
    pub anywhere: Option<f64>,
    /// For each grade of a condition or symptom that can be, what is behind it
    pub reasons: Vec<Reasons>,
    /// For a cause or condition, the symptoms below it, the one it changes most first
    pub leads_to: Vec<Showing>,
}

/// What is behind a grade, over all places that have it
#[derive(Clone, Debug, PartialEq)]
pub struct Reasons {
    /// Number among the named grades
    pub grade: usize,
    /// Probability that each cause is there, at any place from which it can bring the block about, given the grade;
    /// likeliest first
    pub causes: Vec<(CauseId, f64)>,
    /// Probability that none of them is there, given the grade
    pub none: f64,
}

/// How often a symptom shows in any grade but the normal one, over its places that hang on a cause or condition
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Showing {
    /// The symptom
    pub symptom: SymptomId,
    /// Share given that the cause or condition is there
    pub with: f64,
    /// Share given that it is not
    pub without: f64,
}

/// How a block stands on a machine of which the network knows nothing but its facts
///
/// # Errors
/// [`TooWide`] when a question couples too much for an exact answer.
pub fn standing(weighing: &Weighing, block: Block) -> Result<Standing, TooWide> {
    let (model, ground, limits) = (weighing.model(), weighing.ground(), &weighing.settings().limits);
    let nodes = nodes(ground, block);
    let own = match block {
        Block::Hidden(Hidden::Condition(id)) => Some(&model[id].grades),
        Block::Symptom(id) => Some(&model[id].effect.grades),
        Block::Fact(_) | Block::Hidden(Hidden::Cause(_)) => None,
    };
    let reasons = match own {
        Some(grades) => reasons(ground, limits, grades, &nodes)?,
        None => Vec::new(),
    };
    let leads_to = match block {
        Block::Hidden(_) => leads_to(weighing, &nodes)?,
        Block::Fact(_) | Block::Symptom(_) => Vec::new(),
    };
    let anywhere = match block {
        Block::Fact(_) => None,
        Block::Hidden(_) | Block::Symptom(_) => Some(anywhere(ground, limits, &nodes)?),
    };
    Ok(Standing { shares: shares(weighing, &nodes)?, anywhere, reasons, leads_to })
}

fn nodes(ground: &Ground, block: Block) -> Vec<NodeId> {
    let is = |origin: &Origin| match (block, origin) {
        (Block::Fact(id), Origin::Fact(own, _)) => id == *own,
        (Block::Hidden(Hidden::Cause(id)), Origin::Cause(own, _)) => id == *own,
        (Block::Hidden(Hidden::Condition(id)), Origin::Condition(own, _)) => id == *own,
        (Block::Symptom(id), Origin::Symptom(own, _)) => id == *own,
        _ => false,
    };
    ground.network.nodes().filter(|node| ground.origin(*node).is_some_and(is)).collect()
}

/// Mean over the places of the share of each named grade, form or choice
fn shares(weighing: &Weighing, nodes: &[NodeId]) -> Result<Vec<f64>, TooWide> {
    let beliefs = weighing.engine().posteriors(&[], nodes, &weighing.settings().limits)?;
    let mut sums: Vec<f64> = Vec::new();
    for &node in nodes {
        let states = beliefs.marginal(node).hold(ASKED);
        let Some(origin) = weighing.ground().origin(node) else { continue };
        let own = by_name(weighing.model(), origin, states);
        sums.resize(own.len().max(sums.len()), 0.0);
        sums.iter_mut().zip(own).for_each(|(sum, share)| *sum += share);
    }
    let places = count(nodes.len());
    Ok(sums.into_iter().map(|sum| sum / places).collect())
}

/// Probability that any of the nodes is out of its first state
fn anywhere(ground: &Ground, limits: &Limits, nodes: &[NodeId]) -> Result<f64, TooWide> {
    let mut network = Network::clone(&ground.network);
    let Some(any) = any(&mut network, nodes) else { return Ok(0.0) };
    let beliefs = infer::posteriors(&network, &[], &[any], limits)?;
    Ok(beliefs.probability(any, 1).hold(ASKED))
}

/// A node that says for certain whether any of some nodes is out of its first state; none for no nodes
fn any(network: &mut Network, nodes: &[NodeId]) -> Option<NodeId> {
    let path = |&node: &NodeId| {
        let states = network.states(node);
        let rows = (0..states).flat_map(|state| if state == 0 { [1.0, 0.0] } else { [0.0, 1.0] });
        Path { parents: vec![node], rows: rows.collect() }
    };
    let paths: Vec<Path> = nodes.iter().map(path).collect();
    if paths.is_empty() {
        return None;
    }
    network.add("any", 2, Law::Max { shape: Shape::Ladder { grades: 2 }, paths }).ok()
}

/// What is behind each grade but the normal one: P(cause, grade) over P(grade), both added up over the places
fn reasons(
    ground: &Ground,
    limits: &Limits,
    grades: &Grades,
    nodes: &[NodeId],
) -> Result<Vec<Reasons>, TooWide> {
    let mut sums: Vec<Sum> = vec![Sum::default(); grades.names.len().saturating_sub(1)];
    for &node in nodes {
        let behind = Behind::of(ground, node);
        for (grade, sum) in (1..).zip(&mut sums) {
            let shows = |state| f64::from(u8::from(grades.shows(grade, state)));
            let likelihood = (0..grades.states()).map(shows).collect();
            behind.weigh(Finding { node, likelihood }, limits, sum)?;
        }
    }
    let in_shares = |(grade, sum): (usize, Sum)| {
        let over = |share: f64| share / sum.weight;
        let mut causes: Vec<(CauseId, f64)> =
            sum.causes.iter().map(|(id, share)| (*id, over(*share))).collect();
        causes.sort_by(|a, b| b.1.total_cmp(&a.1));
        Reasons { grade, causes, none: over(sum.none) }
    };
    Ok((1..).zip(sums).filter(|(_, sum)| sum.weight > 0.0).map(in_shares).collect())
}

/// P(grade) added up over places, with P(cause, grade) for each cause and for no cause at all
#[derive(Clone, Default)]
struct Sum {
    weight: f64,
    causes: BTreeMap<CauseId, f64>,
    none: f64,
}

/// The causes a node hangs on, each as one node that says whether it is there at any of its places
struct Behind {
    network: Network,
    causes: Vec<(CauseId, NodeId)>,
    any: Option<NodeId>,
}

impl Behind {
    fn of(ground: &Ground, node: NodeId) -> Self {
        let mut network = Network::clone(&ground.network);
        let mut places: BTreeMap<CauseId, Vec<NodeId>> = BTreeMap::new();
        let above = ground.network.ancestors(&[node]);
        for &above in above.iter().filter(|above| **above != node) {
            if let Some(Origin::Cause(id, _)) = ground.origin(above) {
                places.entry(*id).or_default().push(above);
            }
        }
        let all: Vec<NodeId> = places.values().flatten().copied().collect();
        let mut causes = Vec::new();
        for (id, nodes) in places {
            let one = match nodes.as_slice() {
                [one] => Some(*one),
                several => any(&mut network, several),
            };
            causes.extend(one.map(|one| (id, one)));
        }
        let any = any(&mut network, &all);
        Behind { network, causes, any }
    }

    /// Adds what a grade at this place says
    fn weigh(&self, finding: Finding, limits: &Limits, sum: &mut Sum) -> Result<(), TooWide> {
        let findings = [finding];
        let keep: Vec<NodeId> = self.causes.iter().map(|(_, node)| *node).chain(self.any).collect();
        let beliefs = infer::posteriors(&self.network, &findings, &keep, limits)?;
        if beliefs.is_impossible() {
            return Ok(());
        }
        let weight = libm::exp(beliefs.log_evidence);
        let absent = |node: NodeId| beliefs.probability(node, 0).hold(ASKED);
        sum.weight += weight;
        sum.none += weight * self.any.map_or(1.0, absent);
        for &(id, node) in &self.causes {
            *sum.causes.entry(id).or_insert(0.0) += weight * (1.0 - absent(node));
        }
        Ok(())
    }
}

/// The symptoms below a cause or condition, with it there and with it not, at the middle one of its places on the left
fn leads_to(weighing: &Weighing, nodes: &[NodeId]) -> Result<Vec<Showing>, TooWide> {
    let (ground, engine, limits) = (weighing.ground(), weighing.engine(), &weighing.settings().limits);
    let left = nodes.iter().filter(|node| !is_on_the_right(ground, **node)).collect::<Vec<_>>();
    let Some(&&node) = left.get(left.len() / 2) else { return Ok(Vec::new()) };
    let states = ground.network.states(node);
    let there: Vec<f64> = (0..states).map(|state| f64::from(u8::from(state > 0))).collect();
    let symptoms = symptoms_below(ground, node);
    let wanted: Vec<NodeId> = symptoms.values().flatten().copied().collect();
    let given = |likelihood: Vec<f64>| engine.posteriors(&[Finding { node, likelihood }], &wanted, limits);
    let (with, without) = (given(there)?, given(vec![1.0])?);
    let mut list: Vec<Showing> = symptoms
        .iter()
        .map(|(&symptom, nodes)| {
            let mean = |beliefs: &infer::beliefs::Beliefs| {
                // else: it can never be there, and so nothing shows because of it
                let shown = |node: &NodeId| 1.0 - beliefs.probability(*node, 0).unwrap_or(1.0);
                nodes.iter().map(shown).sum::<f64>() / count(nodes.len())
            };
            Showing { symptom, with: mean(&with), without: mean(&without) }
        })
        .collect();
    list.sort_by(|a, b| (b.with - b.without).total_cmp(&(a.with - a.without)));
    Ok(list)
}

fn is_on_the_right(ground: &Ground, node: NodeId) -> bool {
    let place = ground.origin(node).map_or(Place::Machine, Origin::place);
    place.side() == Some(crate::place::Side::Right)
}

fn symptoms_below(ground: &Ground, node: NodeId) -> BTreeMap<SymptomId, Vec<NodeId>> {
    let mut below: BTreeSet<NodeId> = BTreeSet::new();
    let mut open = vec![node];
    while let Some(next) = open.pop() {
        open.extend(ground.network.children(next).into_iter().filter(|child| below.insert(*child)));
    }
    let mut symptoms: BTreeMap<SymptomId, Vec<NodeId>> = BTreeMap::new();
    for node in below {
        if let Some(Origin::Symptom(id, _)) = ground.origin(node) {
            symptoms.entry(*id).or_default().push(node);
        }
    }
    symptoms
}

fn count(places: usize) -> f64 {
    places.max(1) as f64
}
