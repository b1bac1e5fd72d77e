//! What all findings of one pattern share: a tree of buckets over flat arrays

use crate::infer::beliefs::Places;
use crate::invariant::Hold;
use crate::network::NodeId;
use std::sync::Arc;

/// Network compiled for one pattern of findings
#[derive(Clone, Default, Debug)]
pub(crate) struct Frame {
    /// In the order of elimination
    pub(crate) buckets: Vec<Bucket>,
    /// Buckets of the other variables of each bucket, one after another
    pub(crate) others: Vec<u32>,
    /// All tables one after another, as the factors that always count make them
    pub(crate) base: Vec<f64>,
    /// Number of entries of all messages
    pub(crate) messages: usize,
    /// Number of states of all variables
    pub(crate) locals: usize,
    /// Row maps one after another
    pub(crate) maps: Vec<u32>,
    /// Factors that always count and whose products no base table can hold
    pub(crate) inputs: Vec<Input>,
    /// Where the tables of leaves' joint paths go, by leaf and number of the path
    pub(crate) joints: Vec<((NodeId, usize), Place)>,
    /// Bucket of each node, in the order of `places`
    pub(crate) bucket_of: Vec<usize>,
    pub(crate) places: Arc<Places>,
}

/// Elimination of one variable: a table of `rows` times `states` entries and its row sums
#[derive(Clone, Copy, Default, Debug)]
pub(crate) struct Bucket {
    pub(crate) states: usize,
    pub(crate) rows: usize,
    /// Start of its table
    pub(crate) table: usize,
    /// Start of its message, one entry a row
    pub(crate) message: usize,
    /// Start of its own variable's states among those of all
    pub(crate) local: usize,
    /// Its other variables in `others`, last eliminated first, which make up its rows
    pub(crate) others: (usize, usize),
    /// Bucket that takes the message
    pub(crate) parent: Option<usize>,
    /// Start of the map from the parent's rows to the message
    pub(crate) map: usize,
}

/// Where a table over a bucket's variables is multiplied in
#[derive(Copy, Clone, Debug)]
pub(crate) struct Place {
    pub(crate) bucket: usize,
    /// Start of the map from the bucket's rows to the table
    pub(crate) map: usize,
}

/// Table kept apart from the base table
#[derive(Clone, Debug)]
pub(crate) struct Input {
    pub(crate) place: Place,
    pub(crate) values: Vec<f64>,
}

/// Likelihood over the states of one bucket's variable
#[derive(Clone, Debug)]
pub(crate) struct Unary {
    pub(crate) bucket: usize,
    pub(crate) values: Vec<f64>,
}

impl Frame {
    pub(crate) fn bucket_of(&self, node: NodeId) -> Option<usize> {
        self.bucket_of.get(self.places.number(node)?).copied()
    }

    /// Where the table of a leaf's joint path goes
    pub(crate) fn joint(&self, node: NodeId, path: usize) -> Option<Place> {
        let found = self.joints.binary_search_by_key(&(node, path), |(key, _)| *key).ok()?;
        self.joints.get(found).map(|(_, place)| *place)
    }

    /// Entries of the largest table, 0 without variables
    pub(crate) fn largest_table(&self) -> usize {
        self.buckets.iter().map(|bucket| bucket.rows * bucket.states).fold(0, usize::max)
    }

    pub(crate) fn others(&self, bucket: &Bucket) -> &[u32] {
        self.others.get(bucket.others.0..bucket.others.1).hold("buckets are numbered within their own frame")
    }

    pub(crate) fn states(&self, bucket: usize) -> usize {
        self.buckets.get(bucket).map_or(1, |bucket| bucket.states)
    }

    /// For each row of a bucket, the place where a table with some strides has the row's first entry
    pub(crate) fn rows(&self, map: &mut Vec<u32>, bucket: usize, strides: &[(usize, usize)]) {
        let others = self.buckets.get(bucket).map_or(&[][..], |bucket| self.others(bucket));
        let stride = |position: usize| {
            strides.iter().find(|&&(own, _)| own == position).map_or(0, |&(_, stride)| stride)
        };
        let digits = others.iter().rev().map(|&other| other as usize);
        spread(map, digits.map(|other| (self.states(other), stride(other))));
    }

    /// The bucket that a table over some buckets' variables, the last fastest, is multiplied into, and the stride of that
    /// bucket's own variable in it; appends the table's place for each of the bucket's rows. None for a table over none.
    pub(crate) fn lay(&self, scope: &[usize], map: &mut Vec<u32>) -> Option<(usize, usize)> {
        let bucket = scope.iter().copied().min()?;
        let mut strides = Vec::with_capacity(scope.len());
        let mut stride = 1;
        for &position in scope.iter().rev() {
            strides.push((position, stride));
            stride *= self.states(position);
        }
        self.rows(map, bucket, &strides);
        let own = strides.iter().find(|&&(position, _)| position == bucket)?.1;
        Some((bucket, own))
    }

    /// A table over nodes, the last fastest, as one over their buckets, the first eliminated fastest;
    /// `None` when one of them is no variable
    pub(crate) fn turned(&self, nodes: &[NodeId], values: &[f64]) -> Option<Vec<f64>> {
        let buckets: Option<Vec<usize>> = nodes.iter().map(|&node| self.bucket_of(node)).collect();
        turned(&buckets?, values, |bucket| self.states(bucket))
    }

    /// Row of a bucket's table under the states of its other variables
    pub(crate) fn row_of(&self, bucket: &Bucket, states: &[usize]) -> usize {
        self.others(bucket).iter().fold(0, |row, &other| {
            let other = other as usize;
            row * self.states(other) + states.get(other).hold("there is a state for each bucket")
        })
    }
}

/// A table over buckets, the last fastest, as one over the same from the last eliminated to the first
pub(crate) fn turned(buckets: &[usize], values: &[f64], states: impl Fn(usize) -> usize) -> Option<Vec<f64>> {
    let mut strides: Vec<(usize, usize)> = Vec::with_capacity(buckets.len());
    let mut stride = 1;
    for &bucket in buckets.iter().rev() {
        strides.push((bucket, stride));
        stride *= states(bucket);
    }
    strides.sort_unstable();
    let mut map = Vec::with_capacity(values.len());
    spread(&mut map, strides.iter().map(|&(bucket, stride)| (states(bucket), stride)));
    map.into_iter().map(|place| values.get(place as usize).copied()).collect()
}

/// Appends the place of every combination of digits, given as (size, stride) with the fastest first
pub(crate) fn spread(map: &mut Vec<u32>, digits: impl Iterator<Item = (usize, usize)>) {
    let start = map.len();
    map.push(0);
    for (size, stride) in digits {
        let end = map.len();
        for digit in 1..size {
            // Row maps are 32 bits wide: `Limits::hold` sees to it.
            let step = (digit * stride) as u32;
            let further = map.len();
            map.extend_from_within(start..end);
            map.iter_mut().skip(further).for_each(|place| *place += step);
        }
    }
}
