//! A network in which some nodes stand twice: as they are, and as they would have been had others been normal.
//!
//! Twins are pairs, not copies: a node that could have been otherwise has the pairs of states that can occur as its states, so
//! that chance is shared without a node for it. Where the parents differ, contributions are coupled monotonically, in the order
//! of the states (Balke and Pearl 1994); the text says what that assumes.

use std::collections::{BTreeMap, BTreeSet};

use crate::network::shape::Shape;
use crate::network::{Law, Network, NodeId, Path, row};

/// Entries past which a table is not laid out: the network would be too wide for any answer
const MOST_ENTRIES: usize = 1 << 20;

/// A state as it is, and as it would have been
pub type Pair = (usize, usize);

/// A twin network (Balke and Pearl 1994, Pearl 2009): all chance is shared by the two, so that they differ only by what
/// was taken away
///
/// A node that could have been otherwise is one node here, whose states are the pairs that can occur.
#[derive(Clone, Debug)]
pub struct Twin {
    /// The network
    pub network: Network,
    /// For each node of the network it was made from its node here, and what each state of that stands for
    places: Vec<(NodeId, Vec<Pair>)>,
}

impl Twin {
    /// The node that stands for one of the network it was made from
    pub fn node(&self, of: NodeId) -> Option<NodeId> {
        self.places.get(of.index()).map(|(node, _)| *node)
    }

    /// What each state of that node stands for
    pub fn pairs(&self, of: NodeId) -> &[Pair] {
        self.places.get(of.index()).map_or(&[], |(_, pairs)| pairs)
    }
}

/// The twin of all that lies between some nodes, had these been in their state 0, and `of`
///
/// Roots are shared. A contribution is the same where its parents are the same in both worlds; where they are not, the
/// two are coupled monotonically: one draw gives both, each as far along the states as its own distribution says, so
/// that what is further from normal with the cause is never nearer to normal without it than need be. Among full
/// tables the same holds for the state itself. None where a table would have over a million entries.
pub fn twin(network: &Network, of: NodeId, normal: &[NodeId]) -> Option<Twin> {
    let otherwise = between(network, of, normal);
    let mut twin = Twin { network: Network::new(), places: Vec::with_capacity(network.len()) };
    for id in network.nodes() {
        if otherwise.contains(&id) {
            twin.double(network, id)?;
        } else {
            twin.keep(network, id, normal.contains(&id))?;
        }
    }
    Some(twin)
}

/// Nodes that hang on one of some nodes, and that `of` hangs on or is
fn between(network: &Network, of: NodeId, normal: &[NodeId]) -> BTreeSet<NodeId> {
    let mut hanging: BTreeSet<NodeId> = BTreeSet::new();
    for id in network.ancestors(&[of]) {
        let hangs = |parent: &NodeId| normal.contains(parent) || hanging.contains(parent);
        if !normal.contains(&id) && network.parents(id).iter().any(hangs) {
            hanging.insert(id);
        }
    }
    hanging
}

/// Numbers of the rows of a table, as they are and as they would have been, for every configuration of its parents here
type Rows = Vec<Pair>;

impl Twin {
    /// A node that could not have been otherwise, or that was set
    fn keep(&mut self, network: &Network, id: NodeId, set: bool) -> Option<()> {
        let states = network.states(id);
        let law = match network.law(id) {
            Law::Table { parents, rows } => Law::Table {
                rows: self.spread(network, parents, rows, states)?,
                parents: self.parents(parents)?,
            },
            Law::Max { shape, paths } => {
                let path = |path: &Path| {
                    let rows = self.spread(network, &path.parents, &path.rows, states)?;
                    Some(Path { parents: self.parents(&path.parents)?, rows })
                };
                Law::Max { shape: *shape, paths: paths.iter().map(path).collect::<Option<_>>()? }
            }
        };
        let node = self.network.add(network.name(id), states, law).ok()?;
        let pairs = (0..states).map(|state| (state, if set { 0 } else { state })).collect();
        self.places.push((node, pairs));
        Some(())
    }

    /// Rows of a table over the nodes here: those of what is, whatever would have been
    fn spread(&self, network: &Network, parents: &[NodeId], rows: &[f64], states: usize) -> Option<Vec<f64>> {
        let wanted = self.rows(network, parents)?;
        let own = |(number, _): &Pair| row(rows, states, *number);
        (wanted.len().saturating_mul(states) <= MOST_ENTRIES)
            .then(|| wanted.iter().flat_map(own).copied().collect())
    }

    fn parents(&self, parents: &[NodeId]) -> Option<Vec<NodeId>> {
        parents.iter().map(|&parent| self.node(parent)).collect()
    }

    /// Rows of a table by its parents here, the last parent running fastest
    fn rows(&self, network: &Network, parents: &[NodeId]) -> Option<Rows> {
        let mut rows = vec![(0, 0)];
        for &parent in parents {
            let (size, pairs) = (network.states(parent), self.pairs(parent));
            if rows.len().saturating_mul(pairs.len()) > MOST_ENTRIES {
                return None;
            }
            let extend = |&(one, other): &Pair| {
                pairs.iter().map(move |(is, would)| (one * size + is, other * size + would))
            };
            rows = rows.iter().flat_map(extend).collect();
        }
        Some(rows)
    }

    /// A node that could have been otherwise: its contributions are taken in one after another, in pairs
    fn double(&mut self, network: &Network, id: NodeId) -> Option<()> {
        let (shape, paths) = contributions(network.law(id));
        let mut before: Option<(NodeId, Vec<Pair>)> = None;
        for (number, (parents, rows)) in paths.iter().enumerate() {
            let name = if number + 1 == paths.len() {
                network.name(id).to_owned()
            } else {
                format!("{} {}", network.name(id), number + 1)
            };
            let given: Vec<Vec<(Pair, f64)>> = self
                .rows(network, parents)?
                .iter()
                .map(|&(is, would)| {
                    let of = |number| row(rows, network.states(id), number);
                    coupled(of(is), of(would))
                })
                .collect();
            before = Some(self.link(&name, self.parents(parents)?, &given, before, shape)?);
        }
        let place = match before {
            Some(place) => place,
            None => {
                let law = Law::Table { parents: Vec::new(), rows: vec![1.0] };
                (self.network.add(network.name(id), 1, law).ok()?, vec![(0, 0)])
            }
        };
        self.places.push(place);
        Some(())
    }

    /// The join of what came before with one more contribution, given for each configuration of its parents
    fn link(
        &mut self,
        name: &str,
        mut parents: Vec<NodeId>,
        given: &[Vec<(Pair, f64)>],
        before: Option<(NodeId, Vec<Pair>)>,
        shape: Option<Shape>,
    ) -> Option<(NodeId, Vec<Pair>)> {
        let join = |one: Pair, other: Pair| match shape {
            Some(shape) => (shape.join(one.0, other.0), shape.join(one.1, other.1)),
            None => other,
        };
        let (node, starts) = before.map_or((None, vec![(0, 0)]), |(node, pairs)| (Some(node), pairs));
        parents.extend(node);
        let pairs = given.iter().flatten().map(|(pair, _)| *pair).collect::<BTreeSet<_>>();
        let reached: BTreeSet<Pair> =
            starts.iter().flat_map(|&start| pairs.iter().map(move |&pair| join(start, pair))).collect();
        let reached: Vec<Pair> = reached.into_iter().collect();
        let number: BTreeMap<Pair, usize> = reached.iter().copied().zip(0..).collect();
        if given.len().saturating_mul(starts.len()).saturating_mul(reached.len()) > MOST_ENTRIES {
            return None;
        }
        let mut rows = Vec::with_capacity(given.len() * starts.len() * reached.len());
        for contribution in given {
            for &start in &starts {
                let mut row = vec![0.0; reached.len()];
                for &(pair, chance) in contribution {
                    if let Some(slot) = number.get(&join(start, pair)).and_then(|&at| row.get_mut(at)) {
                        *slot += chance;
                    }
                }
                rows.extend(row);
            }
        }
        let node = self.network.add(name, reached.len(), Law::Table { parents, rows }).ok()?;
        Some((node, reached))
    }
}

/// Parents and rows of one contribution
type Contribution<'a> = (&'a [NodeId], &'a [f64]);

/// The contributions of a law and how they are joined; a full table is the only one of its node
fn contributions(law: &Law) -> (Option<Shape>, Vec<Contribution<'_>>) {
    match law {
        Law::Table { parents, rows } => (None, vec![(parents, rows)]),
        Law::Max { shape, paths } => {
            (Some(*shape), paths.iter().map(|path| (&*path.parents, &*path.rows)).collect())
        }
    }
}

/// Joint distribution of two states that one draw gives, each as far along its states as its own row says; the same row
/// twice gives the same state twice
fn coupled(is: &[f64], would: &[f64]) -> Vec<(Pair, f64)> {
    let states = |row: &[f64]| -> Vec<(usize, f64)> {
        row.iter().copied().enumerate().filter(|(_, chance)| *chance > 0.0).collect()
    };
    if is == would {
        return states(is).into_iter().map(|(state, chance)| ((state, state), chance)).collect();
    }
    let (mut first, mut second) = (states(is).into_iter().peekable(), states(would).into_iter().peekable());
    let mut joint = Vec::new();
    while let (Some(one), Some(other)) = (first.peek_mut(), second.peek_mut()) {
        let chance = one.1.min(other.1);
        joint.push(((one.0, other.0), chance));
        one.1 -= chance;
        other.1 -= chance;
        // What one draw leaves of a state but for rounding is nothing.
        let (done, done_too) = (one.1 <= f64::EPSILON, other.1 <= f64::EPSILON);
        if done {
            first.next();
        }
        if done_too {
            second.next();
        }
    }
    joint
}
