//! Parent divorcing: a noisy-MAX node as a chain of accumulators, each joining one more contribution

use crate::infer::expand::Ranks;
use crate::invariant::Hold;
use crate::network::shape::Shape;
use crate::network::{self, NodeId, Path};
use fixedbitset::FixedBitSet;

/// Links whose last accumulator is the node's state
#[derive(Debug)]
pub(crate) struct Chain {
    pub(crate) links: Vec<Link>,
}

/// One link: P(accumulator after | parents, accumulator before)
#[derive(Debug)]
pub(crate) struct Link {
    pub(crate) parents: Vec<NodeId>,
    /// Number of states of the accumulator after it
    pub(crate) reached: usize,
    /// Table over parents, the accumulator before (none in the first link) and the one after
    pub(crate) values: Vec<f64>,
}

/// Contributions of one or several paths with the same parents
struct Group {
    parents: Vec<NodeId>,
    /// Number of states of each parent
    sizes: Vec<usize>,
    rows: Vec<f64>,
}

impl Chain {
    /// Chain of a node's paths; `size` gives the number of states of a parent, `ranks` the place of a
    /// parent in the order of elimination, so that the accumulators grow as the parents go
    pub(crate) fn new(shape: Shape, paths: &[Path], size: impl Fn(NodeId) -> usize, ranks: &Ranks) -> Self {
        let groups = groups(shape, paths, &size, ranks);
        let states = shape.states();
        let last = groups.len().saturating_sub(1);
        let mut links = Vec::new();
        // Only states that the contributions so far can join to, which keeps accumulators narrow.
        let mut before: Vec<usize> = vec![0];
        for (place, group) in groups.into_iter().enumerate() {
            let after =
                if place == last { (0..states).collect() } else { reachable(shape, &before, &group.rows) };
            let values = link_values(shape, &group.rows, &before, &after);
            links.push(Link { parents: group.parents, reached: after.len(), values });
            before = after;
        }
        Chain { links }
    }
}

/// Paths folded together where that makes no table larger: a path into one that has all its parents,
/// and the leak into the last one, so that the accumulators before it reach fewer states
fn groups(shape: Shape, paths: &[Path], size: &impl Fn(NodeId) -> usize, ranks: &Ranks) -> Vec<Group> {
    let rank = |group: &Group| group.parents.iter().filter_map(|parent| ranks.get(parent)).min().copied();
    let mut order: Vec<(usize, &Path)> = paths.iter().enumerate().collect();
    order.sort_by_key(|(_, path)| std::cmp::Reverse(path.parents.len()));
    let mut groups: Vec<(usize, Group)> = Vec::new();
    for (place, path) in order {
        let leak = path.parents.is_empty();
        if leak {
            groups.sort_by_key(|(place, group)| (rank(group), *place));
        }
        let group = Group {
            parents: path.parents.clone(),
            sizes: path.parents.iter().map(|&parent| size(parent)).collect(),
            rows: path.rows.clone(),
        };
        let last = groups.len().saturating_sub(1);
        let mut hosts = groups.iter_mut().skip(if leak { last } else { 0 });
        if !hosts.any(|(_, host)| host.fold(shape, &group)) {
            groups.push((place, group));
        }
    }
    groups.sort_by_key(|(place, group)| (rank(group), *place));
    let groups: Vec<Group> = groups.into_iter().map(|(_, group)| group).collect();
    if groups.is_empty() { vec![Group::normal(shape)] } else { groups }
}

impl Group {
    /// Nothing but the normal state
    fn normal(shape: Shape) -> Self {
        let rows = (0..shape.states()).map(|state| f64::from(u8::from(state == 0))).collect();
        Group { parents: Vec::new(), sizes: Vec::new(), rows }
    }

    /// Takes another group's contributions in, if their parents are among its own and no product of
    /// chances gets too small for a double; whether it did
    fn fold(&mut self, shape: Shape, other: &Group) -> bool {
        if !other.parents.iter().all(|parent| self.parents.contains(parent)) {
            return false;
        }
        let states = shape.states();
        let mut rows = vec![0.0; self.rows.len()];
        for ((number, own), out) in self.rows.chunks(states).enumerate().zip(rows.chunks_mut(states)) {
            let theirs = other.row(self.config_in(number, other), states);
            if !join_rows(shape, own, theirs, out) {
                return false;
            }
        }
        self.rows = rows;
        true
    }

    /// Number of the other group's row under the parents' states of the own row `number`
    fn config_in(&self, number: usize, other: &Group) -> usize {
        let mut rest = number;
        let mut own: Vec<(NodeId, usize)> = Vec::new();
        for (&parent, &size) in self.parents.iter().zip(&self.sizes).rev() {
            own.push((parent, rest % size));
            rest /= size;
        }
        other.parents.iter().zip(&other.sizes).fold(0, |config, (parent, size)| {
            let state = own.iter().find(|(own, _)| own == parent).map_or(0, |&(_, state)| state);
            config * size + state
        })
    }

    fn row(&self, number: usize, states: usize) -> &[f64] {
        network::row(&self.rows, states, number)
    }
}

/// Why a state that a link makes is there
const REACHED: &str = "all states that a contribution makes of those before stand behind it";

/// Adds the distribution of the join of two contributions to `out`; `false` when a product is lost
fn join_rows(shape: Shape, a: &[f64], b: &[f64], out: &mut [f64]) -> bool {
    for (first, &x) in a.iter().enumerate().filter(|&(_, &x)| x > 0.0) {
        for (second, &y) in b.iter().enumerate().filter(|&(_, &y)| y > 0.0) {
            if x * y < f64::MIN_POSITIVE {
                return false;
            }
            if let Some(entry) = out.get_mut(shape.join(first, second)) {
                *entry += x * y;
            }
        }
    }
    true
}

/// Sorted states that a contribution of `rows` joined to a state of `before` can make
fn reachable(shape: Shape, before: &[usize], rows: &[f64]) -> Vec<usize> {
    let states = shape.states();
    let mut possible = FixedBitSet::with_capacity(states);
    for row in rows.chunks(states) {
        possible.extend(row.iter().enumerate().filter(|(_, chance)| **chance > 0.0).map(|(state, _)| state));
    }
    let mut reached = FixedBitSet::with_capacity(states);
    for state in possible.ones() {
        reached.extend(before.iter().map(|from| shape.join(*from, state)));
    }
    reached.into_ones().collect()
}

fn link_values(shape: Shape, rows: &[f64], before: &[usize], after: &[usize]) -> Vec<f64> {
    let mut values = Vec::with_capacity(rows.len() * before.len());
    for row in rows.chunks(shape.states()) {
        for &from in before {
            let mut out = vec![0.0; after.len()];
            for (state, &chance) in row.iter().enumerate().filter(|(_, chance)| **chance > 0.0) {
                let place = after.binary_search(&shape.join(from, state)).hold(REACHED);
                *out.get_mut(place).hold(REACHED) += chance;
            }
            values.extend(out);
        }
    }
    values
}
