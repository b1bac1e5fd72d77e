//! Elimination order: the variable that would couple the fewest pairs of its neighbours goes first.
//!
//! How wide a circuit may be depends on how often it is to be evaluated: once, up to `Limits::default()`; hundreds of
//! times, as for the next checks, up to `Limits::often()`. The reasons of a diagnosis may take about a second's work: they
//! are looked for greedily if that is enough, else in a fixed order, else not at all. So nothing hangs.

#![expect(
    clippy::indexing_slicing,
    reason = "every index is a variable number below the number of variables the graph was made for"
)]

use fixedbitset::FixedBitSet;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Steps of an elimination and how large it gets
pub struct Order {
    /// The steps, one for each variable
    pub steps: Vec<Step>,
    /// Entries of the largest table
    pub largest: usize,
    /// Entries of all tables, the largest `usize` when they are more
    pub total: usize,
}

/// One step of the elimination
#[derive(Clone, Debug)]
pub struct Step {
    /// Variable that goes
    pub variable: usize,
    /// Variables it is coupled with when it goes, in no particular order
    pub neighbours: Vec<usize>,
}

/// Min-fill order of all variables, ties broken by the size of the table made and then by number,
/// so that it is the same everywhere
///
/// # Errors
///
/// Entries of the first table larger than `most`, at which the work is given up.
pub fn order<'a>(
    states: &[usize],
    scopes: impl Iterator<Item = &'a [usize]>,
    most: usize,
) -> Result<Order, usize> {
    let mut graph = Graph::new(states, scopes);
    let mut order = Order { steps: Vec::with_capacity(states.len()), largest: 0, total: 0 };
    while let Some(variable) = graph.next() {
        let neighbours = std::mem::take(&mut graph.neighbours[variable]);
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
    /// The variables that are still there
    left: FixedBitSet,
    /// Variables touched by the elimination under way
    touched: Vec<usize>,
    /// Working memory of `connect`
    both: Vec<usize>,
    /// Every variable under its present key, and under keys it no longer has
    queue: BinaryHeap<Reverse<(usize, u64, usize)>>,
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
        let mut left = FixedBitSet::with_capacity(states.len());
        left.insert_range(..);
        let mut graph = Graph {
            neighbours,
            missing,
            size,
            bits,
            left,
            touched: Vec::new(),
            both: Vec::new(),
            queue: BinaryHeap::with_capacity(2 * states.len()),
        };
        for variable in 0..states.len() {
            graph.queue.push(Reverse(graph.key(variable)));
        }
        graph
    }

    fn key(&self, variable: usize) -> (usize, u64, usize) {
        (self.missing[variable], self.size[variable], variable)
    }

    /// The variable with the least key of those left
    fn next(&mut self) -> Option<usize> {
        loop {
            let Reverse(key) = self.queue.pop()?;
            if self.left.contains(key.2) && key == self.key(key.2) {
                return Some(key.2);
            }
        }
    }

    fn eliminate(&mut self, variable: usize, neighbours: &[usize]) {
        self.left.remove(variable);
        for &other in neighbours {
            self.touched.push(other);
            let list = &mut self.neighbours[other];
            if let Ok(place) = list.binary_search(&variable) {
                list.remove(place);
            }
            self.size[other] -= self.bits[variable];
        }
        if self.missing[variable] > 0 {
            for (place, &a) in neighbours.iter().enumerate() {
                for &b in neighbours.iter().skip(place + 1) {
                    if self.neighbours[a].binary_search(&b).is_err() {
                        self.connect(a, b);
                    }
                }
            }
        }
        for &other in neighbours {
            // Pairs of the variable with those neighbours of `other` that it was no neighbour of.
            self.missing[other] -= self.neighbours[other].len() + 1 - neighbours.len();
        }
        let mut touched = std::mem::take(&mut self.touched);
        touched.sort_unstable();
        touched.dedup();
        for other in touched.drain(..) {
            if self.left.contains(other) {
                self.queue.push(Reverse(self.key(other)));
            }
        }
        self.touched = touched;
    }

    /// Makes two neighbours of a variable just gone neighbours of each other
    fn connect(&mut self, a: usize, b: usize) {
        let mut both = std::mem::take(&mut self.both);
        common(&self.neighbours[a], &self.neighbours[b], &mut both);
        for &other in &both {
            self.missing[other] -= 1;
        }
        self.missing[a] += self.neighbours[a].len() - both.len();
        self.missing[b] += self.neighbours[b].len() - both.len();
        self.size[a] += self.bits[b];
        self.size[b] += self.bits[a];
        insert(&mut self.neighbours[a], b);
        insert(&mut self.neighbours[b], a);
        self.touched.extend(&both);
        self.both = both;
    }
}

fn missing_pairs(neighbours: &[Vec<usize>], variable: usize) -> usize {
    let list = &neighbours[variable];
    let pairs = list.len() * list.len().saturating_sub(1) / 2;
    let mut both = Vec::new();
    let mut present = 0;
    for &other in list {
        common(&neighbours[other], list, &mut both);
        present += both.len();
    }
    pairs - present / 2
}

/// Members of both sorted lists
fn common(a: &[usize], b: &[usize], both: &mut Vec<usize>) {
    both.clear();
    let (mut x, mut y) = (0, 0);
    while let (Some(first), Some(second)) = (a.get(x), b.get(y)) {
        if first == second {
            both.push(*first);
        }
        x += usize::from(first <= second);
        y += usize::from(second <= first);
    }
}

fn insert(list: &mut Vec<usize>, value: usize) {
    if let Err(place) = list.binary_search(&value) {
        list.insert(place, value);
    }
}
