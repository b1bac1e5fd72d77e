//! The graph of a whole set of rules: a node for each block, whatever its places.

use super::{Edge, Graph, Node, Sort};
use crate::invariant::Hold;
use crate::model::test::Test;
use crate::model::{CauseId, Common, Effect, Extent, FactId, Hidden, Line, Model, PartId, SymptomId};
use crate::reason::standing::Block;
use crate::report::words::capital;
use std::collections::{BTreeMap, BTreeSet};

/// The cluster of what belongs to no one part
const SEVERAL: &str = "Whole machine, or more than one part";

/// The graph of the rules
pub fn of_rules(model: &Model) -> Graph {
    let blocks = blocks(model);
    let edges = edges(model, &blocks);
    let parts = parts(model, &blocks, &edges);
    let mut clusters: BTreeSet<Option<PartId>> = parts.iter().copied().collect();
    let has_rest = clusters.remove(&None);
    let order: Vec<Option<PartId>> = has_rest.then_some(None).into_iter().chain(clusters).collect();
    let cluster =
        |part: &Option<PartId>| order.iter().position(|own| own == part).hold("every part has a cluster");
    let nodes = blocks.iter().zip(&parts).map(|(block, part)| {
        let common = common(model, *block);
        Node {
            id: common.name.clone(),
            name: common.name.clone(),
            label: common.label.clone(),
            sort: sort(*block),
            cluster: cluster(part),
            lines: Vec::new(),
            seen: false,
            abnormal: false,
        }
    });
    Graph {
        title: "What brings about what, by the rules".to_owned(),
        nodes: nodes.collect(),
        edges,
        clusters: order.iter().map(|part| title(model, *part)).collect(),
    }
}

/// The part each block of the rules belongs to: the one it names, or that of most it leads to, for a fact of all
pub(super) fn part_of(model: &Model) -> BTreeMap<Block, Option<PartId>> {
    let blocks = blocks(model);
    let edges = edges(model, &blocks);
    blocks.iter().copied().zip(parts(model, &blocks, &edges)).collect()
}

pub(super) fn title(model: &Model, part: Option<PartId>) -> String {
    part.map_or_else(|| SEVERAL.to_owned(), |part| capital(&model[part].common.label))
}

pub(super) fn sort(block: Block) -> Sort {
    match block {
        Block::Fact(_) => Sort::Fact,
        Block::Hidden(Hidden::Cause(_)) => Sort::Cause,
        Block::Hidden(Hidden::Condition(_)) => Sort::Condition,
        Block::Symptom(_) => Sort::Symptom,
    }
}

pub(super) fn common(model: &Model, block: Block) -> &Common {
    match block {
        Block::Fact(id) => &model[id].common,
        Block::Hidden(hidden) => model.common(hidden),
        Block::Symptom(id) => &model[id].effect.common,
    }
}

/// All blocks that are nodes, every one after those that bring it about
fn blocks(model: &Model) -> Vec<Block> {
    let facts = model.fact_order.iter().map(|id| Block::Fact(*id));
    let causes = (0..model.causes.len()).map(|number| Block::Hidden(Hidden::Cause(CauseId(number))));
    let conditions = model.condition_order.iter().map(|id| Block::Hidden(Hidden::Condition(*id)));
    let symptoms = (0..model.symptoms.len()).map(|number| Block::Symptom(SymptomId(number)));
    facts.chain(causes).chain(conditions).chain(symptoms).collect()
}

fn edges(model: &Model, blocks: &[Block]) -> Vec<Edge> {
    let number: BTreeMap<Block, usize> = blocks.iter().enumerate().map(|(at, block)| (*block, at)).collect();
    let mut edges = BTreeSet::new();
    for (to, block) in blocks.iter().enumerate() {
        let above = above(model, *block);
        edges.extend(above.iter().filter_map(|above| Some(Edge { from: *number.get(above)?, to })));
    }
    edges.into_iter().collect()
}

/// What a block hangs on
fn above(model: &Model, block: Block) -> Vec<Block> {
    let facts = |tests: Vec<&Test>| -> Vec<Block> {
        let facts = tests.into_iter().flat_map(Test::facts).collect::<Vec<FactId>>();
        facts.into_iter().map(Block::Fact).collect()
    };
    let of_effect = |effect: &Effect| {
        let lines = effect.lines.iter().map(|line: &Line| &line.test);
        let leaks = effect.leaks.iter().map(|leak| &leak.test);
        let mut above = facts(lines.chain(leaks).chain([&effect.common.gate]).collect());
        let parents = effect.lines.iter().flat_map(|line| &line.parents);
        above.extend(parents.map(|parent| Block::Hidden(parent.of)));
        above
    };
    match block {
        Block::Fact(id) => facts(model[id].shares.iter().map(|(test, _)| test).collect()),
        Block::Hidden(Hidden::Cause(id)) => {
            let cause = &model[id];
            facts(cause.chances.iter().map(|chance| &chance.test).chain([&cause.common.gate]).collect())
        }
        Block::Hidden(Hidden::Condition(id)) => of_effect(&model[id]),
        Block::Symptom(id) => of_effect(&model[id].effect),
    }
}

/// The part of each block, in the order of the blocks; children stand after their parents, so they are asked first
fn parts(model: &Model, blocks: &[Block], edges: &[Edge]) -> Vec<Option<PartId>> {
    let mut parts: Vec<Option<PartId>> = vec![None; blocks.len()];
    for (number, block) in blocks.iter().enumerate().rev() {
        let common = common(model, *block);
        let own = match common.extent {
            Extent::Each(part) => Some(part),
            Extent::Machine | Extent::Side => common.part,
        };
        let below = edges.iter().filter(|edge| edge.from == number);
        let below: Vec<Option<PartId>> = below.filter_map(|edge| parts.get(edge.to).copied()).collect();
        let most = below.iter().copied().flatten().find(|part| {
            let same = below.iter().filter(|other| **other == Some(*part)).count();
            2 * same > below.len() && (same == below.len() || !matches!(block, Block::Fact(_)))
        });
        if let Some(slot) = parts.get_mut(number) {
            *slot = own.or(most);
        }
    }
    parts
}
