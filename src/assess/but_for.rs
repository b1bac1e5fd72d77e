//! But for: the chance that damage would have been less without some causes, by a twin network.

use super::Damage;
use crate::ground::Ground;
use crate::infer::{self, Finding, Limits};
use crate::model::Model;
use crate::network::shape::Shape;
use crate::network::twin::{Twin, twin};
use crate::network::{Law, Network, NodeId};
use crate::reason::evidence::findings;

/// What would have been without some causes, by probabilities given all findings; where the damage was not looked at, given
/// besides that it is there
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ButFor {
    /// That the damage is there and would have been less, or not there at all
    pub lower: f64,
    /// That it would have been of another sort, neither less nor more
    pub other: f64,
}

/// The chance, given all that was found, that a damage would have been less had none of some causes been present.
///
/// Damage that was not looked at is taken to be there, at the grade named or at any. None where the findings are too
/// entangled. See [`twin`] for what is shared by the two worlds and what is assumed.
pub fn but_for(
    model: &Model,
    ground: &Ground,
    damage: &Damage,
    causes: &[NodeId],
    limits: &Limits,
) -> Option<ButFor> {
    let mut found = findings(ground);
    if damage.observation.is_none() {
        found.push(there(model, ground, damage)?);
    }
    lower(&ground.network, damage.node, causes, &found, limits)
}

/// As if damage that nobody looked at had been found
fn there(model: &Model, ground: &Ground, damage: &Damage) -> Option<Finding> {
    let grades = &ground.origin(damage.node)?.as_effect()?.effect(model).grades;
    let shows = |state: usize| match damage.grade {
        Some(grade) => grades.shows(grade, state),
        None => state != 0,
    };
    let likelihood = (0..grades.states()).map(|state| f64::from(u8::from(shows(state)))).collect();
    Some(Finding { node: damage.node, likelihood })
}

/// The same on any network: whether a node would have been less had some nodes been in their state 0
pub fn lower(
    network: &Network,
    of: NodeId,
    normal: &[NodeId],
    found: &[Finding],
    limits: &Limits,
) -> Option<ButFor> {
    let twin = twin(network, of, normal)?;
    let found: Vec<Finding> = found.iter().map(|finding| in_twin(&twin, finding)).collect::<Option<_>>()?;
    let node = twin.node(of)?;
    let circuit = infer::compile(&twin.network, &found, &[node], limits).ok()?;
    let beliefs = circuit.evaluate(&circuit.weights());
    let shape = match network.law(of) {
        Law::Max { shape, .. } => *shape,
        Law::Table { .. } => Shape::Ladder { grades: network.states(of) },
    };
    let mut but_for = ButFor { lower: 0.0, other: 0.0 };
    for (&(is, would), chance) in twin.pairs(of).iter().zip(beliefs.marginal(node)?) {
        if would != is && shape.at_or_below(would, is) {
            but_for.lower += chance;
        } else if would != is && !shape.at_or_below(is, would) {
            but_for.other += chance;
        }
    }
    Some(but_for)
}

/// A finding on what is, whatever would have been
fn in_twin(twin: &Twin, finding: &Finding) -> Option<Finding> {
    // else: entries left out are nought
    let weight = |&(is, _): &(usize, usize)| finding.likelihood.get(is).copied().unwrap_or(0.0);
    let likelihood = twin.pairs(finding.node).iter().map(weight).collect();
    Some(Finding { node: twin.node(finding.node)?, likelihood })
}
