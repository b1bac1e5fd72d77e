//! Order of facts and conditions, parents first; a ring is told with every block in it.

use crate::model::{Common, ConditionId, FactId, Hidden, Model};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use petgraph::algo::tarjan_scc;
use petgraph::graph::{DiGraph, NodeIndex};
use std::collections::BTreeSet;

/// Sets the orders of the model, or tells the rings that forbid one
pub(super) fn check(model: &mut Model, problems: &mut Problems) {
    let facts: Vec<Vec<usize>> = model
        .facts
        .iter()
        .map(|fact| {
            let tests = fact.shares.iter().flat_map(|(test, _)| test.facts());
            tests.chain(fact.common.gate.facts()).map(|id| id.0).collect()
        })
        .collect();
    let conditions: Vec<Vec<usize>> = model
        .conditions
        .iter()
        .map(|condition| {
            let parents = condition.lines.iter().flat_map(|line| &line.parents);
            parents
                .filter_map(|parent| match parent.of {
                    Hidden::Condition(id) => Some(id.0),
                    Hidden::Cause(_) => None,
                })
                .collect()
        })
        .collect();
    let common: Vec<&Common> = model.facts.iter().map(|fact| &fact.common).collect();
    let fact_order = order(&facts, &common, problems);
    let common: Vec<&Common> = model.conditions.iter().map(|it| &it.common).collect();
    let condition_order = order(&conditions, &common, problems);
    model.fact_order = fact_order.into_iter().map(FactId).collect();
    model.condition_order = condition_order.into_iter().map(ConditionId).collect();
}

/// Numbers in an order in which parents come first, ties by number
fn order(parents: &[Vec<usize>], common: &[&Common], problems: &mut Problems) -> Vec<usize> {
    let mut graph: DiGraph<usize, ()> = DiGraph::new();
    let nodes: Vec<NodeIndex> = (0..parents.len()).map(|number| graph.add_node(number)).collect();
    for (child, parents) in nodes.iter().zip(parents) {
        for parent in parents.iter().filter_map(|&parent| nodes.get(parent)) {
            graph.update_edge(*parent, *child, ());
        }
    }
    for knot in tarjan_scc(&graph) {
        let numbers: BTreeSet<usize> =
            knot.iter().filter_map(|&node| graph.node_weight(node).copied()).collect();
        let itself = numbers.iter().any(|&number| parents.get(number).is_some_and(|it| it.contains(&number)));
        if numbers.len() > 1 || itself {
            ring(&numbers, parents, common, problems);
        }
    }
    let mut order = Vec::new();
    let mut placed = BTreeSet::new();
    while let Some(next) = (0..parents.len()).find(|number| {
        !placed.contains(number)
            && parents.get(*number).is_none_or(|it| it.iter().all(|parent| placed.contains(parent)))
    }) {
        placed.insert(next);
        order.push(next);
    }
    order
}

/// Tells one ring among blocks that all depend on one another
fn ring(knot: &BTreeSet<usize>, parents: &[Vec<usize>], common: &[&Common], problems: &mut Problems) {
    let mut walked: Vec<usize> = knot.first().copied().into_iter().collect();
    while let Some(&last) = walked.last() {
        let Some(&next) = parents.get(last).and_then(|it| it.iter().find(|parent| knot.contains(parent)))
        else {
            return;
        };
        if let Some(start) = walked.iter().position(|&number| number == next) {
            walked.drain(..start);
            break;
        }
        walked.push(next);
    }
    walked.reverse();
    let blocks: Vec<&&Common> = walked.iter().filter_map(|&number| common.get(number)).collect();
    let Some(first) = blocks.first() else { return };
    let names: Vec<&str> =
        blocks.iter().map(|block| block.name.as_str()).chain([first.name.as_str()]).collect();
    let mut problem = Problem::new(
        Code::Loop,
        first.at,
        format!("these blocks bring one another about in a ring: {}", names.join(" → ")),
    )
    .help("take one of the `with` lines out: what comes first must not depend on what follows from it");
    for block in blocks.iter().skip(1) {
        problem = problem.also(block.at, "in the ring");
    }
    problems.push(problem);
}
