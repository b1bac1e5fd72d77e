//! The strengths that the answers for an inspection can hang on, and for each the tables of the network that change with it.

use super::reweighing::Reweighing;
use super::scale::one_step;
use super::strength::{Block, Strength};
use crate::ground::{EffectId, Origin};
use crate::model::{CauseId, ConditionId, Model, SymptomId};
use crate::network::{Law, Network, NodeId};

/// A strength with what it moves on this machine
pub struct Movable {
    /// The strength
    pub strength: Strength,
    /// What it is in the rules, over 0 and under 1
    pub from: f64,
    /// One step of the scale down and up, the latter no further than its line leaves room for
    pub ends: (f64, f64),
    /// The tables that change with it, as they are with it one step down; one for each place of the machine where it counts
    pub down: Vec<Moved>,
}

/// A table of a node with its rows under a moved strength
pub struct Moved {
    /// The node
    pub node: NodeId,
    /// Number of the table among those of the node
    pub table: usize,
    /// Its rows
    pub rows: Vec<f64>,
}

impl Movable {
    /// The nodes whose numbers it moves
    pub fn nodes(&self) -> Vec<NodeId> {
        let mut nodes: Vec<NodeId> = self.down.iter().map(|moved| moved.node).collect();
        nodes.dedup();
        nodes
    }
}

/// All strengths that the answers can hang on, in the order of the rules. Each is moved in `model` to see
/// which tables change, and put back
pub fn movable(model: &mut Model, reweighing: &Reweighing<'_>) -> Vec<Movable> {
    let mut found = Vec::new();
    for block in blocks(model) {
        let nodes: Vec<NodeId> =
            reweighing.bearing.iter().copied().filter(|node| is_of(reweighing, block, *node)).collect();
        if nodes.is_empty() {
            continue;
        }
        for strength in block.strengths(model) {
            let from = strength.of(model).unwrap_or(0.0); // else: nothing there can be moved
            if from <= 0.0 || from >= 1.0 {
                continue;
            }
            let (down, up) = one_step(model, from);
            let ends = (down, up.min(strength.most(model)));
            strength.put(model, down);
            let down = nodes.iter().flat_map(|node| moved(reweighing, model, *node)).collect();
            strength.put(model, from);
            found.push(Movable { strength, from, ends, down });
        }
    }
    found
}

fn blocks(model: &Model) -> Vec<Block> {
    let causes = (0..model.causes.len()).map(|number| Block::Cause(CauseId(number)));
    let conditions = (0..model.conditions.len()).map(|number| Block::Condition(ConditionId(number)));
    let symptoms = (0..model.symptoms.len()).map(|number| Block::Symptom(SymptomId(number)));
    causes.chain(conditions).chain(symptoms).collect()
}

fn is_of(reweighing: &Reweighing<'_>, block: Block, node: NodeId) -> bool {
    match (block, reweighing.ground.origin(node)) {
        (Block::Cause(id), Some(Origin::Cause(own, _))) => id == *own,
        (
            Block::Condition(id),
            Some(Origin::Condition(own, _) | Origin::Shared(EffectId::Condition(own), _)),
        ) => id == *own,
        (Block::Symptom(id), Some(Origin::Symptom(own, _) | Origin::Shared(EffectId::Symptom(own), _))) => {
            id == *own
        }
        _ => false,
    }
}

/// The tables of a node whose numbers differ by `model` from those of the inspection
fn moved(reweighing: &Reweighing<'_>, model: &Model, node: NodeId) -> Vec<Moved> {
    let network: &Network = &reweighing.ground.network;
    match (network.law(node), reweighing.ground.law(model, node)) {
        (Law::Table { rows: old, .. }, Some(Law::Table { rows, .. })) if *old != rows => {
            vec![Moved { node, table: 0, rows }]
        }
        (Law::Max { paths: old, .. }, Some(Law::Max { paths, .. })) => {
            let tables = old.iter().zip(paths).enumerate();
            let changed = tables.filter(|(_, (old, new))| old.rows != new.rows);
            changed.map(|(table, (_, new))| Moved { node, table, rows: new.rows }).collect()
        }
        _ => Vec::new(),
    }
}
