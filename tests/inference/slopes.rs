//! Slopes and moulds: networks with other numbers, held against going through all states

use pinboss::infer::enumerate::enumerate;
use pinboss::infer::mould::Mould;
use pinboss::infer::pattern::Ask;
use pinboss::infer::slopes::Slopes;
use pinboss::infer::{Finding, Limits};
use pinboss::network::{Law, Network, NodeId};
use proptest::prelude::*;
use proptest::sample::Index;

use crate::inference::random_networks::{Case, Numbers, cases};

fn mould(case: &Case) -> Mould {
    let ask = Ask { keep: case.keep.clone(), bound: Vec::new() };
    Mould::new(&case.network, case.findings.clone(), ask, &Limits::default()).unwrap()
}

/// Rows of one table of a node
fn rows(law: &mut Law, table: usize) -> Option<&mut Vec<f64>> {
    match law {
        Law::Table { rows, .. } => Some(rows).filter(|_| table == 0),
        Law::Max { paths, .. } => paths.get_mut(table).map(|path| &mut path.rows),
    }
}

/// The same network with other rows in one table
fn changed(network: &Network, node: NodeId, table: usize, other: &[f64]) -> Network {
    let mut law = network.law(node).clone();
    *rows(&mut law, table).unwrap() = other.to_vec();
    let mut network = network.clone();
    network.change(node, law).unwrap();
    network
}

/// A table of some node, and rows for it with nought where there was nought
fn another(case: &Case, pick: Index, table: Index, seed: u64) -> Option<(NodeId, usize, Vec<f64>)> {
    let node = case.network.at(pick.index(case.network.len()))?;
    let mut law = case.network.law(node).clone();
    let tables = match &law {
        Law::Table { .. } => 1,
        Law::Max { paths, .. } => paths.len(),
    };
    let table = (tables > 0).then(|| table.index(tables))?;
    let mut numbers = Numbers(seed);
    let mut other = Vec::new();
    for row in rows(&mut law, table)?.chunks(case.network.states(node)) {
        let weights: Vec<f64> = row.iter().map(|share| share * (0.05 + numbers.unit())).collect();
        let sum: f64 = weights.iter().sum();
        other.extend(weights.iter().map(|weight| weight / sum));
    }
    Some((node, table, other))
}

/// Part of the way from one row to another
fn between(from: &[f64], to: &[f64], part: f64) -> Vec<f64> {
    from.iter().zip(to).map(|(from, to)| from + part * (to - from)).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    /// Findings anywhere, and one node more taken as seen: P(e) with other rows over P(e) is what it is by enumeration
    #[test]
    fn a_ratio_is_exact(case in cases(), pick: Index, table: Index, seed: u64) {
        let Some((node, table, other)) = another(&case, pick, table, seed) else { return Ok(()) };
        let mould = mould(&case);
        let circuit = mould.circuit(&case.network).unwrap();
        let mut weights = circuit.weights();
        let mut findings = case.findings.clone();
        for &kept in &case.keep {
            let likelihood: Vec<f64> = (0..case.network.states(kept)).map(|state| f64::from(u8::from(state > 0))).collect();
            prop_assert!(weights.observe(kept, &likelihood));
            findings.push(Finding { node: kept, likelihood });
        }
        let before = enumerate(&case.network, &findings);
        let after = enumerate(&changed(&case.network, node, table, &other), &findings);
        let slopes = Slopes::new(&case.network, &mould, &circuit, &weights);
        prop_assert_eq!(slopes.is_none(), before.is_impossible());
        let Some(slopes) = slopes else { return Ok(()) };
        let ratio = slopes.ratio(node, table, &other).unwrap();
        let expected = after.evidence_over(&before);
        prop_assert!((ratio - expected).abs() < 1e-11 * expected.max(1.0), "{} is not {}", ratio, expected);
    }

    /// The derivative is what a finite difference gives, of the logarithm and with no use of its being linear
    #[test]
    fn a_slope_is_a_finite_difference(case in cases(), pick: Index, table: Index, seed: u64) {
        const STEP: f64 = 1e-5;
        let Some((node, table, other)) = another(&case, pick, table, seed) else { return Ok(()) };
        let mould = mould(&case);
        let circuit = mould.circuit(&case.network).unwrap();
        let Some(slopes) = Slopes::new(&case.network, &mould, &circuit, &circuit.weights()) else { return Ok(()) };
        let slope = slopes.ratio(node, table, &other).unwrap() - 1.0;
        let mut law = case.network.law(node).clone();
        let own = rows(&mut law, table).unwrap().clone();
        let at = |part: f64| {
            let network = changed(&case.network, node, table, &between(&own, &other, part));
            let circuit = mould.circuit(&network).unwrap();
            circuit.evaluate(&circuit.weights()).log_evidence
        };
        // The rows stay shares a little way back, too, for no entry falls by more than it has.
        let difference = (at(STEP) - at(0.0)) / STEP;
        // Of a logarithm of 1 + slope t, with what rounding of two logarithms leaves.
        let curved = STEP * slope * slope + 1e-9;
        prop_assert!((difference - slope).abs() <= curved, "{} is not {}", difference, slope);
    }

    /// What was compiled for one network weighs another of the same make
    #[test]
    fn a_mould_takes_other_numbers(case in cases(), pick: Index, table: Index, seed: u64) {
        let Some((node, table, other)) = another(&case, pick, table, seed) else { return Ok(()) };
        let network = changed(&case.network, node, table, &other);
        let circuit = mould(&case).circuit(&network).unwrap();
        let ours = circuit.evaluate(&circuit.weights());
        let expected = enumerate(&network, &case.findings);
        prop_assert_eq!(ours.is_impossible(), expected.is_impossible());
        for (node, marginal) in ours.marginals() {
            for (own, expected) in marginal.iter().zip(expected.marginal(node).unwrap()) {
                prop_assert!((own - expected).abs() < 1e-12);
            }
        }
    }

    /// One number that came to nothing, or came up from it, leaves other tables: they are compiled anew
    #[test]
    fn a_mould_takes_noughts_too(case in cases(), pick: Index, table: Index, seed: u64) {
        let Some((node, table, other)) = another(&case, pick, table, seed) else { return Ok(()) };
        let states = case.network.states(node);
        let certain = |row: &[f64]| {
            let most = (0..states).max_by(|a, b| row[*a].total_cmp(&row[*b])).unwrap();
            (0..states).map(move |state| f64::from(u8::from(state == most)))
        };
        let other: Vec<f64> = other.chunks(states).flat_map(certain).collect();
        let network = changed(&case.network, node, table, &other);
        let circuit = mould(&case).circuit(&network).unwrap();
        let ours = circuit.evaluate(&circuit.weights());
        let expected = enumerate(&network, &case.findings);
        prop_assert_eq!(ours.is_impossible(), expected.is_impossible());
        if !ours.is_impossible() {
            prop_assert!((ours.log_evidence - expected.log_evidence).abs() < 1e-11 * ours.log_evidence.abs().max(1.0));
        }
    }
}
