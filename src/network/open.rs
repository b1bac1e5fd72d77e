//! What truly hangs on what: a table may name a parent and yet say the same whatever that parent's state.
//!
//! A line that given facts shut is a table that says the same whatever its parent, and its causes stand in no statement.

use std::collections::BTreeSet;

use crate::network::{Law, Network, NodeId};

/// The nodes given and everything above them that can make a difference to one of them, in the order of adding
pub fn open_ancestors(network: &Network, of: &[NodeId]) -> Vec<NodeId> {
    let mut reached: BTreeSet<NodeId> = BTreeSet::new();
    let mut open: Vec<NodeId> = of.to_vec();
    while let Some(id) = open.pop() {
        if reached.insert(id) {
            open.extend(open_parents(network, id));
        }
    }
    reached.into_iter().collect()
}

/// Parents that make a difference to a node, each once, in rising order
pub fn open_parents(network: &Network, id: NodeId) -> Vec<NodeId> {
    let mut found = BTreeSet::new();
    let mut note = |parents: &[NodeId], rows: &[f64]| {
        let mut below = network.states(id);
        for parent in parents.iter().rev() {
            let states = network.states(*parent);
            if differs(rows, below, states) {
                found.insert(*parent);
            }
            below *= states;
        }
    };
    match network.law(id) {
        Law::Table { parents, rows } => note(parents, rows),
        Law::Max { paths, .. } => paths.iter().for_each(|path| note(&path.parents, &path.rows)),
    }
    found.into_iter().collect()
}

/// Whether a table says anything else for one state of a parent than for another; `below` is the number of entries for
/// each of its states
fn differs(rows: &[f64], below: usize, states: usize) -> bool {
    rows.chunks(below.saturating_mul(states).max(1)).any(|block| {
        let mut parts = block.chunks(below.max(1));
        parts.next().is_some_and(|first| parts.any(|part| part != first))
    })
}
