//! What an engine was asked before changes nothing in what it answers

use crate::inference::random_networks::{Numbers, cases};
use pinboss::infer::engine::Engine;
use pinboss::infer::engines::Engines;
use pinboss::infer::enumerate::enumerate;
use pinboss::infer::pattern::Ask;
use pinboss::infer::{Finding, Limits};
use pinboss::network::{Law, Network};
use proptest::prelude::*;
use std::sync::Arc;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    /// The same findings with other likelihoods, fewer of them, and bounds taken in later, by one engine
    #[test]
    fn patterns_met_before_are_reused_rightly(case in cases(), seed: u64) {
        let engine = Engine::new(Arc::new(case.network.clone()));
        let mut numbers = Numbers(seed);
        let ask = Ask { keep: case.keep.clone(), bound: Vec::new() };
        let mut findings = case.findings.clone();
        for round in 0..4 {
            let circuit = engine.circuit(&findings, &ask, &Limits::default()).unwrap();
            let beliefs = circuit.evaluate(&circuit.weights());
            let exact = enumerate(&case.network, &findings);
            prop_assert_eq!(beliefs.is_impossible(), exact.is_impossible());
            if exact.is_impossible() {
                break;
            }
            prop_assert!((beliefs.log_evidence - exact.log_evidence).abs() < 1e-11);
            for node in circuit.nodes() {
                let (own, exact) = (beliefs.marginal(node).unwrap(), exact.marginal(node).unwrap());
                prop_assert!(own.iter().zip(exact).all(|(own, exact)| (own - exact).abs() < 1e-11));
            }
            for finding in &mut findings {
                let factor = 0.5 + numbers.unit();
                finding.likelihood.iter_mut().for_each(|value| *value *= factor);
            }
            if round == 2 {
                findings.pop();
            }
        }
    }
}

fn coin(heads: f64) -> Arc<Network> {
    let mut network = Network::new();
    network.add("coin", 2, Law::Table { parents: Vec::new(), rows: vec![1.0 - heads, heads] }).unwrap();
    Arc::new(network)
}

#[test]
fn machines_of_the_same_build_share_an_engine_and_others_do_not() {
    let engines = Engines::default();
    let first = engines.of(&coin(0.25));
    assert!(Arc::ptr_eq(&first, &engines.of(&coin(0.25))));
    assert!(!Arc::ptr_eq(&first, &engines.of(&coin(0.75))));
    // So many others that the first is forgotten, and made anew when it is asked for again.
    for number in 1..40 {
        engines.of(&coin(f64::from(number) / 100.0));
    }
    let again = engines.of(&coin(0.25));
    assert_eq!(again.network(), first.network());
}

/// Many patterns in turn, and one of the first again
#[test]
fn an_engine_keeps_within_bounds_and_forgets_nothing_it_needs() {
    let network = coin(0.25);
    let engine = Engine::new(Arc::clone(&network));
    let node = network.at(0).unwrap();
    let heads = || {
        let circuit =
            engine.circuit(&[Finding::state(&network, node, 1)], &Ask::default(), &Limits::default());
        let circuit = circuit.unwrap();
        circuit.evaluate(&circuit.weights()).probability(node, 1)
    };
    assert_eq!(heads(), Some(1.0));
    engine.forget();
    assert_eq!(heads(), Some(1.0));
}
