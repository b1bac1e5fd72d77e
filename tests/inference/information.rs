//! Expected information equals its definition, worked out by going through all states

use pinboss::infer::circuit::Scratch;
use pinboss::infer::engine::Engine;
use pinboss::infer::enumerate::enumerate;
use pinboss::infer::information::{
    Effort, Information, Posteriors, Single, entropy, information, information_by,
};
use pinboss::infer::pattern::Ask;
use pinboss::infer::{Finding, Limits};
use pinboss::network::{Network, NodeId};
use proptest::prelude::*;
use proptest::sample::Index;
use rstest::rstest;
use std::sync::Arc;

use crate::inference::random_networks::{Case, cases};

const TOLERANCE: f64 = 1e-11;

#[rstest]
#[case::certain(&[0.0, 1.0], 0.0)]
#[case::coin(&[0.5, 0.5], 1.0)]
#[case::die_of_four(&[0.25, 0.25, 0.25, 0.25], 2.0)]
#[case::uneven(&[0.5, 0.25, 0.25, 0.0], 1.5)]
fn entropies_known_by_hand(#[case] distribution: &[f64], #[case] bits: f64) {
    assert!((entropy(distribution) - bits).abs() < 1e-15);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// All joint outcomes gone through
    #[test]
    fn exact_information_equals_its_definition(case in cases(), probes: [Index; 2], targets: [Index; 2]) {
        let (probes, targets) = (nodes(&case, &probes), nodes(&case, &targets));
        let found = asked(&case, &probes, &targets, &Effort::default());
        prop_assert!(found.exact);
        let before = enumerate(&case.network, &case.findings);
        if before.is_impossible() {
            prop_assert_eq!(found.bits, 0.0);
            prop_assert!(found.outcomes.is_empty() && found.before.is_empty());
            return Ok(());
        }
        let (mut bits, mut number) = (entropy_of(&case.network, &case.findings, &targets), 0);
        for states in joint_states(&case.network, &probes) {
            let findings = with(&case, &probes, &states);
            let chance = enumerate(&case.network, &findings).evidence_over(&before);
            let outcome = found.outcomes.iter().find(|outcome| outcome.states == states);
            if chance > 0.0 {
                number += 1;
                bits -= chance * entropy_of(&case.network, &findings, &targets);
                let outcome = outcome.ok_or_else(|| TestCaseError::fail(format!("{states:?} is missing")))?;
                prop_assert!((outcome.chance - chance).abs() < TOLERANCE);
                same(&outcome.targets, &case.network, &findings, &targets)?;
            } else {
                prop_assert!(outcome.is_none(), "{:?} cannot be", states);
            }
        }
        prop_assert_eq!(found.outcomes.len(), number);
        prop_assert!((found.bits - bits).abs() < TOLERANCE, "{} bits instead of {}", found.bits, bits);
        same(&found.before, &case.network, &case.findings, &targets)?;
    }

    /// By a circuit that was compiled for the findings, open to the probes, with weights alone
    #[test]
    fn by_weights_alone_it_is_the_same(case in cases(), probes: [Index; 2], targets: [Index; 2]) {
        let (probes, targets) = (nodes(&case, &probes), nodes(&case, &targets));
        let exact = asked(&case, &probes, &targets, &Effort::default());
        let ask = Ask { keep: targets.clone(), bound: probes.clone() };
        let engine = Engine::new(Arc::new(case.network.clone()));
        let circuit = engine.circuit(&case.findings, &ask, &Limits::default());
        let circuit = circuit.map_err(|stop| TestCaseError::fail(stop.to_string()))?;
        let effort = Effort::default();
        let found =
            information_by(&circuit, &case.network, &probes, &targets, &effort, &mut Scratch::default());
        let found = found.ok_or_else(|| TestCaseError::fail("the circuit is open to all of them"))?;
        prop_assert!((found.bits - exact.bits).abs() < 1e-11, "{} bits instead of {}", found.bits, exact.bits);
        prop_assert_eq!(found.before.len(), exact.before.len());
        for outcome in &exact.outcomes {
            let own = found.outcomes.iter().find(|own| own.states == outcome.states);
            let chance = own.map_or(0.0, |own| own.chance);
            prop_assert!((chance - outcome.chance).abs() < 1e-12, "{} for {}", chance, outcome.chance);
        }
        for single in &found.singles {
            let of = |own: &&Single| own.probe == single.probe && own.state == single.state;
            let twin = exact.singles.iter().find(of);
            let twin = twin.ok_or_else(|| TestCaseError::fail("it cannot be"))?;
            for (own, twin) in single.targets.iter().flatten().zip(twin.targets.iter().flatten()) {
                // A difference of two sums keeps what digits the chance leaves.
                prop_assert!((own - twin).abs() < 1e-13 / single.chance + 1e-12, "{} for {}", own, twin);
            }
        }
    }

    /// Each state of each probe alone, whether all joint outcomes are gone through or drawn
    #[test]
    fn single_states_equal_their_definition(
        case in cases(),
        probes: [Index; 2],
        targets: [Index; 2],
        outcomes in prop_oneof![Just(1_usize), Just(64)],
    ) {
        let (probes, targets) = (nodes(&case, &probes), nodes(&case, &targets));
        let effort = Effort { outcomes, draws: 1, seed: 1 };
        let found = asked(&case, &probes, &targets, &effort);
        let before = enumerate(&case.network, &case.findings);
        let mut chances = vec![0.0; probes.len()];
        for single in &found.singles {
            let node = *probes.get(single.probe).ok_or_else(|| TestCaseError::fail("no such probe"))?;
            let findings = with(&case, &[node], &[single.state]);
            let chance = enumerate(&case.network, &findings).evidence_over(&before);
            prop_assert!((single.chance - chance).abs() < TOLERANCE);
            same(&single.targets, &case.network, &findings, &targets)?;
            chances.get_mut(single.probe).into_iter().for_each(|sum| *sum += single.chance);
        }
        let expected = f64::from(u8::from(!before.is_impossible()));
        prop_assert!(chances.iter().all(|sum| (sum - expected).abs() < TOLERANCE), "{:?}", chances);
    }

    /// Past the outcomes allowed, draws: a mean of exact posteriors that nears the exact bits
    #[test]
    fn drawn_information_nears_the_exact(case in cases(), probes: [Index; 2], targets: [Index; 2], seed: u64) {
        let (probes, targets) = (nodes(&case, &probes), nodes(&case, &targets));
        let exact = asked(&case, &probes, &targets, &Effort::default());
        let effort = Effort { outcomes: 1, draws: 4_000, seed };
        let drawn = asked(&case, &probes, &targets, &effort);
        prop_assert!(!drawn.exact || drawn.before.is_empty());
        prop_assert_eq!(&drawn, &asked(&case, &probes, &targets, &effort), "a seed fixes the answer");
        for outcome in &drawn.outcomes {
            let twin = exact.outcomes.iter().find(|twin| twin.states == outcome.states);
            let twin = twin.ok_or_else(|| TestCaseError::fail(format!("{:?} cannot be", outcome.states)))?;
            prop_assert!((twin.chance - outcome.chance).abs() < TOLERANCE);
            let frequency = outcome.drawn as f64 / 4_000.0;
            // Six standard errors, and half a draw for the rarest.
            let allowed = 6.0 * (twin.chance * (1.0 - twin.chance) / 4_000.0).sqrt() + 1e-3;
            prop_assert!((frequency - twin.chance).abs() < allowed, "{} for {}", frequency, twin.chance);
        }
        // A target of four states has at most two bits to lose, two targets four; the mean of 4,000
        // draws of something between 0 and 4 strays by 2 / sqrt(4,000) at one standard error at most.
        prop_assert!((drawn.bits - exact.bits).abs() < 0.15, "{} for {}", drawn.bits, exact.bits);
    }
}

fn asked(case: &Case, probes: &[NodeId], targets: &[NodeId], effort: &Effort) -> Information {
    let limits = Limits::default();
    match information(&case.network, &case.findings, probes, targets, &limits, effort) {
        Ok(found) => found,
        Err(stop) => unreachable!("six nodes are never too wide: {stop}"),
    }
}

fn nodes(case: &Case, picks: &[Index]) -> Vec<NodeId> {
    let mut nodes: Vec<NodeId> =
        picks.iter().filter_map(|pick| case.network.at(pick.index(case.network.len()))).collect();
    nodes.dedup();
    nodes
}

fn with(case: &Case, probes: &[NodeId], states: &[usize]) -> Vec<Finding> {
    let seen = probes.iter().zip(states).map(|(&node, &state)| Finding::state(&case.network, node, state));
    case.findings.iter().cloned().chain(seen).collect()
}

fn joint_states(network: &Network, probes: &[NodeId]) -> Vec<Vec<usize>> {
    probes.iter().fold(vec![vec![]], |starts, &probe| {
        let states = 0..network.states(probe);
        starts
            .iter()
            .flat_map(|start: &Vec<usize>| states.clone().map(|state| [start.as_slice(), &[state]].concat()))
            .collect()
    })
}

fn entropy_of(network: &Network, findings: &[Finding], targets: &[NodeId]) -> f64 {
    let beliefs = enumerate(network, findings);
    targets.iter().filter_map(|&target| beliefs.marginal(target)).map(entropy).sum()
}

fn same(
    found: &Posteriors,
    network: &Network,
    findings: &[Finding],
    targets: &[NodeId],
) -> Result<(), TestCaseError> {
    let expected = enumerate(network, findings);
    prop_assert_eq!(found.len(), targets.len());
    for (found, &target) in found.iter().zip(targets) {
        let expected = expected.marginal(target).unwrap_or_default();
        prop_assert_eq!(found.len(), expected.len());
        prop_assert!(
            found.iter().zip(expected).all(|(found, expected)| (found - expected).abs() < TOLERANCE)
        );
    }
    Ok(())
}
