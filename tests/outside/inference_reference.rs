//! Generated networks of the size of a small machine, worked out with general-purpose libraries
//!
//! The networks and the cases were generated for this project. Posteriors and the natural logarithm of
//! the evidence's probability come from pyagrum 3.3.1 and were confirmed with pgmpy 1.1.2 to 1e-14; the
//! file keeps 12 or 13 digits of them, so 1e-9 is asked here. State 0 is normal. The leak stands outside
//! the strengths: P(normal) = (1 - leak) times the product over the present parents of (1 - strength).

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test may fail by panicking")]

use pinboss::infer::information::{Effort, information};
use pinboss::infer::{Finding, Limits, posteriors};
use pinboss::network::shape::Shape;
use pinboss::network::{Law, Network, NodeId, Path};
use serde_json::Value;

const TOLERANCE: f64 = 1e-9;

const CASES: usize = 25;

/// Noisy-OR network of 20 causes, 15 conditions and 40 symptoms on two sides
fn local_small() -> Network {
    let file: Value = serde_json::from_str(include_str!("data/net_local_small.json")).unwrap();
    let mut network = Network::new();
    for node in file["nodes"].as_array().unwrap() {
        let law = match node["prior"].as_f64() {
            Some(prior) => Law::Table { parents: Vec::new(), rows: vec![1.0 - prior, prior] },
            None => noisy_or(&network, node),
        };
        network.add(node["id"].as_str().unwrap(), 2, law).unwrap();
    }
    assert_eq!(network.len(), 75);
    network
}

fn noisy_or(network: &Network, node: &Value) -> Law {
    let strengths = numbers(&node["strengths"]);
    let path = |(parent, strength): (&Value, &f64)| Path {
        parents: vec![find(network, parent.as_str().unwrap())],
        rows: vec![1.0, 0.0, 1.0 - strength, *strength],
    };
    let leak = node["leak"].as_f64().unwrap();
    let leak = Path { parents: Vec::new(), rows: vec![1.0 - leak, leak] };
    let paths = node["parents"].as_array().unwrap().iter().zip(&strengths).map(path).chain([leak]).collect();
    Law::Max { shape: Shape::Ladder { grades: 2 }, paths }
}

/// Noisy-MAX network of the same build with two or three grades
fn max_small() -> Network {
    let file: Value = serde_json::from_str(include_str!("data/net_max_small.json")).unwrap();
    let mut network = Network::new();
    for node in file["nodes"].as_array().unwrap() {
        let states = node["states"].as_u64().unwrap() as usize;
        let law = if node["prior"].is_array() {
            Law::Table { parents: Vec::new(), rows: numbers(&node["prior"]) }
        } else {
            noisy_max(&network, node, states)
        };
        network.add(node["id"].as_str().unwrap(), states, law).unwrap();
    }
    assert_eq!(network.len(), 75);
    network
}

fn noisy_max(network: &Network, node: &Value, states: usize) -> Law {
    let effects = node["effects"].as_array().unwrap();
    let path = |(parent, effect): (&Value, &Value)| Path {
        parents: vec![find(network, parent.as_str().unwrap())],
        rows: effect.as_array().unwrap().iter().flat_map(numbers).collect(),
    };
    let leak = Path { parents: Vec::new(), rows: numbers(&node["leak"]) };
    let paths = node["parents"].as_array().unwrap().iter().zip(effects).map(path).chain([leak]).collect();
    Law::Max { shape: Shape::Ladder { grades: states }, paths }
}

fn find(network: &Network, name: &str) -> NodeId {
    network.find(name).unwrap()
}

fn numbers(list: &Value) -> Vec<f64> {
    list.as_array().unwrap().iter().map(|number| number.as_f64().unwrap()).collect()
}

fn cases(text: &str) -> Vec<Value> {
    let file: Value = serde_json::from_str(text).unwrap();
    let cases = file["cases"].as_array().unwrap().clone();
    assert_eq!(cases.len(), CASES);
    cases
}

fn hard(network: &Network, seen: &Value) -> Vec<Finding> {
    let state = |state: &Value| state.as_u64().unwrap() as usize;
    let seen = seen.as_object().unwrap().iter();
    seen.map(|(node, grade)| Finding::state(network, find(network, node), state(grade))).collect()
}

fn soft<'a>(network: &'a Network, likelihoods: &'a Value) -> impl Iterator<Item = Finding> + 'a {
    let likelihoods = likelihoods.as_object().unwrap().iter();
    likelihoods
        .map(|(node, likelihood)| Finding { node: find(network, node), likelihood: numbers(likelihood) })
}

/// Compares the evidence and the posteriors of an object from node to P(present) or to all states
fn hold(network: &Network, findings: &[Finding], expected: &[&Value], log_evidence: &Value) -> usize {
    let expected: Vec<(NodeId, Vec<f64>)> = expected
        .iter()
        .flat_map(|posteriors| posteriors.as_object().unwrap())
        .map(|(node, posterior)| match posterior.as_f64() {
            Some(present) => (find(network, node), vec![1.0 - present, present]),
            None => (find(network, node), numbers(posterior)),
        })
        .collect();
    let wanted: Vec<NodeId> = expected.iter().map(|(node, _)| *node).collect();
    let beliefs = posteriors(network, findings, &wanted, &Limits::default()).unwrap();
    let log_evidence = log_evidence.as_f64().unwrap();
    assert!(
        (beliefs.log_evidence - log_evidence).abs() < TOLERANCE,
        "{} for {log_evidence}",
        beliefs.log_evidence
    );
    for (node, expected) in &expected {
        let found = beliefs.marginal(*node).unwrap();
        assert_eq!(found.len(), expected.len());
        for (found, expected) in found.iter().zip(expected) {
            assert!((found - expected).abs() < TOLERANCE, "{}: {found} for {expected}", network.name(*node));
        }
    }
    expected.len()
}

#[test]
fn hard_findings_on_a_noisy_or_network() {
    let network = local_small();
    for case in cases(include_str!("data/cases_local_small.json")) {
        let findings = hard(&network, &case["evidence"]);
        let expected = [&case["posterior"], &case["posterior_conditions"]];
        assert_eq!(hold(&network, &findings, &expected, &case["log_p_evidence"]), 35);
    }
}

/// Soft findings are P(observation | absent) and P(observation | present), not normalised
#[test]
fn soft_findings_on_a_noisy_or_network() {
    let network = local_small();
    for case in cases(include_str!("data/cases_local_small.json")) {
        let case = &case["soft"];
        let mut findings = hard(&network, &case["hard"]);
        findings.extend(soft(&network, &case["likelihood_absent_present"]));
        assert_eq!(hold(&network, &findings, &[&case["posterior"]], &case["log_p_evidence"]), 20);
    }
}

#[test]
fn hard_and_soft_findings_on_a_noisy_max_network() {
    let network = max_small();
    let mut likelihoods = 0;
    for case in cases(include_str!("data/cases_max_small.json")) {
        let mut findings = hard(&network, &case["evidence"]);
        let hard = findings.len();
        findings.extend(soft(&network, &case["likelihoods"]));
        likelihoods += findings.len() - hard;
        assert_eq!(hold(&network, &findings, &[&case["posterior"]], &case["log_p_evidence"]), 20);
    }
    assert!(likelihoods > 20, "{likelihoods}");
}

/// Every check that a case has left: its expected information about each cause, added up over the causes,
/// and about the leading cause alone
#[test]
fn information_of_the_next_checks() {
    let network = local_small();
    let causes: Vec<NodeId> = network.nodes().filter(|&node| network.name(node).starts_with('C')).collect();
    assert_eq!(causes.len(), 20);
    let mut checks = 0;
    for case in cases(include_str!("data/eig_local_small.json")) {
        let findings = hard(&network, &case["evidence"]);
        let top = [find(&network, case["top_cause"].as_str().unwrap())];
        for check in case["checks"].as_array().unwrap() {
            let probe = [find(&network, check["symptom"].as_str().unwrap())];
            let ask = |targets: &[NodeId]| {
                let limits = Limits::default();
                information(&network, &findings, &probe, targets, &limits, &Effort::default()).unwrap()
            };
            let (all, leading) = (ask(&causes), ask(&top));
            let present = all.singles.iter().find(|single| single.state == 1).unwrap();
            let near = |found: f64, key: &str| {
                let expected = check[key].as_f64().unwrap();
                assert!((found - expected).abs() < TOLERANCE, "{key}: {found} for {expected} in {check}");
            };
            near(all.bits, "sum_gain_bits");
            near(leading.bits, "top_cause_gain_bits");
            near(present.chance, "p_present");
            checks += 1;
        }
    }
    assert!(checks > 300, "{checks}");
}
