//! A network takes sound nodes, refuses the rest by name, and knows who hangs on whom

use pinboss::network::fault::Fault;
use pinboss::network::shape::Shape;
use pinboss::network::{Law, Network, NodeId, Path};
use rstest::rstest;

fn root(rows: &[f64]) -> Law {
    Law::Table { parents: Vec::new(), rows: rows.to_vec() }
}

fn leak(shape: Shape, rows: &[f64]) -> Law {
    Law::Max { shape, paths: vec![Path { parents: Vec::new(), rows: rows.to_vec() }] }
}

#[rstest]
#[case::no_state(0, root(&[]), Fault::States { states: 0 })]
#[case::other_shape(2, leak(Shape::Ladder { grades: 3 }, &[1.0, 0.0, 0.0]), Fault::Shape { states: 2, shape: 3 })]
#[case::too_few(3, root(&[0.5, 0.5]), Fault::Length { given: 2, needed: 3 })]
#[case::too_many(2, root(&[0.5, 0.5, 0.0, 1.0]), Fault::Length { given: 4, needed: 2 })]
#[case::negative(2, root(&[1.5, -0.5]), Fault::Entry { place: 0, value: 1.5 })]
#[case::infinite(2, root(&[0.0, f64::INFINITY]), Fault::Entry { place: 1, value: f64::INFINITY })]
#[case::sum(2, root(&[0.5, 0.5 + 1e-8]), Fault::RowSum { row: 0, sum: 0.5 + (0.5 + 1e-8) })]
#[case::leak_sum(2, leak(Shape::Ladder { grades: 2 }, &[0.5, 0.25]), Fault::RowSum { row: 0, sum: 0.75 })]
fn unsound_numbers_are_refused(#[case] states: usize, #[case] law: Law, #[case] fault: Fault) {
    let mut network = Network::new();
    assert_eq!(network.add("faulty", states, law), Err(fault));
    assert!(network.is_empty());
}

#[test]
fn a_number_that_is_none_is_refused() {
    let fault = Network::new().add("faulty", 2, root(&[f64::NAN, 1.0])).unwrap_err();
    assert!(matches!(fault, Fault::Entry { place: 0, value } if value.is_nan()));
}

#[test]
fn rounded_rows_are_taken() {
    let mut network = Network::new();
    assert!(network.add("thirds", 3, root(&[0.333_333_333_3, 0.333_333_333_3, 0.333_333_333_3])).is_ok());
}

#[test]
fn parents_must_be_there_and_once() {
    let mut elsewhere = Network::new();
    elsewhere.add("first", 2, root(&[0.5, 0.5])).unwrap();
    let stranger = elsewhere.add("second", 2, root(&[0.5, 0.5])).unwrap();
    let mut network = Network::new();
    let known = network.add("known", 2, root(&[0.5, 0.5])).unwrap();
    let rows = vec![0.5; 4];
    let law = Law::Table { parents: vec![stranger], rows: rows.clone() };
    assert_eq!(network.add("child", 2, law), Err(Fault::UnknownParent { parent: 1 }));
    let path = Path { parents: vec![known, known], rows };
    let law = Law::Max { shape: Shape::Ladder { grades: 2 }, paths: vec![path] };
    assert_eq!(network.add("child", 2, law), Err(Fault::RepeatedParent { parent: 0 }));
    assert_eq!(network.len(), 1);
}

#[test]
fn a_table_past_counting_is_refused() {
    let mut network = Network::new();
    let parents: Vec<NodeId> = (0..70)
        .map(|number| network.add(format!("parent {number}"), 2, root(&[0.5, 0.5])).unwrap())
        .collect();
    let fault = network.add("child", 2, Law::Table { parents, rows: Vec::new() }).unwrap_err();
    assert_eq!(fault, Fault::Length { given: 0, needed: usize::MAX });
}

#[test]
fn relations_are_told() {
    let mut network = Network::new();
    let a = network.add("a", 2, root(&[0.5, 0.5])).unwrap();
    let b = network.add("b", 3, root(&[0.5, 0.25, 0.25])).unwrap();
    let one = |parents: Vec<NodeId>, rows: usize| Path { parents, rows: [0.5, 0.5].repeat(rows) };
    let paths = vec![one(vec![b], 3), one(vec![], 1), one(vec![a, b], 6)];
    let c = network.add("c", 2, Law::Max { shape: Shape::Ladder { grades: 2 }, paths }).unwrap();
    let d = network.add("d", 2, Law::Table { parents: vec![c], rows: vec![0.5; 4] }).unwrap();
    assert_eq!(network.parents(c), [b, a], "in the order of first mention");
    assert_eq!(network.children(a), [c]);
    assert_eq!(network.children(c), [d]);
    assert_eq!(network.ancestors(&[c]), [a, b, c]);
    assert_eq!(network.ancestors(&[]), []);
    assert_eq!(network.nodes().collect::<Vec<_>>(), [a, b, c, d]);
    assert_eq!((network.find("c"), network.find("e")), (Some(c), None));
    assert_eq!((network.at(3), network.at(4)), (Some(d), None));
    assert_eq!((network.name(b), network.states(b), b.index()), ("b", 3, 1));
}

#[test]
fn numbers_change_but_parents_do_not() {
    let mut network = Network::new();
    let a = network.add("a", 2, root(&[0.5, 0.5])).unwrap();
    let b = network.add("b", 2, root(&[0.5, 0.5])).unwrap();
    let c = network.add("c", 2, Law::Table { parents: vec![a], rows: vec![0.5; 4] }).unwrap();
    let changed = Law::Table { parents: vec![a], rows: vec![1.0, 0.0, 0.25, 0.75] };
    network.change(c, changed.clone()).unwrap();
    assert_eq!(network.law(c), &changed);
    let moved = Law::Table { parents: vec![b], rows: vec![0.5; 4] };
    assert_eq!(network.change(c, moved), Err(Fault::UnknownParent { parent: 1 }));
    assert_eq!(network.change(a, root(&[0.5, 0.25])), Err(Fault::RowSum { row: 0, sum: 0.75 }));
    assert_eq!(network.law(c), &changed);
}
