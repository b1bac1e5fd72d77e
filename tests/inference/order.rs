//! The order in which variables go: by counts that are kept up to date, and the same as by counts made afresh.

use pinboss::infer::order::order;
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// Neighbours of each variable that is still there
type Graph = BTreeMap<usize, BTreeSet<usize>>;

fn graph(count: usize, scopes: &[Vec<usize>]) -> Graph {
    let mut graph: Graph = (0..count).map(|variable| (variable, BTreeSet::new())).collect();
    for (a, b) in
        scopes.iter().flat_map(|scope| scope.iter().flat_map(move |a| scope.iter().map(move |b| (a, b))))
    {
        if a != b {
            graph.get_mut(a).unwrap().insert(*b);
        }
    }
    graph
}

/// Pairs of neighbours that are not neighbours of each other, the size of the table made in 1/1024 of a bit, and the number
fn key(graph: &Graph, states: &[usize], variable: usize) -> (usize, u64, usize) {
    let neighbours: Vec<usize> = graph[&variable].iter().copied().collect();
    let pairs = neighbours
        .iter()
        .enumerate()
        .flat_map(|(place, a)| neighbours[place + 1..].iter().map(move |b| (a, b)));
    let missing = pairs.filter(|(a, b)| !graph[a].contains(b)).count();
    let bits = |variable: usize| (libm::log2(states[variable] as f64) * 1024.0) as u64;
    (missing, bits(variable) + neighbours.iter().map(|next| bits(*next)).sum::<u64>(), variable)
}

/// Takes a variable out, its neighbours becoming neighbours of each other
fn eliminate(graph: &mut Graph, variable: usize) -> BTreeSet<usize> {
    let neighbours = graph.remove(&variable).unwrap();
    for one in &neighbours {
        let own = graph.get_mut(one).unwrap();
        own.extend(neighbours.iter().filter(|other| *other != one));
        own.remove(&variable);
    }
    neighbours
}

proptest! {
    /// At every step the variable goes that couples the fewest pairs, with the neighbours that it has by then
    #[test]
    fn each_step_is_the_least_by_counts_made_afresh(
        scopes in proptest::collection::vec(proptest::collection::vec(0..14_usize, 1..4), 1..25),
        states in proptest::collection::vec(2..5_usize, 14),
    ) {
        let found = order(&states, scopes.iter().map(Vec::as_slice), usize::MAX).ok().unwrap();
        let mut graph = graph(states.len(), &scopes);
        let mut tables = Vec::new();
        for step in &found.steps {
            let least = graph.keys().map(|variable| key(&graph, &states, *variable)).min();
            prop_assert_eq!(Some(key(&graph, &states, step.variable)), least);
            let neighbours = eliminate(&mut graph, step.variable);
            prop_assert_eq!(&step.neighbours.iter().copied().collect::<BTreeSet<_>>(), &neighbours);
            tables.push(neighbours.iter().map(|other| states[*other]).product::<usize>() * states[step.variable]);
        }
        prop_assert!(graph.is_empty());
        prop_assert_eq!((Some(found.largest), found.total), (tables.iter().copied().max(), tables.iter().sum()));
    }

    /// The work is given up at the first table that is too large
    #[test]
    fn it_stops_at_a_table_that_is_too_large(
        scopes in proptest::collection::vec(proptest::collection::vec(0..14_usize, 1..4), 1..25),
        states in proptest::collection::vec(2..5_usize, 14),
    ) {
        let all = || scopes.iter().map(Vec::as_slice);
        let largest = order(&states, all(), usize::MAX).ok().unwrap().largest;
        prop_assert!(order(&states, all(), largest).is_ok());
        prop_assert!(order(&states, all(), largest - 1).err().is_some_and(|entries| entries >= largest));
    }
}
