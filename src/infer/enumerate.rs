//! Posteriors by going through every state of the whole network, to hold the circuits against
//!
//! Nothing here is shared with the circuits: what both say alike is right for two reasons.

use crate::invariant::Hold;
use std::collections::BTreeMap;

use crate::infer::Finding;
use crate::infer::beliefs::Beliefs;
use crate::infer::number::Wide;
use crate::network::shape::Shape;
use crate::network::{self, Law, Network, NodeId, Path};

/// Posterior marginals of all nodes given all findings; the work grows with the product of all
/// nodes' numbers of states
pub fn enumerate(network: &Network, findings: &[Finding]) -> Beliefs {
    let mut walk = Walk {
        network,
        likelihoods: likelihoods(network, findings),
        states: Vec::new(),
        total: 0.0,
        sums: network.nodes().map(|node| vec![0.0; network.states(node)]).collect(),
    };
    walk.go(1.0);
    let total = walk.total;
    let mut marginals = BTreeMap::new();
    if total > 0.0 {
        for (node, sums) in network.nodes().zip(walk.sums) {
            marginals.insert(node, sums.into_iter().map(|sum| sum / total).collect());
        }
    }
    Beliefs::gathered(Wide::scaled(total, 0), marginals)
}

/// Product of the findings' likelihoods for each node
fn likelihoods(network: &Network, findings: &[Finding]) -> Vec<Vec<f64>> {
    let of = |node: NodeId| {
        let mut product = vec![1.0; network.states(node)];
        for finding in findings.iter().filter(|finding| finding.node == node) {
            let entries = finding.entries(product.len());
            product.iter_mut().zip(entries).for_each(|(entry, likelihood)| *entry *= likelihood);
        }
        product
    };
    network.nodes().map(of).collect()
}

struct Walk<'a> {
    network: &'a Network,
    likelihoods: Vec<Vec<f64>>,
    states: Vec<usize>,
    total: f64,
    sums: Vec<Vec<f64>>,
}

impl Walk<'_> {
    /// All states of the nodes from the next one on, weighted with what came before
    fn go(&mut self, weight: f64) {
        let Some(node) = self.network.at(self.states.len()) else {
            self.total += weight;
            for (sums, &state) in self.sums.iter_mut().zip(&self.states) {
                if let Some(sum) = sums.get_mut(state) {
                    *sum += weight;
                }
            }
            return;
        };
        for (state, chance) in distribution(self.network, node, &self.states).into_iter().enumerate() {
            let entries = self.likelihoods.get(node.index());
            let likelihood = entries.and_then(|entries| entries.get(state)).hold("each state has one");
            let weight = weight * chance * likelihood;
            if weight > 0.0 {
                self.states.push(state);
                self.go(weight);
                self.states.pop();
            }
        }
    }
}

/// P(node | states of the nodes before it)
fn distribution(network: &Network, node: NodeId, states: &[usize]) -> Vec<f64> {
    match network.law(node) {
        Law::Table { parents, rows } => row(network, parents, rows, network.states(node), states).to_vec(),
        Law::Max { shape, paths } => {
            let mut joined = vec![0.0; shape.states()];
            if let Some(normal) = joined.first_mut() {
                *normal = 1.0;
            }
            for Path { parents, rows } in paths {
                joined = join(*shape, &joined, row(network, parents, rows, shape.states(), states));
            }
            joined
        }
    }
}

fn row<'a>(
    network: &Network,
    parents: &[NodeId],
    rows: &'a [f64],
    size: usize,
    states: &[usize],
) -> &'a [f64] {
    let number = parents.iter().fold(0, |number, &parent| {
        number * network.states(parent) + states.get(parent.index()).hold(network::PARENTS_FIRST)
    });
    network::row(rows, size, number)
}

fn join(shape: Shape, a: &[f64], b: &[f64]) -> Vec<f64> {
    let mut joined = vec![0.0; a.len()];
    for (first, x) in a.iter().enumerate() {
        for (second, y) in b.iter().enumerate() {
            if let Some(entry) = joined.get_mut(shape.join(first, second)) {
                *entry += x * y;
            }
        }
    }
    joined
}
