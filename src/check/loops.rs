//! Order of facts and conditions, parents first; a ring is told with every block in it.

use crate::model::{Common, ConditionId, FactId, Hidden, Model};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, NodeIndex};
use std::collections::{BTreeMap, BTreeSet};

/// Most blocks of a ring that are named
const MOST_NAMED: usize = 20;

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
    let help = "take one of the tests out: what a fact is must not depend on itself";
    let fact_order = order(&facts, &common, help, problems);
    let common: Vec<&Common> = model.conditions.iter().map(|it| &it.common).collect();
    let help = "take one of the `with` lines out: what comes first must not depend on what follows from it";
    let condition_order = order(&conditions, &common, help, problems);
    let symptoms: Vec<Vec<usize>> =
        model.symptoms.iter().map(|symptom| symptom.gives_way.iter().map(|id| id.0).collect()).collect();
    let common: Vec<&Common> = model.symptoms.iter().map(|it| &it.effect.common).collect();
    let help = "take one of the `gives way` lines out: where all give way to one another none is left";
    order(&symptoms, &common, help, problems);
    model.fact_order = fact_order.into_iter().map(FactId).collect();
    model.condition_order = condition_order.into_iter().map(ConditionId).collect();
}

/// Numbers in an order in which parents come first, ties by number
pub(super) fn order(
    parents: &[Vec<usize>],
    common: &[&Common],
    help: &str,
    problems: &mut Problems,
) -> Vec<usize> {
    let mut graph: DiGraph<usize, ()> = DiGraph::new();
    let nodes: Vec<NodeIndex> = (0..parents.len()).map(|number| graph.add_node(number)).collect();
    for (child, parents) in nodes.iter().zip(parents) {
        let parents: BTreeSet<usize> = parents.iter().copied().collect();
        for parent in parents.into_iter().filter_map(|parent| nodes.get(parent)) {
            graph.add_edge(*parent, *child, ());
        }
    }
    // Not the way of Tarjan: the library goes it by calling itself, as deep as the graph.
    for knot in kosaraju_scc(&graph) {
        let numbers: BTreeSet<usize> =
            knot.iter().filter_map(|&node| graph.node_weight(node).copied()).collect();
        let itself = numbers.iter().any(|&number| parents.get(number).is_some_and(|it| it.contains(&number)));
        if numbers.len() > 1 || itself {
            ring(&numbers, parents, common, help, problems);
        }
    }
    sorted(parents)
}

/// Numbers in an order in which parents come first, the smallest of those that may come next; those in a ring, and
/// what hangs on them, are left out
fn sorted(parents: &[Vec<usize>]) -> Vec<usize> {
    let mut children: Vec<Vec<usize>> = vec![Vec::new(); parents.len()];
    let mut waits: Vec<usize> = vec![0; parents.len()];
    for (number, (own, waits)) in parents.iter().zip(&mut waits).enumerate() {
        let own: BTreeSet<usize> = own.iter().copied().collect();
        *waits = own.len();
        for parent in own {
            if let Some(children) = children.get_mut(parent) {
                children.push(number);
            }
        }
    }
    let free = waits.iter().enumerate().filter(|(_, waits)| **waits == 0);
    let mut free: BTreeSet<usize> = free.map(|(number, _)| number).collect();
    let mut order = Vec::new();
    while let Some(next) = free.pop_first() {
        order.push(next);
        for &child in children.get(next).into_iter().flatten() {
            if let Some(waits) = waits.get_mut(child) {
                *waits -= 1;
                if *waits == 0 {
                    free.insert(child);
                }
            }
        }
    }
    order
}

/// Tells one ring among blocks that all depend on one another
fn ring(
    knot: &BTreeSet<usize>,
    parents: &[Vec<usize>],
    common: &[&Common],
    help: &str,
    problems: &mut Problems,
) {
    let mut walked: Vec<usize> = knot.first().copied().into_iter().collect();
    let mut places: BTreeMap<usize, usize> = BTreeMap::new();
    while let Some(&last) = walked.last() {
        places.insert(last, walked.len() - 1);
        let Some(&next) = parents.get(last).and_then(|it| it.iter().find(|parent| knot.contains(parent)))
        else {
            return;
        };
        if let Some(&start) = places.get(&next) {
            walked.drain(..start);
            break;
        }
        walked.push(next);
    }
    walked.reverse();
    let blocks: Vec<&&Common> = walked.iter().filter_map(|&number| common.get(number)).collect();
    let Some(first) = blocks.first() else { return };
    let mut problem = Problem::new(Code::Loop, first.at, message(&blocks)).help(help);
    for block in blocks.iter().skip(1).take(MOST_NAMED) {
        problem = problem.also(block.at, "in the ring");
    }
    problems.push(problem);
}

/// The ring in words: from each block to the one that hangs on it, and back to the first
fn message(blocks: &[&&Common]) -> String {
    let mut names: Vec<&str> = blocks.iter().map(|block| block.name.as_str()).collect();
    names.extend(blocks.first().map(|block| block.name.as_str()));
    if let [own, _] = names.as_slice() {
        return format!("`{own}` depends on itself");
    }
    if names.len() > MOST_NAMED {
        let left = names.len() - MOST_NAMED;
        names.splice(MOST_NAMED / 2..MOST_NAMED / 2 + left, ["…"]);
    }
    format!("these depend on one another in a ring: {}", names.join(" → "))
}
