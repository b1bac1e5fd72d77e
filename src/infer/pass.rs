//! The two passes over the tree of buckets, in plain or in wide numbers

#![expect(
    clippy::indexing_slicing,
    reason = "all ranges come from the circuit, whose arrays were laid out together; the loops are hot"
)]

use crate::infer::frame::{Bucket, Frame, Input};
use crate::infer::number::{Number, Wide};
use crate::infer::weights::Weights;
use fixedbitset::FixedBitSet;

/// Tables and messages of one evaluation
#[derive(Clone, Default, Debug)]
pub(crate) struct Pass<N> {
    tables: Vec<N>,
    messages: Vec<N>,
    /// Sums of the parent's posterior table over each message's rows, by the place of the message
    sums: Vec<N>,
    /// Likelihoods on single variables, by the place of their bucket
    locals: Vec<N>,
    /// Buckets whose own variable has any
    observed: FixedBitSet,
    /// Whether a product left the range of the numbers
    lost: bool,
}

impl<N: Number> Pass<N> {
    /// Tables and messages from the leaves up, and the sum over everything; `None` when a product
    /// left the range of the numbers
    pub(crate) fn up(&mut self, frame: &Frame, weights: &Weights) -> Option<Wide> {
        self.rise(frame, weights, |_| false)
    }

    /// As [`up`](Pass::up), with the largest entry taken in place of the sum over the variables of some buckets
    pub(crate) fn most(&mut self, frame: &Frame, weights: &Weights, maximised: &FixedBitSet) -> Option<Wide> {
        self.rise(frame, weights, |bucket| maximised.contains(bucket))
    }

    fn rise(&mut self, frame: &Frame, weights: &Weights, maximised: impl Fn(usize) -> bool) -> Option<Wide> {
        self.lost = false;
        self.tables.clear();
        self.tables.extend(frame.base.iter().map(|&value| N::of(value)));
        self.messages.clear();
        self.messages.resize(frame.messages, N::ZERO);
        self.observe(frame, weights);
        for input in frame.inputs.iter().chain(weights.inputs()) {
            self.multiply_input(frame, input);
        }
        let mut total = Wide::ONE;
        let mut exponent = 0;
        for (number, bucket) in frame.buckets.iter().enumerate() {
            exponent += self.send(bucket, maximised(number));
            match bucket.parent {
                Some(parent) => self.multiply_message(frame, &frame.buckets[parent], bucket),
                None => total = total.times(self.messages[bucket.message].wide(), &mut false),
            }
        }
        if self.lost { None } else { Some(total.times(Wide::scaled(1.0, exponent), &mut false)) }
    }

    /// Tables made into posterior tables from the roots down; only after an [`up`](Pass::up) whose
    /// sum was not nought
    pub(crate) fn down(&mut self, frame: &Frame) {
        self.sums.clear();
        self.sums.resize(frame.messages, N::ZERO);
        for bucket in frame.buckets.iter().rev() {
            match bucket.parent {
                Some(parent) => self.sum_parent(frame, bucket, &frame.buckets[parent]),
                None => self.sums[bucket.message] = N::ONE,
            }
            let table = &mut self.tables[bucket.table..bucket.table + bucket.rows * bucket.states];
            let message = &self.messages[bucket.message..bucket.message + bucket.rows];
            let sums = &self.sums[bucket.message..bucket.message + bucket.rows];
            for ((row, &sum), &sent) in table.chunks_exact_mut(bucket.states).zip(sums).zip(message) {
                let share = sum.over(sent);
                for entry in row {
                    // What is lost here is under 1e-308 of a total of 1.
                    *entry = entry.times(share, &mut false);
                }
            }
        }
    }

    /// All tables after a [`down`](Pass::down) that follows an [`up`](Pass::up); none where that gave nought
    pub(crate) fn posterior_tables(&mut self, frame: &Frame, total: Wide) -> Option<Vec<f64>> {
        if total.is_zero() {
            return None;
        }
        self.down(frame);
        Some(self.tables.iter().map(|entry| entry.narrow()).collect())
    }

    /// Distribution of a bucket's own variable, after [`down`](Pass::down)
    pub(crate) fn marginal(&self, bucket: &Bucket, out: &mut Vec<f64>) {
        let start = out.len();
        out.resize(start + bucket.states, 0.0);
        let marginal = &mut out[start..];
        for row in
            self.tables[bucket.table..bucket.table + bucket.rows * bucket.states].chunks_exact(bucket.states)
        {
            for (sum, entry) in marginal.iter_mut().zip(row) {
                *sum += entry.narrow();
            }
        }
        let total: f64 = marginal.iter().sum();
        for entry in marginal {
            *entry /= total;
        }
    }

    /// Chances of a bucket's own variable, not scaled, given the states of its others by their row;
    /// after [`up`](Pass::up) alone
    pub(crate) fn row(&self, bucket: &Bucket, row: usize) -> &[N] {
        &self.tables[bucket.table + row * bucket.states..][..bucket.states]
    }

    /// Multiplies all likelihoods on each single variable together first, so that its table is gone
    /// through once
    fn observe(&mut self, frame: &Frame, weights: &Weights) {
        self.locals.clear();
        self.locals.resize(frame.locals, N::ONE);
        self.observed.clear();
        self.observed.grow(frame.buckets.len());
        for unary in weights.unaries() {
            let Bucket { local: start, states, .. } = frame.buckets[unary.bucket];
            let values = unary.values.iter().map(|&value| N::of(value));
            multiply_row(&mut self.locals[start..start + states], values, &mut self.lost);
            self.observed.insert(unary.bucket);
        }
        for bucket in self.observed.ones().map(|number| &frame.buckets[number]) {
            let table = &mut self.tables[bucket.table..bucket.table + bucket.rows * bucket.states];
            let local = &self.locals[bucket.local..bucket.local + bucket.states];
            for row in table.chunks_exact_mut(bucket.states) {
                multiply_row(row, local.iter().copied(), &mut self.lost);
            }
        }
    }

    fn multiply_input(&mut self, frame: &Frame, input: &Input) {
        let bucket = &frame.buckets[input.place.bucket];
        let table = &mut self.tables[bucket.table..bucket.table + bucket.rows * bucket.states];
        let map = &frame.maps[input.place.map..input.place.map + bucket.rows];
        for (row, &place) in table.chunks_exact_mut(bucket.states).zip(map) {
            let values = &input.values[place as usize..place as usize + bucket.states];
            multiply_row(row, values.iter().map(|&value| N::of(value)), &mut self.lost);
        }
    }

    fn multiply_message(&mut self, frame: &Frame, bucket: &Bucket, child: &Bucket) {
        let table = &mut self.tables[bucket.table..bucket.table + bucket.rows * bucket.states];
        let map = &frame.maps[child.map..child.map + bucket.rows];
        let message = &self.messages[child.message..child.message + child.rows];
        let states = bucket.states;
        let lost = &mut self.lost;
        match states {
            2 => multiply_fixed::<N, 2>(table, map, message, lost),
            3 => multiply_fixed::<N, 3>(table, map, message, lost),
            4 => multiply_fixed::<N, 4>(table, map, message, lost),
            _ => {
                for (row, &place) in table.chunks_exact_mut(states).zip(map) {
                    let message = &message[place as usize..place as usize + states];
                    multiply_row(row, message.iter().copied(), lost);
                }
            }
        }
    }

    /// Row sums as the message, table and message scaled by a power of two so that the largest sum is
    /// near 1; the exponent taken out
    fn send(&mut self, bucket: &Bucket, maximised: bool) -> i64 {
        let table = &mut self.tables[bucket.table..bucket.table + bucket.rows * bucket.states];
        let message = &mut self.messages[bucket.message..bucket.message + bucket.rows];
        for (sum, row) in message.iter_mut().zip(table.chunks_exact(bucket.states)) {
            let join = if maximised { N::larger } else { N::plus };
            *sum = row.iter().copied().fold(N::ZERO, join);
        }
        N::rescale(table, message, &mut self.lost)
    }

    fn sum_parent(&mut self, frame: &Frame, child: &Bucket, parent: &Bucket) {
        let sums = &mut self.sums[child.message..child.message + child.rows];
        let table = &self.tables[parent.table..parent.table + parent.rows * parent.states];
        let map = &frame.maps[child.map..child.map + parent.rows];
        for (row, &place) in table.chunks_exact(parent.states).zip(map) {
            for (sum, &entry) in sums[place as usize..place as usize + parent.states].iter_mut().zip(row) {
                *sum = sum.plus(entry);
            }
        }
    }
}

fn multiply_row<N: Number>(row: &mut [N], values: impl Iterator<Item = N>, lost: &mut bool) {
    for (entry, value) in row.iter_mut().zip(values) {
        *entry = entry.times(value, lost);
    }
}

/// Rows of a length known when compiled, which the compiler unrolls
fn multiply_fixed<N: Number, const STATES: usize>(
    table: &mut [N],
    map: &[u32],
    message: &[N],
    lost: &mut bool,
) {
    let mut any = false;
    for (row, &place) in table.as_chunks_mut::<STATES>().0.iter_mut().zip(map) {
        let message = &message[place as usize..place as usize + STATES];
        for (entry, &value) in row.iter_mut().zip(message) {
            *entry = entry.times(value, &mut any);
        }
    }
    *lost |= any;
}
