//! Bounds hold what enumeration finds, whatever the budget, and close in on it

use crate::inference::random_networks::{Case, cases};
use pinboss::infer::bounds::{Bounds, Budget, Interval, bounds};
use pinboss::infer::enumerate::enumerate;
use pinboss::infer::{Finding, Limits, posteriors};
use pinboss::network::shape::Shape;
use pinboss::network::{Law, Network, NodeId, Path};
use proptest::prelude::*;
use rstest::rstest;

const TOLERANCE: f64 = 1e-11;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    /// With tables far too small for the findings, and any budget, none among them
    #[test]
    fn what_enumeration_finds_lies_within(
        case in cases(),
        table in 1_usize..=24,
        entries in prop_oneof![0_u64..200, 200_u64..20_000],
    ) {
        let bounds = bounds(&case.network, &case.findings, &all(&case), &Budget { entries, table });
        holds(&case, &bounds)?;
    }

    /// With work enough nothing stays open, and what is left is the answer
    #[test]
    fn all_settled_is_exact(case in cases(), table in 1_usize..=24) {
        let bounds = bounds(&case.network, &case.findings, &all(&case), &Budget { entries: u64::MAX, table });
        prop_assert!(bounds.is_exact());
        holds(&case, &bounds)?;
        for interval in intervals(&case, &bounds) {
            prop_assert!(interval.upper - interval.lower < TOLERANCE, "{:?}", interval);
        }
    }

    /// More work never makes what is known less
    #[test]
    fn more_work_is_no_wider(case in cases(), entries in 0_u64..5_000) {
        let nodes = all(&case);
        let spent = |entries: u64| bounds(&case.network, &case.findings, &nodes, &Budget { entries, table: 4 });
        let (little, much) = (spent(entries), spent(u64::MAX));
        for (wide, narrow) in intervals(&case, &little).into_iter().zip(intervals(&case, &much)) {
            prop_assert!(wide.lower <= narrow.lower + TOLERANCE && narrow.upper <= wide.upper + TOLERANCE);
        }
    }
}

fn all(case: &Case) -> Vec<NodeId> {
    case.network.nodes().collect()
}

fn intervals(case: &Case, bounds: &Bounds) -> Vec<Interval> {
    let states = |node: NodeId| (0..case.network.states(node)).map(move |state| (node, state));
    let states = case.network.nodes().flat_map(states);
    states.filter_map(|(node, state)| bounds.among(node, |own| own == state)).collect()
}

fn holds(case: &Case, bounds: &Bounds) -> Result<(), TestCaseError> {
    let exact = enumerate(&case.network, &case.findings);
    if exact.is_impossible() {
        prop_assert!(bounds.log_evidence.lower.is_infinite());
        return Ok(());
    }
    prop_assert!(!bounds.is_impossible());
    let log = bounds.log_evidence;
    prop_assert!(
        log.lower <= exact.log_evidence + TOLERANCE && exact.log_evidence <= log.upper + TOLERANCE,
        "{:?} {} {:?}",
        log,
        exact.log_evidence,
        bounds
    );
    for node in bounds.nodes() {
        for state in 0..case.network.states(node) {
            let interval = bounds.among(node, |own| own == state).unwrap();
            let probability = exact.probability(node, state).unwrap();
            prop_assert!(
                interval.lower <= probability + TOLERANCE && probability <= interval.upper + TOLERANCE,
                "{} of {} is not within {:?}",
                probability,
                node,
                interval
            );
        }
    }
    Ok(())
}

/// So many causes, and for each pair of neighbours on a ring a sign of both and of one further on
fn ring(causes: usize, state: usize) -> (Network, Vec<Finding>, Vec<NodeId>) {
    let mut network = Network::new();
    let prior = |number: usize| 0.02 + 0.01 * (number % 5) as f64;
    let rows = |number: usize| vec![1.0 - prior(number), prior(number)];
    let table = |number: usize| Law::Table { parents: Vec::new(), rows: rows(number) };
    let nodes: Vec<NodeId> =
        (0..causes).map(|number| network.add("cause", 2, table(number)).unwrap()).collect();
    let mut findings = Vec::new();
    for number in 0..causes {
        let parents = [number, (number + 1) % causes, (number * 5 + 3) % causes];
        let path = |parent: &usize| {
            let strength = 0.5 + 0.04 * (number % 10) as f64;
            let parents = vec![*nodes.get(*parent).unwrap()];
            Path { parents, rows: vec![1.0, 0.0, 1.0 - strength, strength] }
        };
        let leak = Path { parents: Vec::new(), rows: vec![0.97, 0.03] };
        let paths = parents.iter().map(path).chain([leak]).collect();
        let node = network.add("sign", 2, Law::Max { shape: Shape::Ladder { grades: 2 }, paths }).unwrap();
        findings.push(Finding::state(&network, node, state));
    }
    (network, findings, nodes)
}

/// A circuit of this size can still be compiled: bounds from small tables must hold its answer, and the
/// second budget must do better than the first
#[rstest]
#[case::abnormal(1)]
#[case::normal(0)]
fn bounds_close_in_on_the_exact_answer(#[case] state: usize) {
    let (network, findings, causes) = ring(24, state);
    let limits = Limits { table: 1 << 22, total: 1 << 25 };
    let exact = posteriors(&network, &findings, &causes, &limits).unwrap();
    let mut before = f64::INFINITY;
    for entries in [1 << 14, 1 << 20, 1 << 26] {
        let bounds = bounds(&network, &findings, &causes, &Budget { entries, table: 1 << 6 });
        let widths = causes.iter().map(|&cause| {
            let interval = bounds.among(cause, |own| own == 1).unwrap();
            let probability = exact.probability(cause, 1).unwrap();
            assert!(interval.lower <= probability + TOLERANCE && probability <= interval.upper + TOLERANCE);
            interval.upper - interval.lower
        });
        let width: f64 = widths.sum();
        assert!(width <= before, "{width} after {before}");
        before = width;
    }
    assert!(before < 0.5, "{before}");
}

#[test]
fn the_same_work_gives_the_same_bounds() {
    let (network, findings, causes) = ring(30, 1);
    let budget = Budget { entries: 1 << 20, table: 1 << 6 };
    let told = || format!("{:?}", bounds(&network, &findings, &causes, &budget));
    assert_eq!(told(), told());
}

/// Two findings that exclude each other, however the rest is cut
#[test]
fn what_cannot_be_is_said_to_be_so() {
    let (network, mut findings, causes) = ring(12, 1);
    findings.push(Finding { node: *causes.first().unwrap(), likelihood: vec![0.0, 0.0] });
    let bounds = bounds(&network, &findings, &causes, &Budget { entries: u64::MAX, table: 16 });
    assert!(bounds.is_impossible());
}
