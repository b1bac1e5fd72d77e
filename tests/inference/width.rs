//! How wide circuits get, and that too wide a one is refused by name

use pinboss::infer::{Finding, Limits, TooWide, Width, compile, posteriors};
use pinboss::network::shape::Shape;
use pinboss::network::{Law, Network, NodeId, Path};
use rstest::rstest;

fn root(network: &mut Network) -> NodeId {
    network.add("root", 2, Law::Table { parents: Vec::new(), rows: vec![0.9, 0.1] }).unwrap()
}

/// Noisy-OR of any number of parents
fn effect(network: &mut Network, parents: &[NodeId]) -> NodeId {
    let path = |&parent: &NodeId| Path { parents: vec![parent], rows: vec![1.0, 0.0, 0.4, 0.6] };
    let leak = Path { parents: Vec::new(), rows: vec![0.99, 0.01] };
    let paths = parents.iter().map(path).chain([leak]).collect();
    network.add("effect", 2, Law::Max { shape: Shape::Ladder { grades: 2 }, paths }).unwrap()
}

/// Every pair of the causes has an effect of its own, and each is found in `state`
fn all_pairs(causes: usize, state: usize) -> (Network, Vec<Finding>) {
    let mut network = Network::new();
    let causes: Vec<NodeId> = (0..causes).map(|_| root(&mut network)).collect();
    let mut findings = Vec::new();
    for (place, &first) in causes.iter().enumerate() {
        for &second in causes.iter().skip(place + 1) {
            let node = effect(&mut network, &[first, second]);
            findings.push(Finding::state(&network, node, state));
        }
    }
    (network, findings)
}

#[test]
fn forty_causes_coupled_in_pairs_are_too_wide_and_said_to_be() {
    let (network, findings) = all_pairs(40, 1);
    let limits = Limits::default();
    let stop = compile(&network, &findings, &[], &limits).unwrap_err();
    assert_eq!((stop.width, stop.allowed), (Width::Table, 1 << 21));
    assert!(stop.entries > stop.allowed, "{stop}");
    assert_eq!(posteriors(&network, &findings, &[], &limits).unwrap_err(), stop);
}

/// The same effects at their normal state couple nothing at all
#[test]
fn normal_effects_couple_nothing() {
    let (network, findings) = all_pairs(40, 0);
    let circuit = compile(&network, &findings, &[], &Limits::default()).unwrap();
    assert_eq!(circuit.largest_table(), 2);
    let beliefs = circuit.evaluate(&circuit.weights());
    let odds_against = 0.9 / 0.1 / libm::pow(0.4, 39.0);
    let cause = network.at(0).unwrap();
    assert!((beliefs.probability(cause, 1).unwrap() * (1.0 + odds_against) - 1.0).abs() < 1e-12);
}

#[test]
fn the_sum_of_tables_is_bounded_too() {
    let (network, findings) = all_pairs(6, 1);
    let narrow = Limits { table: 1 << 20, total: 100 };
    let TooWide { width, allowed, .. } = compile(&network, &findings, &[], &narrow).unwrap_err();
    assert_eq!((width, allowed), (Width::Total, 100));
    let circuit = compile(&network, &findings, &[], &Limits::default()).unwrap();
    let just = Limits { table: circuit.largest_table(), total: circuit.total() };
    assert!(compile(&network, &findings, &[], &just).is_ok(), "the bounds are met exactly");
    let less = Limits { table: circuit.largest_table() - 1, ..just };
    assert_eq!(compile(&network, &findings, &[], &less).unwrap_err().width, Width::Table);
}

/// Graphs whose treewidth is known: a tree has 1, a ring 2, a square grid its side
#[rstest]
#[case::tree(&tree(31), 2)]
#[case::ring(&ring(24), 3)]
#[case::grid(&grid(4), 5)]
fn known_graphs_get_their_width(#[case] pairs: &[(usize, usize)], #[case] variables: u32) {
    let mut network = Network::new();
    let number = pairs.iter().map(|&(_, second)| second).max().unwrap() + 1;
    let nodes: Vec<NodeId> = (0..number).map(|_| root(&mut network)).collect();
    let mut findings = Vec::new();
    for &(first, second) in pairs {
        // A two-way table over a pair of roots, found in one state, is an edge and nothing else.
        let parents = vec![*nodes.get(first).unwrap(), *nodes.get(second).unwrap()];
        let path = Path { parents, rows: vec![0.9, 0.1, 0.2, 0.8, 0.3, 0.7, 0.6, 0.4] };
        let law = Law::Max { shape: Shape::Ladder { grades: 2 }, paths: vec![path] };
        let node = network.add("pair", 2, law).unwrap();
        findings.push(Finding::state(&network, node, 0));
    }
    let circuit = compile(&network, &findings, &[], &Limits::default()).unwrap();
    assert_eq!(circuit.largest_table(), 1 << variables);
}

fn tree(nodes: usize) -> Vec<(usize, usize)> {
    (1..nodes).map(|node| ((node - 1) / 2, node)).collect()
}

fn ring(nodes: usize) -> Vec<(usize, usize)> {
    (1..nodes).map(|node| (node - 1, node)).chain([(0, nodes - 1)]).collect()
}

fn grid(side: usize) -> Vec<(usize, usize)> {
    let cell = |row: usize, column: usize| row * side + column;
    let across =
        (0..side).flat_map(|row| (1..side).map(move |column| (cell(row, column - 1), cell(row, column))));
    let down =
        (1..side).flat_map(|row| (0..side).map(move |column| (cell(row - 1, column), cell(row, column))));
    across.chain(down).collect()
}

/// One effect of thirty causes: the full table would have 2^31 entries
#[test]
fn an_effect_of_thirty_causes_stays_narrow() {
    let mut network = Network::new();
    let causes: Vec<NodeId> = (0..30).map(|_| root(&mut network)).collect();
    let shown = effect(&mut network, &causes);
    let findings = [Finding::state(&network, shown, 1)];
    let circuit = compile(&network, &findings, &[], &Limits::default()).unwrap();
    assert!(circuit.largest_table() <= 8, "{}", circuit.largest_table());
    let beliefs = circuit.evaluate(&circuit.weights());
    let normal = 0.99 * libm::pow(1.0 - 0.1 * 0.6, 30.0);
    assert!((beliefs.log_evidence - libm::log(1.0 - normal)).abs() < 1e-12);
    for &cause in &causes {
        assert!(
            (beliefs.probability(cause, 1).unwrap() - (0.1 - normal * 0.04 / 0.94) / (1.0 - normal)).abs()
                < 1e-12
        );
    }
}

#[test]
fn what_the_findings_do_not_hang_on_is_left_out() {
    let mut network = Network::new();
    let cause = root(&mut network);
    let other = root(&mut network);
    let seen = effect(&mut network, &[cause]);
    let unseen = effect(&mut network, &[cause, other]);
    let findings = [Finding::state(&network, seen, 1)];
    let limits = Limits::default();
    let nodes = |keep: &[NodeId]| -> Vec<NodeId> {
        compile(&network, &findings, keep, &limits).unwrap().nodes().collect()
    };
    assert_eq!(nodes(&[]), [cause, seen]);
    assert_eq!(nodes(&[other]), [cause, other, seen]);
    assert_eq!(nodes(&[unseen]), [cause, other, seen, unseen]);
}

/// A bound on a leaf goes into its parents; kept, doubled, or above other findings it stays a variable
#[test]
fn bounds_on_leaves_are_factored_away() {
    let mut network = Network::new();
    let cause = root(&mut network);
    let seen = effect(&mut network, &[cause]);
    let normal = Finding::state(&network, seen, 0);
    let limits = Limits::default();
    let has =
        |findings: &[Finding], keep: &[NodeId]| compile(&network, findings, keep, &limits).unwrap().has(seen);
    assert!(!has(std::slice::from_ref(&normal), &[]));
    assert!(has(std::slice::from_ref(&normal), &[seen]));
    assert!(has(&[normal.clone(), normal], &[]));
    assert!(has(&[Finding::state(&network, seen, 1)], &[]));
    assert!(has(&[Finding { node: seen, likelihood: vec![1.0, 0.5] }], &[]));
}
