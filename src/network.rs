//! Discrete Bayesian network of plain tables and noisy-MAX nodes, of no trade
//!
//! Noisy-MAX rather than one full table a symptom: a symptom with six parents of three grades has 729 rows nobody can write.
//! Independent paths are what an instructor can say: of a hundred with this cause, sixty show it.

use std::fmt;
use std::hash::{DefaultHasher, Hash, Hasher};

use petgraph::Direction;
use petgraph::graph::{DiGraph, NodeIndex};

use crate::invariant::Hold;
use crate::network::fault::Fault;
use crate::network::shape::Shape;
use fixedbitset::FixedBitSet;

pub mod fault;
pub mod open;
pub mod plain;
pub mod shape;
pub mod twin;

/// How far a row may stray from adding up to 1: room for rounding of printed tables and no more
const ROW_TOLERANCE: f64 = 1e-9;

/// Why the states of a node's parents are known when its own turn comes
pub(crate) const PARENTS_FIRST: &str = "a node is added after its parents";

/// One row of a table with so many states to a row
pub(crate) fn row(rows: &[f64], states: usize, number: usize) -> &[f64] {
    let start = number * states;
    rows.get(start..start + states).hold("a table has a row for every combination of its parents' states")
}

/// Name of a node within the network that handed it out
///
/// INVARIANT: only [`Network::add`] makes one, so it always is in range there; using it with
/// another network is a mistake of the caller.
#[derive(Copy, Clone, Eq, PartialEq, Ord, PartialOrd, Hash, Debug)]
pub struct NodeId(u32);

impl NodeId {
    /// Place of the node in the order of adding, from 0
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

impl fmt::Display for NodeId {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}", self.0)
    }
}

/// One independent contribution to a noisy-MAX node; without parents it is the leak
#[derive(Clone, PartialEq, Debug)]
pub struct Path {
    /// Nodes that open or shut the path, each named once; other paths of the node may share them
    pub parents: Vec<NodeId>,
    /// P(contribution | parents): one row for each parent configuration, last parent fastest, with
    /// one entry for each state of the node
    pub rows: Vec<f64>,
}

/// How a node's state comes about from its parents
#[derive(Clone, PartialEq, Debug)]
pub enum Law {
    /// A full table
    Table {
        /// Parents, each named once
        parents: Vec<NodeId>,
        /// P(state | parents): one row for each parent configuration, last parent fastest
        rows: Vec<f64>,
    },
    /// Noisy-MAX: the join of all paths' contributions, which are independent given the parents;
    /// without paths the node is normal for certain (Henrion 1989, Díez 1993)
    Max {
        /// Shape of the states
        shape: Shape,
        /// Contributions
        paths: Vec<Path>,
    },
}

impl PartialEq for Network {
    fn eq(&self, other: &Self) -> bool {
        self.len() == other.len() && self.nodes().all(|id| self.node(id) == other.node(id))
    }
}

/// Acyclic network of discrete nodes
#[derive(Clone, Default, Debug)]
pub struct Network {
    graph: DiGraph<Node, ()>,
}

#[derive(Clone, PartialEq, Debug)]
struct Node {
    name: String,
    states: usize,
    law: Law,
    parents: Vec<NodeId>,
}

impl Network {
    /// Network without nodes
    pub fn new() -> Self {
        Self::default()
    }

    /// New node with `states` states under `law`, whose parents must be there already
    ///
    /// # Errors
    ///
    /// The first [`Fault`] found in the numbers; the network is unchanged then.
    pub fn add(&mut self, name: impl Into<String>, states: usize, law: Law) -> Result<NodeId, Fault> {
        let index = u32::try_from(self.graph.node_count()).ok();
        let index = index.filter(|_| states > 0).ok_or(Fault::States { states })?;
        self.check(states, &law)?;
        let id = NodeId(index);
        let parents = distinct_parents(&law);
        let node = Node { name: name.into(), states, law, parents: parents.clone() };
        let place = self.graph.add_node(node);
        for parent in parents {
            self.graph.add_edge(place_of(parent), place, ());
        }
        Ok(id)
    }

    /// Same network with another law under `id`, of the same states and parents
    ///
    /// # Errors
    ///
    /// The first [`Fault`] found in the numbers; [`Fault::UnknownParent`] for a parent the node
    /// did not have before. The network is unchanged then.
    pub fn change(&mut self, id: NodeId, law: Law) -> Result<(), Fault> {
        self.check(self.states(id), &law)?;
        let stranger = distinct_parents(&law).into_iter().find(|parent| !self.parents(id).contains(parent));
        if let Some(parent) = stranger {
            return Err(Fault::UnknownParent { parent: parent.index() });
        }
        if let Some(node) = self.graph.node_weight_mut(place_of(id)) {
            node.law = law;
        }
        Ok(())
    }

    /// Number that networks with the same nodes share, and others hardly ever
    pub fn fingerprint(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        for id in self.nodes() {
            let node = self.node(id);
            (&node.name, node.states).hash(&mut hasher);
            match &node.law {
                Law::Table { parents, rows } => hash_table(parents, rows, &mut hasher),
                Law::Max { paths, .. } => {
                    paths.iter().for_each(|path| hash_table(&path.parents, &path.rows, &mut hasher));
                }
            }
        }
        hasher.finish()
    }

    /// Number of nodes
    pub fn len(&self) -> usize {
        self.graph.node_count()
    }

    /// Whether there is no node
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// All nodes in the order of adding, every parent before its children
    pub fn nodes(&self) -> impl ExactSizeIterator<Item = NodeId> + use<> {
        (0..self.graph.node_count() as u32).map(NodeId)
    }

    /// Node at a place in the order of adding
    pub fn at(&self, index: usize) -> Option<NodeId> {
        let id = u32::try_from(index).ok()?;
        (index < self.len()).then_some(NodeId(id))
    }

    /// First node of a name
    pub fn find(&self, name: &str) -> Option<NodeId> {
        self.nodes().find(|&id| self.name(id) == name)
    }

    /// Name given when the node was added
    pub fn name(&self, id: NodeId) -> &str {
        &self.node(id).name
    }

    /// Number of states, at least 1
    pub fn states(&self, id: NodeId) -> usize {
        self.node(id).states
    }

    /// Law of the node
    pub fn law(&self, id: NodeId) -> &Law {
        &self.node(id).law
    }

    /// Parents over all tables of the node, each once, in the order of first mention
    pub fn parents(&self, id: NodeId) -> &[NodeId] {
        &self.node(id).parents
    }

    /// Children, in the order of adding
    pub fn children(&self, id: NodeId) -> Vec<NodeId> {
        let mut children: Vec<NodeId> = self
            .graph
            .neighbors_directed(place_of(id), Direction::Outgoing)
            .map(|place| NodeId(place.index() as u32))
            .collect();
        children.sort_unstable();
        children
    }

    /// The nodes given and everything above them, in the order of adding
    pub fn ancestors(&self, of: &[NodeId]) -> Vec<NodeId> {
        let mut seen = FixedBitSet::with_capacity(self.len());
        let mut open: Vec<NodeId> = of.to_vec();
        while let Some(id) = open.pop() {
            if !seen.put(id.index()) {
                open.extend(self.parents(id));
            }
        }
        self.nodes().filter(|id| seen.contains(id.index())).collect()
    }

    fn node(&self, id: NodeId) -> &Node {
        &self.graph[place_of(id)]
    }

    fn check(&self, states: usize, law: &Law) -> Result<(), Fault> {
        match law {
            Law::Table { parents, rows } => self.check_table(states, parents, rows),
            Law::Max { shape, paths } => {
                if shape.states() != states {
                    return Err(Fault::Shape { states, shape: shape.states() });
                }
                paths.iter().try_for_each(|path| self.check_table(states, &path.parents, &path.rows))
            }
        }
    }

    fn check_table(&self, states: usize, parents: &[NodeId], rows: &[f64]) -> Result<(), Fault> {
        let mut needed = Some(states);
        for (place, parent) in parents.iter().enumerate() {
            if parent.index() >= self.len() {
                return Err(Fault::UnknownParent { parent: parent.index() });
            }
            if parents.iter().take(place).any(|other| other == parent) {
                return Err(Fault::RepeatedParent { parent: parent.index() });
            }
            needed = needed.and_then(|needed| needed.checked_mul(self.states(*parent)));
        }
        if needed != Some(rows.len()) {
            let needed = needed.unwrap_or(usize::MAX); // else: more than can be counted
            return Err(Fault::Length { given: rows.len(), needed });
        }
        check_rows(states, rows)
    }
}

fn hash_table(parents: &[NodeId], rows: &[f64], hasher: &mut impl Hasher) {
    parents.hash(hasher);
    rows.iter().for_each(|entry| entry.to_bits().hash(hasher));
}

fn check_rows(states: usize, rows: &[f64]) -> Result<(), Fault> {
    if let Some((place, &value)) = rows.iter().enumerate().find(|(_, value)| !(0.0..=1.0).contains(*value)) {
        return Err(Fault::Entry { place, value });
    }
    for (row, entries) in rows.chunks(states).enumerate() {
        let sum: f64 = entries.iter().sum();
        if (sum - 1.0).abs() > ROW_TOLERANCE {
            return Err(Fault::RowSum { row, sum });
        }
    }
    Ok(())
}

fn distinct_parents(law: &Law) -> Vec<NodeId> {
    let mut parents: Vec<NodeId> = Vec::new();
    let mut note = |named: &[NodeId]| {
        for parent in named {
            if !parents.contains(parent) {
                parents.push(*parent);
            }
        }
    };
    match law {
        Law::Table { parents, .. } => note(parents),
        Law::Max { paths, .. } => paths.iter().for_each(|path| note(&path.parents)),
    }
    parents
}

fn place_of(id: NodeId) -> NodeIndex {
    NodeIndex::new(id.index())
}
