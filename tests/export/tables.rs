//! A network of tables and nothing else, gone through by plain multiplication.

use pinboss::network::Law;
use pinboss::network::plain::{Made, Plain};

/// A node with its table
#[derive(Debug)]
pub struct Table {
    pub name: String,
    pub states: usize,
    pub auxiliary: bool,
    /// Indices of the parents
    pub parents: Vec<usize>,
    /// The last parent slower than the node itself, the first slowest
    pub entries: Vec<f64>,
}

/// What is found about one node: its index, and a likelihood for each state
pub type Found = (usize, Vec<f64>);

/// The tables of a plain network
pub fn of(plain: &Plain) -> Vec<Table> {
    let nodes = plain.network.nodes().zip(&plain.made);
    let table = |(id, made): (_, &Made)| {
        let Law::Table { parents, rows } = plain.network.law(id) else { panic!("{id} has no table") };
        Table {
            name: plain.network.name(id).to_owned(),
            states: plain.network.states(id),
            auxiliary: matches!(made, Made::Auxiliary { .. }),
            parents: parents.iter().map(|parent| parent.index()).collect(),
            entries: rows.clone(),
        }
    };
    nodes.map(table).collect()
}

/// Probability of the findings, and posterior marginals of all nodes that are no auxiliary ones, each with its index
pub fn multiplied(tables: &[Table], found: &[Found]) -> (f64, Vec<(usize, Vec<f64>)>) {
    let real: Vec<usize> = (0..tables.len()).filter(|&index| !tables[index].auxiliary).collect();
    let mut states = vec![0; tables.len()];
    let mut sums: Vec<Vec<f64>> = real.iter().map(|&index| vec![0.0; tables[index].states]).collect();
    let total = go(tables, found, &real, 0, 1.0, &mut states, &mut sums);
    let marginals = sums.into_iter().map(|sums| sums.into_iter().map(|sum| sum / total).collect());
    (total, real.into_iter().zip(marginals).collect())
}

/// Adds up all states of the real nodes from one on
fn go(
    tables: &[Table],
    found: &[Found],
    real: &[usize],
    next: usize,
    weight: f64,
    states: &mut Vec<usize>,
    sums: &mut [Vec<f64>],
) -> f64 {
    let Some(&index) = real.get(next) else {
        real.iter().zip(sums).for_each(|(&index, sums)| sums[states[index]] += weight);
        return weight;
    };
    let chances = distribution(tables, index, states);
    let mut total = 0.0;
    for (state, chance) in chances.into_iter().enumerate() {
        let seen: f64 =
            found.iter().filter(|(node, _)| *node == index).map(|(_, likely)| likely[state]).product();
        if chance * seen > 0.0 {
            states[index] = state;
            total += go(tables, found, real, next + 1, weight * chance * seen, states, sums);
        }
    }
    total
}

/// P(state | states of the real nodes): an auxiliary parent is summed out by its own table
fn distribution(tables: &[Table], index: usize, states: &[usize]) -> Vec<f64> {
    let table = &tables[index];
    let mut open = vec![(0, 1.0)];
    for &parent in &table.parents {
        let size = tables[parent].states;
        let told: Vec<(usize, f64)> = if tables[parent].auxiliary {
            distribution(tables, parent, states).into_iter().enumerate().collect()
        } else {
            vec![(states[parent], 1.0)]
        };
        open = open
            .iter()
            .flat_map(|&(row, weight)| {
                told.iter().map(move |&(state, chance)| (row * size + state, weight * chance))
            })
            .collect();
    }
    let mut chances = vec![0.0; table.states];
    for (row, weight) in open {
        for (state, chance) in chances.iter_mut().enumerate() {
            *chance += weight * table.entries[row * table.states + state];
        }
    }
    chances
}
