//! How the probability of the findings changes with single numbers of the network: the derivatives of a circuit.
//!
//! P(e) is linear in the rows of any one table. So with other rows in that table P(e) is multiplied by the mean, under
//! the posterior of the table's variables, of new entry over old entry. That is exact however large the change; where several
//! tables change at once it gives only the derivative, which in one entry is P(its variables, e) / entry (Darwiche 2003, "A
//! differential approach to inference in Bayesian networks", Journal of the ACM 50(3)). One pass up and one down give all of
//! them.

use std::sync::Arc;

use crate::infer::circuit::Circuit;
use crate::infer::expand::{chain, chain_of};
use crate::infer::frame::{Bucket, Frame};
use crate::infer::likelihood::bound;
use crate::infer::mould::Mould;
use crate::infer::weights::Weights;
use crate::network::shape::Shape;
use crate::network::{Law, Network, NodeId, Path};

/// Posterior of everything that a circuit couples, given findings
#[derive(Clone, Debug)]
pub struct Slopes<'a> {
    network: &'a Network,
    mould: &'a Mould,
    frame: Arc<Frame>,
    /// All buckets' posterior tables, each adding up to 1
    tables: Vec<f64>,
    /// Place of each variable in the order of elimination
    positions: Vec<usize>,
}

impl<'a> Slopes<'a> {
    /// Slopes at the numbers of `network`, of which `mould` gave `circuit`, under some weights; none when the evidence is
    /// impossible
    pub fn new(
        network: &'a Network,
        mould: &'a Mould,
        circuit: &Circuit,
        weights: &Weights,
    ) -> Option<Slopes<'a>> {
        let tables = circuit.posterior_tables(weights)?;
        Some(Slopes {
            network,
            mould,
            frame: Arc::clone(&circuit.frame),
            tables,
            positions: mould.positions(),
        })
    }

    /// Probability of the evidence with other rows in one table of a node over that with the present ones: the only table
    /// of a plain node, or that of one path. Since it is linear in them, the derivative along a change of the rows is the ratio
    /// less one, per whole change, times the probability.
    ///
    /// None where a number that is nought now is not then, or the other way about for a path: division cannot tell it. One
    /// for a node that the evidence does not hang on.
    pub fn ratio(&self, node: NodeId, table: usize, rows: &[f64]) -> Option<f64> {
        if let Ok(variable) = self.mould.pattern.variables.binary_search(&node) {
            return self.of_variable(variable, node, table, rows);
        }
        let finding = self.mould.findings().iter().find(|finding| finding.node == node);
        match (finding, self.network.law(node)) {
            (Some(finding), Law::Max { shape, paths }) => {
                let entries = finding.entries(self.network.states(node));
                let (top, _) = bound(*shape, &entries)?;
                self.of_leaf(node, *shape, top, (table, paths.get(table)?), rows)
            }
            _ => Some(1.0),
        }
    }

    fn of_variable(&self, variable: usize, node: NodeId, table: usize, rows: &[f64]) -> Option<f64> {
        let mut scopes = self.mould.scopes_of(variable);
        match self.network.law(node) {
            Law::Table { rows: old, .. } => self.of_factor(scopes.next()?, old, rows),
            Law::Max { shape, paths } => {
                let mut paths = paths.clone();
                paths.get_mut(table)?.rows = rows.to_vec();
                let old = chain(self.network, node, &self.mould.ranks);
                let new = chain_of(self.network, &Law::Max { shape: *shape, paths }, &self.mould.ranks);
                if old.links.len() != new.links.len() {
                    return None;
                }
                let links = old.links.iter().zip(&new.links).zip(scopes);
                let mut ratio = 1.0;
                for ((old, new), scope) in links {
                    if old.values != new.values {
                        ratio = self.of_factor(scope, &old.values, &new.values)?;
                    }
                }
                Some(ratio)
            }
        }
    }

    /// Mean of new over old entry of a factor under the posterior of its variables
    fn of_factor(&self, scope: &[usize], old: &[f64], new: &[f64]) -> Option<f64> {
        let ratios = ratios(old, new)?;
        let scope: Option<Vec<usize>> =
            scope.iter().map(|&variable| self.positions.get(variable).copied()).collect();
        let mut map = Vec::new();
        let (bucket, stride) = self.frame.lay(&scope?, &mut map)?;
        self.mean(self.frame.buckets.get(bucket)?, &map, stride, &ratios)
    }

    /// The same of a leaf that was factored into one table for each path, P(contribution at or below the bound | parents)
    fn of_leaf(
        &self,
        leaf: NodeId,
        shape: Shape,
        top: usize,
        (number, path): (usize, &Path),
        rows: &[f64],
    ) -> Option<f64> {
        let ratios = ratios(&shape.held(&path.rows, top), &shape.held(rows, top))?;
        match path.parents.as_slice() {
            [] => ratios.first().copied(),
            [parent] => {
                let bucket = self.frame.buckets.get(self.frame.bucket_of(*parent)?)?;
                self.mean(bucket, &vec![0; bucket.rows], 1, &ratios)
            }
            parents => {
                let place = self.frame.joint(leaf, number)?;
                let bucket = self.frame.buckets.get(place.bucket)?;
                let map = self.frame.maps.get(place.map..place.map + bucket.rows)?;
                self.mean(bucket, map, 1, &self.frame.turned(parents, &ratios)?)
            }
        }
    }

    /// Mean of a table under the posterior of a bucket, the table's place by row and the stride of the bucket's own variable
    fn mean(&self, bucket: &Bucket, map: &[u32], stride: usize, values: &[f64]) -> Option<f64> {
        let table = self.tables.get(bucket.table..bucket.table + bucket.rows * bucket.states)?;
        let mut mean = 0.0;
        for (row, &start) in table.chunks(bucket.states).zip(map) {
            for (state, chance) in row.iter().enumerate() {
                mean += chance * values.get(start as usize + state * stride)?;
            }
        }
        Some(mean)
    }
}

/// New over old of each entry, 1 where neither is anything; none where only the old one is nought
fn ratios(old: &[f64], new: &[f64]) -> Option<Vec<f64>> {
    if old.len() != new.len() {
        return None;
    }
    let ratio = |(&old, &new): (&f64, &f64)| match (old > 0.0, new > 0.0) {
        (true, _) => Some(new / old),
        (false, false) => Some(1.0),
        (false, true) => None,
    };
    old.iter().zip(new).map(ratio).collect()
}
