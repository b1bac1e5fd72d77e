//! Which findings can bear on which hidden nodes: those that are not cut off by what nobody looked at.

use crate::ground::Ground;
use crate::network::NodeId;
use std::collections::BTreeSet;

/// Numbers of the observations that can move the belief in a node.
///
/// Nodes are tied when one is a parent of the other's condition, or both are parents of a finding that is not plainly
/// normal: a normal finding speaks against each of its parents by itself and ties none of them.
pub fn bearing_on(ground: &Ground, node: NodeId) -> Vec<usize> {
    bearing_on_any(ground, &[node])
}

/// The same for the belief that any of some nodes is present
pub fn bearing_on_any(ground: &Ground, nodes: &[NodeId]) -> Vec<usize> {
    let network = &ground.network;
    let seen: Vec<NodeId> = ground.observations.iter().map(|own| own.node).collect();
    let relevant: BTreeSet<NodeId> = network.ancestors(&seen).into_iter().collect();
    let mut ties: Vec<Vec<NodeId>> = Vec::new();
    for &hidden in relevant.iter().filter(|hidden| !seen.contains(hidden)) {
        let parents = network.parents(hidden).iter().copied();
        ties.push(parents.chain([hidden]).collect());
    }
    for own in &ground.observations {
        if !is_normal(&own.likelihood) {
            ties.push(network.parents(own.node).to_vec());
        }
    }
    let mut tied: BTreeSet<NodeId> = nodes.iter().copied().collect();
    loop {
        let before = tied.len();
        for tie in &ties {
            if tie.iter().any(|one| tied.contains(one)) {
                tied.extend(tie.iter().copied());
            }
        }
        if tied.len() == before {
            break;
        }
    }
    (0..ground.observations.len())
        .filter(|&number| {
            let own = ground.observations.get(number);
            own.is_some_and(|own| network.parents(own.node).iter().any(|parent| tied.contains(parent)))
        })
        .collect()
}

fn is_normal(likelihood: &[f64]) -> bool {
    likelihood.iter().skip(1).all(|weight| *weight == 0.0)
}
