//! Elimination order: the variable that would couple the fewest pairs of its neighbours goes first

#![expect(
    clippy::indexing_slicing,
    reason = "every index is a variable number below the number of variables the graph was made for"
)]

use std::collections::BTreeSet;

/// Steps of an elimination and how large it gets
pub(crate) struct Order {
    pub(crate) steps: Vec<Step>,
    /// Entries of the largest table
    pub(crate) largest: usize,
    /// Entries of all tables, the largest `usize` when they are more
    pub(crate) total: usize,
}

/// One step of the elimination
pub(crate) struct Step {
    /// Variable that goes
    pub(crate) variable: usize,
    /// Variables it is coupled with when it goes, in no particular order
    pub(crate) neighbours: Vec<usize>,
}

/// Min-fill order of all variables, ties broken by the size of the table made and then by number,
/// so that it is the same everywhere
///
/// # Errors
///
/// Entries of the first table larger than `most`, at which the work is given up.
pub(crate) fn order<'a>(
    states: &[usize],
    scopes: impl Iterator<Item = &'a [usize]>,
    most: usize,
) -> Result<Order, usize> {
    let mut graph = Graph::new(states, scopes);
    let mut order = Order { steps: Vec::with_capacity(states.len()), largest: 0, total: 0 };
    while let Some((_, _, variable)) = graph.queue.pop_first() {
        let neighbours: Vec<usize> = graph.neighbours[variable].clone();
        let entries =
            neighbours.iter().fold(states[variable], |size, &other| size.saturating_mul(states[other]));
        if entries > most {
            return Err(entries);
        }
        order.largest = order.largest.max(entries);
        order.total = order.total.saturating_add(entries);
        graph.eliminate(variable, &neighbours);
        order.steps.push(Step { variable, neighbours });
    }
    Ok(order)
}

/// Interaction graph with the number of missing pairs about each variable kept up to date
struct Graph {
    /// Sorted neighbours
    neighbours: Vec<Vec<usize>>,
    /// Pairs of neighbours that are not neighbours of each other
    missing: Vec<usize>,
    /// Logarithm of the size of the table that elimination would make, in 1/1024 of a bit
    size: Vec<u64>,
    /// Logarithm of the number of states, in the same unit
    bits: Vec<u64>,
    /// Whether the variable waits in the queue under a key that is up to date
    waiting: Vec<bool>,
    queue: BTreeSet<(usize, u64, usize)>,
}

impl Graph {
    fn new<'a>(states: &[usize], scopes: impl Iterator<Item = &'a [usize]>) -> Self {
        let mut neighbours = vec![Vec::new(); states.len()];
        for scope in scopes {
            for &variable in scope {
                neighbours[variable].extend(scope.iter().filter(|&&other| other != variable));
            }
        }
        for list in &mut neighbours {
            list.sort_unstable();
            list.dedup();
        }
        let bits: Vec<u64> =
            states.iter().map(|&states| (libm::log2(states as f64) * 1024.0) as u64).collect();
        let size = (0..states.len())
            .map(|variable| {
                bits[variable] + neighbours[variable].iter().map(|&other| bits[other]).sum::<u64>()
            })
            .collect();
        let missing = (0..states.len()).map(|variable| missing_pairs(&neighbours, variable)).collect();
        let mut graph = Graph {
            neighbours,
            missing,
            size,
            bits,
            waiting: vec![false; states.len()],
            queue: BTreeSet::new(),
        };
        for variable in 0..states.len() {
            graph.come_back(variable);
        }
        graph
    }

    fn eliminate(&mut self, variable: usize, neighbours: &[usize]) {
        self.waiting[variable] = false;
        let mut touched: Vec<usize> = Vec::new();
        for (place, &a) in neighbours.iter().enumerate() {
            for &b in neighbours.iter().skip(place + 1) {
                if self.neighbours[a].binary_search(&b).is_err() {
                    self.connect(a, b, &mut touched);
                }
            }
        }
        for &other in neighbours {
            self.disconnect(other, variable);
            self.come_back(other);
        }
        for other in touched {
            if other != variable {
                self.come_back(other);
            }
        }
        self.neighbours[variable].clear();
    }

    fn connect(&mut self, a: usize, b: usize, touched: &mut Vec<usize>) {
        let common = common(&self.neighbours[a], &self.neighbours[b]);
        for &other in &common {
            self.leave(other);
            self.missing[other] -= 1;
        }
        self.leave(a);
        self.leave(b);
        self.missing[a] += self.neighbours[a].len() - common.len();
        self.missing[b] += self.neighbours[b].len() - common.len();
        self.size[a] += self.bits[b];
        self.size[b] += self.bits[a];
        insert(&mut self.neighbours[a], b);
        insert(&mut self.neighbours[b], a);
        touched.extend(common);
        touched.extend([a, b]);
    }

    fn disconnect(&mut self, other: usize, variable: usize) {
        self.leave(other);
        let common = common(&self.neighbours[other], &self.neighbours[variable]).len();
        let list = &mut self.neighbours[other];
        if let Ok(place) = list.binary_search(&variable) {
            list.remove(place);
        }
        self.missing[other] -= list.len() - common;
        self.size[other] -= self.bits[variable];
    }

    /// Out of the queue before its key changes
    fn leave(&mut self, variable: usize) {
        if std::mem::replace(&mut self.waiting[variable], false) {
            self.queue.remove(&(self.missing[variable], self.size[variable], variable));
        }
    }

    /// Into the queue under its present key
    fn come_back(&mut self, variable: usize) {
        if !std::mem::replace(&mut self.waiting[variable], true) {
            self.queue.insert((self.missing[variable], self.size[variable], variable));
        }
    }
}

fn missing_pairs(neighbours: &[Vec<usize>], variable: usize) -> usize {
    let list = &neighbours[variable];
    let pairs = list.len() * list.len().saturating_sub(1) / 2;
    let present: usize = list.iter().map(|&other| common(&neighbours[other], list).len()).sum();
    pairs - present / 2
}

/// Members of both sorted lists
fn common(a: &[usize], b: &[usize]) -> Vec<usize> {
    let mut both = Vec::new();
    let (mut a, mut b) = (a.iter().copied().peekable(), b.iter().copied().peekable());
    while let (Some(&x), Some(&y)) = (a.peek(), b.peek()) {
        if x == y {
            both.push(x);
        }
        if x <= y {
            a.next();
        }
        if y <= x {
            b.next();
        }
    }
    both
}

fn insert(list: &mut Vec<usize>, value: usize) {
    if let Err(place) = list.binary_search(&value) {
        list.insert(place, value);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Counts kept up to date are the counts made afresh, after every step
        #[test]
        fn missing_pairs_are_kept_up_to_date(
            scopes in proptest::collection::vec(proptest::collection::vec(0..14_usize, 1..4), 1..25),
            states in proptest::collection::vec(2..5_usize, 14),
        ) {
            let mut graph = Graph::new(&states, scopes.iter().map(Vec::as_slice));
            let mut gone = 0;
            while let Some((missing, _, variable)) = graph.queue.pop_first() {
                prop_assert_eq!(missing, missing_pairs(&graph.neighbours, variable));
                let neighbours = graph.neighbours[variable].clone();
                graph.eliminate(variable, &neighbours);
                gone += 1;
                prop_assert_eq!(graph.queue.len(), states.len() - gone);
                for &(missing, size, other) in &graph.queue {
                    prop_assert_eq!(missing, missing_pairs(&graph.neighbours, other));
                    let neighbours = graph.neighbours[other].iter();
                    prop_assert_eq!(size, graph.bits[other] + neighbours.map(|&next| graph.bits[next]).sum::<u64>());
                }
            }
            prop_assert_eq!(gone, states.len());
        }
    }
}
