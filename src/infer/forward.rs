//! A network drawn forward: every node from the row that its parents' states choose, nothing being known

use crate::infer::draw::Dice;
use crate::invariant::Hold;
use crate::network::{self, Law, Network, NodeId};

/// State of every node by its place in the network, drawn parents first; none as soon as `keep` refuses a state drawn
pub fn forward(
    network: &Network,
    dice: &mut Dice,
    keep: impl Fn(NodeId, usize) -> bool,
) -> Option<Vec<usize>> {
    let mut states: Vec<usize> = Vec::with_capacity(network.len());
    for node in network.nodes() {
        let state = match network.law(node) {
            Law::Table { parents, rows } => draw(network, parents, rows, network.states(node), &states, dice),
            Law::Max { shape, paths } => paths.iter().fold(0, |state, path| {
                let drawn = draw(network, &path.parents, &path.rows, shape.states(), &states, dice);
                shape.join(state, drawn)
            }),
        };
        if !keep(node, state) {
            return None;
        }
        states.push(state);
    }
    Some(states)
}

/// A state drawn from the row of a table that the parents' states choose
fn draw(
    network: &Network,
    parents: &[NodeId],
    rows: &[f64],
    count: usize,
    states: &[usize],
    dice: &mut Dice,
) -> usize {
    let row = parents.iter().fold(0, |row, parent| {
        row * network.states(*parent) + *states.get(parent.index()).hold(network::PARENTS_FIRST)
    });
    let shares = rows.iter().skip(row * count).take(count);
    let mut rest = dice.unit();
    for (state, share) in shares.enumerate() {
        rest -= share;
        if rest < 0.0 {
            return state;
        }
    }
    0
}
