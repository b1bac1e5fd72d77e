//! Noisy-MAX nodes as plain tables and chains of them, held against the noisy-MAX itself by enumeration.

use crate::export::tables::{Found, Table, multiplied, of};
use crate::inference::random_networks::cases;
use pinboss::infer::enumerate::enumerate;
use pinboss::network::plain::{MOST_ENTRIES, Made, plain};
use pinboss::network::shape::Shape;
use pinboss::network::{Law, Network, Path};
use proptest::prelude::*;
use rstest::rstest;

const TOLERANCE: f64 = 1e-12;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    /// All shapes, shared parents, findings of all kinds; a table for each contribution, some divided, none divided
    #[test]
    fn tables_multiply_to_the_noisy_max(case in cases(), most in prop_oneof![Just(1), 8..100_usize, Just(usize::MAX)]) {
        let plain = plain(&case.network, most).unwrap();
        let tables = of(&plain);
        for table in &tables {
            sound(table)?;
        }
        let findings: Vec<Found> = case
            .findings
            .iter()
            .map(|finding| (plain.node(finding.node).unwrap().index(), finding.likelihood.clone()))
            .collect();
        let expected = enumerate(&case.network, &case.findings);
        let (total, marginals) = multiplied(&tables, &findings);
        if expected.is_impossible() {
            prop_assert_eq!(total, 0.0);
            return Ok(());
        }
        prop_assert!((libm::log(total) - expected.log_evidence).abs() < TOLERANCE);
        prop_assert_eq!(marginals.len(), case.network.len());
        for (node, (index, marginal)) in case.network.nodes().zip(marginals) {
            prop_assert_eq!(plain.made[index], Made::Node(node));
            let expected = expected.marginal(node).unwrap();
            prop_assert_eq!(marginal.len(), expected.len());
            for (got, expected) in marginal.iter().zip(expected) {
                prop_assert!((got - expected).abs() < TOLERANCE, "{} instead of {}", got, expected);
            }
        }
    }
}

fn sound(table: &Table) -> Result<(), TestCaseError> {
    for row in table.entries.chunks(table.states) {
        let sum: f64 = row.iter().sum();
        prop_assert!((sum - 1.0).abs() < TOLERANCE, "a row of {} adds up to {}", &table.name, sum);
    }
    Ok(())
}

/// A noisy-OR of 12 causes whose strengths are 1/2, 1/3, … and whose leak is 1/100
fn noisy_or() -> Network {
    let mut network = Network::new();
    let mut paths = vec![Path { parents: Vec::new(), rows: vec![0.99, 0.01] }];
    for number in 2..14_u8 {
        let law = Law::Table { parents: Vec::new(), rows: vec![0.9, 0.1] };
        let cause = network.add(format!("cause {number}"), 2, law).unwrap();
        let strength = 1.0 / f64::from(number);
        paths.push(Path { parents: vec![cause], rows: vec![1.0, 0.0, 1.0 - strength, strength] });
    }
    network.add("effect", 2, Law::Max { shape: Shape::Ladder { grades: 2 }, paths }).unwrap();
    network
}

/// The leak stands outside the strengths: P(no) = 0.99 times Π (1 - strength) over the causes present (Henrion 1989)
#[rstest]
#[case::none_present(0, 0.99)]
#[case::first(1, 0.99 / 2.0)]
#[case::first_two(0b11, 0.99 / 3.0)]
#[case::all(0xfff, 0.99 / 13.0)]
fn one_table_holds_the_products_of_noisy_or(#[case] present: usize, #[case] no: f64) {
    let tables = of(&plain(&noisy_or(), usize::MAX).unwrap());
    assert_eq!(tables.len(), 13);
    let effect = tables.last().unwrap();
    assert_eq!(effect.entries.len(), 1 << 13);
    // The first cause is the slowest, so its bit is the highest.
    let row = (0..12).fold(0, |row, cause| row * 2 + (present >> cause & 1));
    assert!((effect.entries[2 * row] - no).abs() < 1e-15);
}

/// Five parents of two states fill 64 entries, and from the second table on the chain itself is one of them
#[test]
fn a_large_table_is_divided() {
    let network = noisy_or();
    let made = plain(&network, MOST_ENTRIES).unwrap();
    let tables = of(&made);
    assert!(tables.iter().all(|table| table.entries.len() <= MOST_ENTRIES));
    let auxiliary: Vec<&Made> =
        made.made.iter().filter(|made| matches!(made, Made::Auxiliary { .. })).collect();
    let effect = network.find("effect").unwrap();
    let expected: Vec<Made> = (1..=2).map(|number| Made::Auxiliary { of: effect, number }).collect();
    assert_eq!(auxiliary, expected.iter().collect::<Vec<_>>());
    let parents: Vec<usize> =
        tables.iter().map(|table| table.parents.len()).filter(|&count| count > 0).collect();
    assert_eq!(parents, [5, 5, 4], "the leak and five causes, four more, and the last three");
}

#[test]
fn a_node_without_contributions_is_normal() {
    let mut network = Network::new();
    network.add("never", 3, Law::Max { shape: Shape::Ladder { grades: 3 }, paths: Vec::new() }).unwrap();
    assert_eq!(of(&plain(&network, 1).unwrap())[0].entries, [1.0, 0.0, 0.0]);
}
