//! Small random networks with findings, small enough to go through all their states

use pinboss::infer::Finding;
use pinboss::network::shape::Shape;
use pinboss::network::{Law, Network, NodeId, Path};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;

/// A network, findings on it, nodes to keep and findings to leave out
#[derive(Clone, Debug)]
pub struct Case {
    pub network: Network,
    pub findings: Vec<Finding>,
    pub keep: Vec<NodeId>,
    pub on: Vec<bool>,
}

impl Case {
    /// The findings that are switched on
    pub fn findings_on(&self) -> Vec<Finding> {
        let on = self.findings.iter().zip(&self.on).filter(|&(_, &on)| on);
        on.map(|(finding, _)| finding.clone()).collect()
    }
}

/// Up to six nodes: tables of two to four states and noisy-MAX nodes of all shapes with up to four
/// paths of up to three parents; up to five findings, hard, bounding or soft, on any of them
pub fn cases() -> impl Strategy<Value = Case> {
    let node = (0..8_usize, vec(vec(any::<Index>(), 0..=3), 0..=4), any::<u64>());
    let finding = (any::<Index>(), 0..4_usize, any::<u64>());
    let keep = vec(any::<Index>(), 0..=2);
    (vec(node, 1..=6), vec(finding, 0..=5), keep, vec(any::<bool>(), 5)).prop_map(
        |(nodes, seen, keep, on)| {
            let mut network = Network::new();
            for (number, (kind, paths, seed)) in nodes.into_iter().enumerate() {
                let (states, law) = law(&network, kind, &paths, &mut Numbers(seed));
                network.add(format!("node {number}"), states, law).expect("a random law is sound");
            }
            let pick = |index: Index| network.at(index.index(network.len())).expect("in range");
            let findings = seen
                .into_iter()
                .map(|(node, kind, seed)| finding_on(&network, pick(node), kind, &mut Numbers(seed)))
                .collect();
            let keep = keep.into_iter().map(pick).collect();
            Case { findings, keep, on, network }
        },
    )
}

/// Deterministic stream of numbers out of one seed (the SplitMix64 steps of Steele, Lea and Flood
/// 2014, from memory; any stream would do)
pub struct Numbers(pub u64);

impl Numbers {
    pub fn below(&mut self, bound: usize) -> usize {
        (self.next() % bound as u64) as usize
    }

    pub fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// Distribution with some noughts in it
    pub fn distribution(&mut self, states: usize) -> Vec<f64> {
        let mut weights: Vec<f64> =
            (0..states).map(|_| if self.below(4) == 0 { 0.0 } else { self.unit() }).collect();
        if weights.iter().sum::<f64>() <= 0.0 {
            weights[0] = 1.0;
        }
        let sum: f64 = weights.iter().sum();
        weights.into_iter().map(|weight| weight / sum).collect()
    }

    pub fn rows(&mut self, rows: usize, states: usize) -> Vec<f64> {
        (0..rows).flat_map(|_| self.distribution(states)).collect()
    }
}

fn law(network: &Network, kind: usize, paths: &[Vec<Index>], numbers: &mut Numbers) -> (usize, Law) {
    let shape = match kind {
        0..=2 => {
            let states = 2 + numbers.below(3);
            let parents = parents(network, paths.first().map_or(&[], Vec::as_slice));
            let rows = numbers.rows(configurations(network, &parents), states);
            return (states, Law::Table { parents, rows });
        }
        3 | 4 => Shape::Ladder { grades: 2 + numbers.below(3) },
        5 => Shape::Alternatives { alternatives: 2 },
        6 => Shape::Arms { low: 1, high: 1 },
        _ => Shape::Arms { low: 1, high: 2 },
    };
    let states = shape.states();
    let path = |picks: &Vec<Index>| {
        let parents = parents(network, picks);
        let rows = numbers.rows(configurations(network, &parents), states);
        Path { parents, rows }
    };
    (states, Law::Max { shape, paths: paths.iter().map(path).collect() })
}

fn parents(network: &Network, picks: &[Index]) -> Vec<NodeId> {
    let mut parents: Vec<NodeId> = Vec::new();
    for pick in picks {
        if let Some(parent) = network.len().checked_sub(1).and_then(|_| network.at(pick.index(network.len())))
            && !parents.contains(&parent)
        {
            parents.push(parent);
        }
    }
    parents
}

fn configurations(network: &Network, parents: &[NodeId]) -> usize {
    parents.iter().map(|&parent| network.states(parent)).product()
}

/// Kinds: 0 a state for certain, 1 at or below a state, 2 soft, 3 soft with noughts, off scale
fn finding_on(network: &Network, node: NodeId, kind: usize, numbers: &mut Numbers) -> Finding {
    let states = network.states(node);
    let state = numbers.below(states);
    let likelihood = match (kind, network.law(node)) {
        (1, Law::Max { shape, .. }) => {
            let level = 0.1 + numbers.unit();
            (0..states).map(|other| if shape.at_or_below(other, state) { level } else { 0.0 }).collect()
        }
        (2, _) => (0..states).map(|_| 0.01 + numbers.unit()).collect(),
        (3, _) => {
            (0..states).map(|_| if numbers.below(2) == 0 { 0.0 } else { 50.0 * numbers.unit() }).collect()
        }
        _ => (0..states).map(|other| f64::from(u8::from(other == state))).collect(),
    };
    Finding { node, likelihood }
}
