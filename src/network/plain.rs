//! A network as plain tables alone, for programs that know no noisy-MAX

use crate::network::fault::Fault;
use crate::network::shape::Shape;
use crate::network::{self, Law, Network, NodeId, Path};

/// Entries past which the table of a noisy-MAX node is divided among auxiliary nodes
///
/// A plain table ties all its parents together; at 64 entries that is no more than five parents of two states at a node
/// of two, or two of four states at a node of four, which a chain would tie nearly as closely. From there on a table
/// doubles with each parent, and so does the work of whoever reads it, while a chain grows by one link.
pub const MOST_ENTRIES: usize = 64;

/// A network whose nodes all have plain tables, and what each of them stands for
#[derive(Clone, Debug, Default)]
pub struct Plain {
    /// Nodes of the network it was made from, in their order, each with its auxiliary nodes before it
    pub network: Network,
    /// What each node stands for, by its index
    pub made: Vec<Made>,
}

/// What a node of a plain network stands for
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Made {
    /// The node of the network it was made from, with the same states
    Node(NodeId),
    /// Join of some of a node's contributions
    Auxiliary {
        /// The node, which has the same states
        of: NodeId,
        /// Number among the auxiliary nodes of that node, from 1
        number: usize,
    },
}

impl Plain {
    /// The plain node that stands for a node of the network it was made from
    pub fn node(&self, of: NodeId) -> Option<NodeId> {
        self.made.iter().position(|made| *made == Made::Node(of)).and_then(|index| self.network.at(index))
    }
}

/// The same joint distribution over the same nodes, by plain tables
///
/// A noisy-MAX node whose table would have more than `most` entries becomes a chain of auxiliary nodes, each the join of
/// the one before with as many further contributions as fit (parent divorcing: Olesen, Kjærulff, Jensen and others 1989;
/// Díez and Galán 2003). One contribution is never divided, however large; nor is a plain table.
///
/// # Errors
///
/// [`Fault::RowSum`] when rows that stray from adding up to 1 stray too far once they are multiplied out.
pub fn plain(network: &Network, most: usize) -> Result<Plain, Fault> {
    let mut plain = Plain::default();
    let mut places: Vec<NodeId> = Vec::with_capacity(network.len());
    for id in network.nodes() {
        let place = match network.law(id) {
            Law::Table { parents, rows } => {
                let law = Law::Table { parents: at(parents, &places), rows: rows.clone() };
                plain.add(network, Made::Node(id), law)?
            }
            Law::Max { shape, paths } => {
                let paths: Vec<Path> = paths
                    .iter()
                    .map(|path| Path { parents: at(&path.parents, &places), rows: path.rows.clone() })
                    .collect();
                plain.add_joined(network, id, *shape, &paths, most)?
            }
        };
        places.push(place);
    }
    Ok(plain)
}

/// Where some nodes went
fn at(nodes: &[NodeId], places: &[NodeId]) -> Vec<NodeId> {
    nodes.iter().filter_map(|node| places.get(node.index()).copied()).collect()
}

impl Plain {
    fn add(&mut self, network: &Network, made: Made, law: Law) -> Result<NodeId, Fault> {
        let (of, name) = match made {
            Made::Node(of) => (of, network.name(of).to_owned()),
            Made::Auxiliary { of, number } => (of, format!("auxiliary {number} of {}", network.name(of))),
        };
        let id = self.network.add(name, network.states(of), law)?;
        self.made.push(made);
        Ok(id)
    }

    /// A noisy-MAX node, behind as many auxiliary nodes as it takes
    fn add_joined(
        &mut self,
        network: &Network,
        of: NodeId,
        shape: Shape,
        paths: &[Path],
        most: usize,
    ) -> Result<NodeId, Fault> {
        let mut before = None;
        let mut rest = paths;
        for number in 1.. {
            let (now, later) = rest.split_at(self.fitting(shape, before, rest, most));
            let law = self.joined(shape, before, now);
            if later.is_empty() {
                return self.add(network, Made::Node(of), law);
            }
            before = Some(self.add(network, Made::Auxiliary { of, number }, law)?);
            rest = later;
        }
        // The loop has no end but the return: each turn takes at least one path.
        Err(Fault::States { states: shape.states() })
    }

    /// How many of the next contributions one table holds, at least one if there is any
    fn fitting(&self, shape: Shape, before: Option<NodeId>, paths: &[Path], most: usize) -> usize {
        let mut parents: Vec<NodeId> = before.into_iter().collect();
        let fits = |path: &&Path| {
            parents = union(&parents, &path.parents);
            let entries = parents.iter().try_fold(shape.states(), |entries, &parent| {
                entries.checked_mul(self.network.states(parent))
            });
            entries.is_some_and(|entries| entries <= most)
        };
        paths.iter().take_while(fits).count().max(1).min(paths.len())
    }

    /// Table of the join of some contributions, and of the auxiliary node before them
    fn joined(&self, shape: Shape, before: Option<NodeId>, paths: &[Path]) -> Law {
        let parents = paths
            .iter()
            .fold(before.into_iter().collect::<Vec<_>>(), |parents, path| union(&parents, &path.parents));
        let sizes: Vec<usize> = parents.iter().map(|&parent| self.network.states(parent)).collect();
        let mut rows = Vec::new();
        for states in configurations(&sizes) {
            let state_of = |parent: &NodeId| {
                let known = parents.iter().zip(&states).find(|(other, _)| *other == parent);
                known.map_or(0, |(_, &state)| state)
            };
            let start = before.as_ref().map_or(0, state_of);
            let mut row: Vec<f64> =
                (0..shape.states()).map(|state| f64::from(u8::from(state == start))).collect();
            for path in paths {
                let number = path
                    .parents
                    .iter()
                    .fold(0, |number, parent| number * self.network.states(*parent) + state_of(parent));
                row = join(shape, &row, network::row(&path.rows, shape.states(), number));
            }
            // Many products may add up to a little over 1 by rounding.
            rows.extend(row.into_iter().map(|entry| entry.min(1.0)));
        }
        Law::Table { parents, rows }
    }
}

/// Each node once, in the order of first mention
fn union(known: &[NodeId], further: &[NodeId]) -> Vec<NodeId> {
    let new = further.iter().filter(|node| !known.contains(node));
    known.iter().chain(new).copied().collect()
}

/// Every combination of states, the last node running fastest
fn configurations(sizes: &[usize]) -> Vec<Vec<usize>> {
    let mut all = vec![Vec::new()];
    for &size in sizes {
        let extend = |known: Vec<usize>| {
            (0..size).map(move |state| known.iter().copied().chain([state]).collect::<Vec<_>>())
        };
        all = all.into_iter().flat_map(extend).collect();
    }
    all
}

/// Distribution of the join of two independent states
fn join(shape: Shape, a: &[f64], b: &[f64]) -> Vec<f64> {
    let mut joined = vec![0.0; shape.states()];
    for (first, x) in a.iter().enumerate() {
        for (second, y) in b.iter().enumerate() {
            if let Some(entry) = joined.get_mut(shape.join(first, second)) {
                *entry += x * y;
            }
        }
    }
    joined
}
