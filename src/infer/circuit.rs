//! Compiled circuit: a tree of buckets over flat arrays, evaluated in one pass up and one down

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::infer::beliefs::{Beliefs, Places};
use crate::infer::number::{Number, Wide};
use crate::infer::pass::{Local, Pass};
use crate::infer::weights::Weights;
use crate::network::NodeId;

/// Network and findings, compiled for any number of evaluations
#[derive(Clone, Default, Debug)]
pub struct Circuit {
    /// In the order of elimination
    pub(crate) buckets: Vec<Bucket>,
    /// All tables one after another, as the factors that always count make them
    pub(crate) base: Vec<f64>,
    /// Number of entries of all messages
    pub(crate) messages: usize,
    /// Number of states of all variables
    pub(crate) locals: usize,
    /// Row maps one after another
    pub(crate) maps: Vec<u32>,
    /// Tables of the inputs one after another
    pub(crate) values: Vec<f64>,
    pub(crate) unaries: Vec<Unary>,
    /// (finding, value)
    pub(crate) constants: Vec<(usize, f64)>,
    /// Power of two taken out of each finding's likelihood
    pub(crate) exponents: Vec<i64>,
    pub(crate) bucket_of: BTreeMap<NodeId, usize>,
    pub(crate) places: Arc<Places>,
}

/// Elimination of one variable: a table of `rows` times `states` entries and its row sums
#[derive(Clone, Default, Debug)]
pub(crate) struct Bucket {
    pub(crate) states: usize,
    pub(crate) rows: usize,
    /// Start of its table
    pub(crate) table: usize,
    /// Start of its message, one entry a row
    pub(crate) message: usize,
    /// Start of its own variable's states among those of all
    pub(crate) local: usize,
    /// Buckets of its other variables, last eliminated first, which make up its rows
    pub(crate) others: Vec<usize>,
    /// Bucket that takes the message
    pub(crate) parent: Option<usize>,
    /// Start of the map from the parent's rows to the message
    pub(crate) map: usize,
    pub(crate) children: Vec<usize>,
    pub(crate) inputs: Vec<Input>,
}

/// Factor kept apart from the base table
#[derive(Clone, Debug)]
pub(crate) struct Input {
    /// Finding that it counts for, if not always
    pub(crate) switch: Option<usize>,
    /// Start of the map from the bucket's rows to the values
    pub(crate) map: usize,
    /// Start of its values
    pub(crate) values: usize,
}

/// Likelihood of a finding over the states of one bucket's variable
#[derive(Clone, Debug)]
pub(crate) struct Unary {
    pub(crate) bucket: usize,
    pub(crate) values: Vec<f64>,
    pub(crate) finding: usize,
}

/// Working memory of an evaluation, to be used again by the next one
#[derive(Clone, Default, Debug)]
pub struct Scratch {
    plain: Pass<f64>,
    wide: Pass<Wide>,
}

impl Circuit {
    /// Every finding on, nothing further seen
    pub fn weights(&self) -> Weights {
        Weights::new(self.exponents.len(), Arc::clone(&self.places))
    }

    /// Nodes that are variables of the circuit, whose marginals every evaluation gives
    pub fn nodes(&self) -> impl Iterator<Item = NodeId> {
        self.places.keys().copied()
    }

    /// Whether a node is a variable of the circuit
    pub fn has(&self, node: NodeId) -> bool {
        self.places.contains_key(&node)
    }

    /// Entries of the largest table, 0 without variables
    pub fn largest_table(&self) -> usize {
        self.buckets.iter().map(|bucket| bucket.rows * bucket.states).max().unwrap_or(0)
    }

    /// Entries of all tables together
    pub fn total(&self) -> usize {
        self.base.len()
    }

    /// Evidence and marginals of all variables
    pub fn evaluate(&self, weights: &Weights) -> Beliefs {
        self.evaluate_in(weights, &mut Scratch::default())
    }

    /// The same with memory of the caller's, for many evaluations
    pub fn evaluate_in(&self, weights: &Weights, scratch: &mut Scratch) -> Beliefs {
        if let Some(total) = scratch.plain.up(self, weights) {
            self.beliefs(weights, total, &mut scratch.plain)
        } else {
            // Some product left the range of a double: once more with exponents that cannot.
            let total = scratch.wide.up(self, weights).unwrap_or(Wide::ZERO);
            self.beliefs(weights, total, &mut scratch.wide)
        }
    }

    fn beliefs<N: Number>(&self, weights: &Weights, total: Wide, pass: &mut Pass<N>) -> Beliefs {
        let evidence = total.times(self.constant(weights), &mut false);
        if evidence.is_zero() {
            return Beliefs::new(evidence, Arc::default(), Vec::new());
        }
        pass.down(self);
        let mut values = Vec::with_capacity(self.places.values().next_back().map_or(0, |place| place.end));
        for bucket in self.bucket_of.values().filter_map(|&bucket| self.buckets.get(bucket)) {
            pass.marginal(bucket, &mut values);
        }
        Beliefs::new(evidence, Arc::clone(&self.places), values)
    }

    /// Product of all that no variable hangs on
    pub(crate) fn constant(&self, weights: &Weights) -> Wide {
        let on = |finding: usize| weights.on.get(finding).copied().unwrap_or(false);
        let factors =
            self.constants.iter().filter(|(finding, _)| on(*finding)).map(|(_, value)| Wide::of(*value));
        let exponents = self.exponents.iter().enumerate().filter(|(finding, _)| on(*finding)).map(|(_, e)| e);
        let seen = weights.seen.iter().map(|seen| seen.exponent).sum::<i64>();
        let exponent = exponents.sum::<i64>() + seen;
        factors.fold(Wide::scaled(1.0, exponent), |product, factor| product.times(factor, &mut false))
    }

    /// Row of a bucket's table under the states of its other variables
    pub(crate) fn row_of(&self, bucket: &Bucket, states: &[usize]) -> usize {
        bucket.others.iter().fold(0, |row, &other| {
            let size = self.buckets.get(other).map_or(1, |other| other.states);
            row * size + states.get(other).copied().unwrap_or(0)
        })
    }

    /// Likelihoods on single variables that count under `weights`
    pub(crate) fn seen<'a>(&'a self, weights: &'a Weights) -> impl Iterator<Item = Local<'a>> {
        let on = |unary: &&Unary| weights.on.get(unary.finding).copied().unwrap_or(false);
        let found =
            self.unaries.iter().filter(on).map(|unary| Local { bucket: unary.bucket, values: &unary.values });
        let seen = weights.seen.iter().filter_map(|seen| {
            Some(Local { bucket: *self.bucket_of.get(&seen.node)?, values: &seen.values })
        });
        found.chain(seen)
    }
}
