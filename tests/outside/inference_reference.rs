//! Generated networks of the size of small and large machines, worked out with general-purpose libraries
//!
//! The networks and the cases were generated for this project. Posteriors and the natural logarithm of
//! the evidence's probability come from pyagrum 3.3.1 and were confirmed with pgmpy 1.1.2 to 1e-14; the
//! file keeps 12 or 13 digits of them, so 1e-9 is asked here. State 0 is normal. The leak stands outside
//! the strengths: P(normal) = (1 - leak) times the product over the present parents of (1 - strength).

use pinboss::infer::circuit::Scratch;
use pinboss::infer::engine::Engine;
use pinboss::infer::information::{Effort, information, information_by};
use pinboss::infer::pattern::Ask;
use pinboss::infer::{Finding, Limits, posteriors};
use pinboss::network::{Network, NodeId};
use rstest::rstest;
use serde_json::Value;
use std::sync::Arc;

use crate::support::network_file;

const TOLERANCE: f64 = 1e-9;

const CASES: usize = 25;

/// Noisy-OR networks of machines with two sides
#[derive(Clone, Copy)]
enum Size {
    /// 20 causes, 15 conditions and 40 symptoms
    Small,
    /// 60, 40 and 150
    Medium,
    /// 150, 100 and 400
    Large,
}

impl Size {
    fn network(self) -> Network {
        let (text, nodes) = match self {
            Size::Small => (include_str!("data/net_local_small.json"), 75),
            Size::Medium => (include_str!("data/net_local_medium.json"), 250),
            Size::Large => (include_str!("data/net_local_large.json"), 650),
        };
        read(text, nodes)
    }

    fn cases(self) -> Vec<Value> {
        cases(match self {
            Size::Small => include_str!("data/cases_local_small.json"),
            Size::Medium => include_str!("data/cases_local_medium.json"),
            Size::Large => include_str!("data/cases_local_large.json"),
        })
    }

    /// Cases with the worth of each check that is left, how many of them there are, and causes
    fn checks(self) -> (&'static str, usize, usize) {
        match self {
            Size::Small => (include_str!("data/eig_local_small.json"), 524, 20),
            Size::Medium => (include_str!("data/eig_local_medium.json"), 1302, 60),
            Size::Large => unreachable!("no checks were worked out for the large network"),
        }
    }
}

fn read(text: &str, nodes: usize) -> Network {
    let network = network_file::network(&serde_json::from_str(text).unwrap()).unwrap();
    assert_eq!(network.len(), nodes);
    network
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

#[rstest]
#[case::small(Size::Small, 35)]
#[case::medium(Size::Medium, 100)]
#[case::large(Size::Large, 250)]
fn hard_findings_on_a_noisy_or_network(#[case] size: Size, #[case] hidden: usize) {
    let network = size.network();
    for case in size.cases() {
        let findings = network_file::hard(&network, &case["evidence"]).unwrap();
        let expected = [&case["posterior"], &case["posterior_conditions"]];
        assert_eq!(hold(&network, &findings, &expected, &case["log_p_evidence"]), hidden);
    }
}

/// Soft findings are P(observation | absent) and P(observation | present), not normalised
#[rstest]
#[case::small(Size::Small, 20)]
#[case::medium(Size::Medium, 60)]
#[case::large(Size::Large, 150)]
fn soft_findings_on_a_noisy_or_network(#[case] size: Size, #[case] causes: usize) {
    let network = size.network();
    for case in size.cases() {
        let case = &case["soft"];
        let mut findings = network_file::hard(&network, &case["hard"]).unwrap();
        let hard = findings.len();
        findings.extend(network_file::soft(&network, &case["likelihood_absent_present"]).unwrap());
        assert!(findings.len() > hard, "no finding of the case is soft");
        assert_eq!(hold(&network, &findings, &[&case["posterior"]], &case["log_p_evidence"]), causes);
    }
}

#[test]
fn hard_and_soft_findings_on_a_noisy_max_network() {
    let network = read(include_str!("data/net_max_small.json"), 75);
    let mut likelihoods = 0;
    for case in cases(include_str!("data/cases_max_small.json")) {
        let mut findings = network_file::hard(&network, &case["evidence"]).unwrap();
        let soft = network_file::soft(&network, &case["likelihoods"]).unwrap();
        likelihoods += soft.len();
        findings.extend(soft);
        assert_eq!(hold(&network, &findings, &[&case["posterior"]], &case["log_p_evidence"]), 20);
    }
    assert!(likelihoods > 20, "{likelihoods}");
}

/// Every check that a case has left: its expected information about each cause, added up over the causes,
/// and about the leading cause alone; by a circuit for each check, and by weights on one for all
#[rstest]
#[case::small(Size::Small)]
#[case::medium(Size::Medium)]
fn information_of_the_next_checks(#[case] size: Size) {
    let network = size.network();
    let (text, number, of) = size.checks();
    let causes: Vec<NodeId> = network.nodes().filter(|&node| network.name(node).starts_with('C')).collect();
    assert_eq!(causes.len(), of);
    let engine = Engine::new(Arc::new(network.clone()));
    let bound: Vec<NodeId> = network.nodes().filter(|&node| network.name(node).starts_with('S')).collect();
    let file: Value = serde_json::from_str(text).unwrap();
    let mut checks = 0;
    for case in file["cases"].as_array().unwrap() {
        let findings = network_file::hard(&network, &case["evidence"]).unwrap();
        let top = [find(&network, case["top_cause"].as_str().unwrap())];
        let seen = |node: &NodeId| findings.iter().any(|finding| finding.node == *node);
        let unseen = bound.iter().copied().filter(|node| !seen(node)).collect();
        let ask_all = Ask { keep: causes.clone(), bound: unseen };
        let one_circuit = engine.circuit(&findings, &ask_all, &Limits::default()).unwrap();
        let mut scratch = Scratch::default();
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
            let effort = Effort::default();
            let by_weights =
                information_by(&one_circuit, &network, &probe, &causes, &effort, &mut scratch).unwrap();
            near(by_weights.bits, "sum_gain_bits");
            checks += 1;
        }
    }
    assert_eq!(checks, number);
}
