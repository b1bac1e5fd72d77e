//! Circuits and plain enumeration agree on random networks

use pinboss::infer::beliefs::Beliefs;
use pinboss::infer::circuit::Circuit;
use pinboss::infer::enumerate::enumerate;
use pinboss::infer::{Finding, Limits, compile, posteriors};
use pinboss::network::{Law, NodeId};
use proptest::prelude::*;
use proptest::sample::Index;

use crate::inference::random_networks::{Case, Numbers, cases};

const TOLERANCE: f64 = 1e-12;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    /// Every variable of the circuit and the evidence, findings of all kinds anywhere
    #[test]
    fn evaluation_equals_enumeration(case in cases()) {
        let circuit = compiled(&case);
        let beliefs = circuit.evaluate(&circuit.weights());
        agree(&beliefs, &enumerate(&case.network, &case.findings), circuit.nodes())?;
    }

    /// A finding switched off is a finding never made
    #[test]
    fn switched_off_is_left_out(case in cases()) {
        let circuit = compiled(&case);
        let mut weights = circuit.weights();
        for (finding, &on) in case.on.iter().enumerate().take(case.findings.len()) {
            prop_assert!(weights.switch(finding, on));
        }
        let beliefs = circuit.evaluate(&weights);
        agree(&beliefs, &enumerate(&case.network, &case.findings_on()), circuit.nodes())?;
    }

    /// Likelihoods put on kept nodes later are as good as findings compiled in
    #[test]
    fn observed_later_is_found(case in cases(), seed: u64) {
        let circuit = compiled(&case);
        let mut weights = circuit.weights();
        let mut findings = case.findings.clone();
        let mut numbers = Numbers(seed);
        for &node in &case.keep {
            let likelihood: Vec<f64> = (0..case.network.states(node)).map(|_| 9.0 * numbers.unit()).collect();
            prop_assert!(weights.observe(node, &likelihood));
            findings.push(Finding { node, likelihood });
        }
        agree(&circuit.evaluate(&weights), &enumerate(&case.network, &findings), circuit.nodes())?;
        weights.forget();
        agree(&circuit.evaluate(&weights), &enumerate(&case.network, &case.findings), circuit.nodes())?;
    }

    /// Four findings that rule out one half of a node's states, and then the other half, past the
    /// range of a double: together they say nothing, but send the passes out into wide numbers
    #[test]
    fn evidence_past_every_double_may_cancel(case in cases(), pick: Index) {
        let mut network = case.network.clone();
        let node = network.at(pick.index(network.len())).unwrap();
        let states = network.states(node);
        let mut findings = case.findings.clone();
        for against_low in [true, true, false, false] {
            let chance = |state: usize| if (2 * state < states) == against_low { 1e-200 } else { 1.0 };
            let rows = (0..states).flat_map(|state| [1.0 - chance(state), chance(state)]).collect();
            let law = Law::Table { parents: vec![node], rows };
            let sign = network.add("sign", 2, law).unwrap();
            findings.push(Finding::state(&network, sign, 1));
        }
        let circuit = compile(&network, &findings, &case.keep, &Limits::default()).unwrap();
        let mut beliefs = circuit.evaluate(&circuit.weights());
        beliefs.log_evidence += 400.0 * std::f64::consts::LN_10;
        let old = circuit.nodes().filter(|&node| case.network.at(node.index()).is_some());
        agree(&beliefs, &enumerate(&case.network, &case.findings), old)?;
    }

    /// Every node, those that nothing observed hangs on as well
    #[test]
    fn posteriors_of_all_nodes(case in cases()) {
        let all: Vec<NodeId> = case.network.nodes().collect();
        let beliefs = posteriors(&case.network, &case.findings, &all, &Limits::default()).unwrap();
        agree(&beliefs, &enumerate(&case.network, &case.findings), all.into_iter())?;
    }
}

fn compiled(case: &Case) -> Circuit {
    compile(&case.network, &case.findings, &case.keep, &Limits::default()).unwrap()
}

/// Evidence and the marginals of some nodes are the expected ones, or both sides say that the findings cannot be
pub fn agree(
    beliefs: &Beliefs,
    expected: &Beliefs,
    nodes: impl Iterator<Item = NodeId>,
) -> Result<(), TestCaseError> {
    if expected.is_impossible() {
        prop_assert_eq!(beliefs.log_evidence, f64::NEG_INFINITY);
        prop_assert_eq!(beliefs.marginals().count(), 0);
        return Ok(());
    }
    prop_assert!(
        (beliefs.log_evidence - expected.log_evidence).abs() < TOLERANCE,
        "log evidence {} instead of {}",
        beliefs.log_evidence,
        expected.log_evidence
    );
    for node in nodes {
        let (got, wanted) = (beliefs.marginal(node).unwrap(), expected.marginal(node).unwrap());
        prop_assert_eq!(got.len(), wanted.len());
        for (got, wanted) in got.iter().zip(wanted) {
            prop_assert!((got - wanted).abs() < TOLERANCE, "node {}: {} instead of {}", node, got, wanted);
        }
    }
    Ok(())
}
