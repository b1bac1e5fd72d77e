//! Networks built as `ground` builds them, against enumeration: causes, a fact nobody told, conditions, symptoms
//!
//! The networks of `random_networks` take any node for a parent of any other. Here every grade of a symptom comes about
//! by paths of one parent each, some of which stand open in some states of the fact only, so that several paths of
//! several nodes hang on it: what the chains of accumulators are laid along.

use pinboss::infer::enumerate::enumerate;
use pinboss::infer::{Finding, Limits, compile, posteriors};
use pinboss::network::shape::Shape;
use pinboss::network::{Law, Network, NodeId, Path};
use proptest::prelude::*;

use crate::inference::against_enumeration::agree;
use crate::inference::random_networks::Numbers;

/// Most parents of a condition or symptom, the fact not counted
const MOST_PARENTS: usize = 4;

#[derive(Clone, Debug)]
struct Machine {
    network: Network,
    findings: Vec<Finding>,
}

fn machines() -> impl Strategy<Value = Machine> {
    (2..=4_usize, 1..=2_usize, 1..=2_usize, any::<u64>()).prop_map(|(causes, conditions, symptoms, seed)| {
        let mut numbers = Numbers(seed);
        let mut network = Network::new();
        let fact = root(&mut network, &mut numbers);
        let mut above: Vec<NodeId> = (0..causes).map(|_| root(&mut network, &mut numbers)).collect();
        let conditions: Vec<NodeId> =
            (0..conditions).map(|_| effect(&mut network, &above, fact, &mut numbers)).collect();
        above.extend(&conditions);
        let symptoms: Vec<NodeId> =
            (0..symptoms).map(|_| effect(&mut network, &above, fact, &mut numbers)).collect();
        let mut findings: Vec<Finding> =
            symptoms.iter().map(|&symptom| finding(&network, symptom, &mut numbers)).collect();
        findings.extend(conditions.first().map(|&condition| finding(&network, condition, &mut numbers)));
        Machine { network, findings }
    })
}

/// Node of two or three states without parents
fn root(network: &mut Network, numbers: &mut Numbers) -> NodeId {
    let states = 2 + numbers.below(2);
    let rows = numbers.distribution(states);
    network.add("root", states, Law::Table { parents: Vec::new(), rows }).expect("a distribution is sound")
}

/// Noisy-MAX node of any shape, with one path for each of some nodes above it and a leak
fn effect(network: &mut Network, above: &[NodeId], fact: NodeId, numbers: &mut Numbers) -> NodeId {
    let shape = match numbers.below(4) {
        0 | 1 => Shape::Ladder { grades: 2 + numbers.below(3) },
        2 => Shape::Alternatives { alternatives: 2 + numbers.below(2) },
        _ => Shape::Arms { low: 1, high: 1 + numbers.below(2) },
    };
    let mut parents: Vec<NodeId> = Vec::new();
    while parents.len() < MOST_PARENTS.min(above.len()) && (parents.is_empty() || numbers.below(4) > 0) {
        let parent =
            above.get(numbers.below(above.len())).copied().filter(|parent| !parents.contains(parent));
        parents.extend(parent);
    }
    let mut paths: Vec<Path> =
        parents.iter().map(|&parent| path(network, parent, fact, shape, numbers)).collect();
    paths.push(Path { parents: Vec::new(), rows: numbers.distribution(shape.states()) });
    network.add("effect", shape.states(), Law::Max { shape, paths }).expect("random paths are sound")
}

/// What a parent brings about; half of the paths hang on the fact and are shut in its first state
fn path(network: &Network, parent: NodeId, fact: NodeId, shape: Shape, numbers: &mut Numbers) -> Path {
    let normal: Vec<f64> = (0..shape.states()).map(|state| f64::from(u8::from(state == 0))).collect();
    let mut open = normal.clone();
    open.extend(numbers.rows(network.states(parent) - 1, shape.states()));
    if numbers.below(2) == 0 {
        return Path { parents: vec![parent], rows: open };
    }
    let mut rows = normal.repeat(network.states(parent));
    for _ in 1..network.states(fact) {
        rows.extend(&normal);
        rows.extend(numbers.rows(network.states(parent) - 1, shape.states()));
    }
    Path { parents: vec![fact, parent], rows }
}

/// A state for certain, or a likelihood for each state
fn finding(network: &Network, node: NodeId, numbers: &mut Numbers) -> Finding {
    let states = network.states(node);
    if numbers.below(2) == 0 {
        return Finding::state(network, node, numbers.below(states));
    }
    Finding { node, likelihood: (0..states).map(|_| 0.01 + numbers.unit()).collect() }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    /// Evidence and every node
    #[test]
    fn machines_equal_enumeration(machine in machines()) {
        let Machine { network, findings } = machine;
        let all: Vec<NodeId> = network.nodes().collect();
        let found = posteriors(&network, &findings, &all, &Limits::default()).expect("ten nodes are narrow");
        agree(&found, &enumerate(&network, &findings), all.into_iter())?;
    }

    /// Compiled twice and evaluated three times, each number is the same to the last bit
    #[test]
    fn every_run_gives_the_same_bits(machine in machines()) {
        let Machine { network, findings } = machine;
        let bits = || {
            let circuit = compile(&network, &findings, &[], &Limits::default()).expect("ten nodes are narrow");
            let evaluate = || {
                let beliefs = circuit.evaluate(&circuit.weights());
                let numbers = beliefs.marginals().flat_map(|(_, marginal)| marginal.iter().map(|p| p.to_bits()));
                (beliefs.log_evidence.to_bits(), numbers.collect::<Vec<u64>>())
            };
            (evaluate(), evaluate())
        };
        let (first, again) = bits();
        prop_assert_eq!(&first, &again);
        prop_assert_eq!(&first, &bits().0);
    }
}
