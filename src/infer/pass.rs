//! The two passes over the tree of buckets, in plain or in wide numbers

#![expect(
    clippy::indexing_slicing,
    reason = "all ranges come from the circuit, whose arrays were laid out together; the loops are hot"
)]

use crate::infer::circuit::{Bucket, Circuit, Input};
use crate::infer::number::{Number, Wide};
use crate::infer::weights::Weights;

/// Likelihood over the states of one bucket's own variable
pub(crate) struct Local<'a> {
    pub(crate) bucket: usize,
    pub(crate) values: &'a [f64],
}

/// Tables and messages of one evaluation
#[derive(Clone, Default, Debug)]
pub(crate) struct Pass<N> {
    tables: Vec<N>,
    messages: Vec<N>,
    /// Sums of the parent's posterior table over each message's rows, by the place of the message
    sums: Vec<N>,
    /// Likelihoods on single variables, by the place of their bucket
    locals: Vec<N>,
    /// Whether a bucket's own variable has any
    observed: Vec<bool>,
    /// Whether a product left the range of the numbers
    lost: bool,
}

impl<N: Number> Pass<N> {
    /// Tables and messages from the leaves up, and the sum over everything; `None` when a product
    /// left the range of the numbers
    pub(crate) fn up(&mut self, circuit: &Circuit, weights: &Weights) -> Option<Wide> {
        self.lost = false;
        self.tables.clear();
        self.tables.extend(circuit.base.iter().map(|&value| N::of(value)));
        self.messages.clear();
        self.messages.resize(circuit.messages, N::ZERO);
        self.gather(circuit, weights);
        let mut total = Wide::ONE;
        let mut exponent = 0;
        for (number, bucket) in circuit.buckets.iter().enumerate() {
            self.observe(number, bucket);
            for input in bucket.inputs.iter().filter(|input| counts(input, weights)) {
                self.multiply_input(circuit, bucket, input);
            }
            for &child in &bucket.children {
                self.multiply_message(circuit, bucket, &circuit.buckets[child]);
            }
            exponent += self.send(bucket);
            if bucket.parent.is_none() {
                total = total.times(self.messages[bucket.message].wide(), &mut false);
            }
        }
        if self.lost { None } else { Some(total.times(Wide::scaled(1.0, exponent), &mut false)) }
    }

    /// Tables made into posterior tables from the roots down; only after an [`up`](Pass::up) whose
    /// sum was not nought
    pub(crate) fn down(&mut self, circuit: &Circuit) {
        self.sums.clear();
        self.sums.resize(circuit.messages, N::ZERO);
        for bucket in circuit.buckets.iter().rev() {
            match bucket.parent {
                Some(parent) => self.sum_parent(circuit, bucket, &circuit.buckets[parent]),
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

    /// Product of all likelihoods on each single variable, so that its table is gone through once
    fn gather(&mut self, circuit: &Circuit, weights: &Weights) {
        self.locals.clear();
        self.locals.resize(circuit.locals, N::ONE);
        self.observed.clear();
        self.observed.resize(circuit.buckets.len(), false);
        for local in circuit.seen(weights) {
            let Bucket { local: start, states, .. } = circuit.buckets[local.bucket];
            let values = local.values.iter().map(|&value| N::of(value));
            multiply_row(&mut self.locals[start..start + states], values, &mut self.lost);
            self.observed[local.bucket] = true;
        }
    }

    fn observe(&mut self, number: usize, bucket: &Bucket) {
        if !self.observed[number] {
            return;
        }
        let table = &mut self.tables[bucket.table..bucket.table + bucket.rows * bucket.states];
        let local = &self.locals[bucket.local..bucket.local + bucket.states];
        for row in table.chunks_exact_mut(bucket.states) {
            multiply_row(row, local.iter().copied(), &mut self.lost);
        }
    }

    fn multiply_input(&mut self, circuit: &Circuit, bucket: &Bucket, input: &Input) {
        let table = &mut self.tables[bucket.table..bucket.table + bucket.rows * bucket.states];
        let map = &circuit.maps[input.map..input.map + bucket.rows];
        let values = &circuit.values[input.values..];
        for (row, &place) in table.chunks_exact_mut(bucket.states).zip(map) {
            let values = &values[place as usize..place as usize + bucket.states];
            multiply_row(row, values.iter().map(|&value| N::of(value)), &mut self.lost);
        }
    }

    fn multiply_message(&mut self, circuit: &Circuit, bucket: &Bucket, child: &Bucket) {
        let table = &mut self.tables[bucket.table..bucket.table + bucket.rows * bucket.states];
        let map = &circuit.maps[child.map..child.map + bucket.rows];
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
    fn send(&mut self, bucket: &Bucket) -> i64 {
        let table = &mut self.tables[bucket.table..bucket.table + bucket.rows * bucket.states];
        let message = &mut self.messages[bucket.message..bucket.message + bucket.rows];
        for (sum, row) in message.iter_mut().zip(table.chunks_exact(bucket.states)) {
            *sum = row.iter().copied().fold(N::ZERO, N::plus);
        }
        N::rescale(table, message, &mut self.lost)
    }

    fn sum_parent(&mut self, circuit: &Circuit, child: &Bucket, parent: &Bucket) {
        let sums = &mut self.sums[child.message..child.message + child.rows];
        let table = &self.tables[parent.table..parent.table + parent.rows * parent.states];
        let map = &circuit.maps[child.map..child.map + parent.rows];
        for (row, &place) in table.chunks_exact(parent.states).zip(map) {
            for (sum, &entry) in sums[place as usize..place as usize + parent.states].iter_mut().zip(row) {
                *sum = sum.plus(entry);
            }
        }
    }
}

fn counts(input: &Input, weights: &Weights) -> bool {
    input.switch.is_none_or(|finding| weights.on.get(finding).copied().unwrap_or(false))
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
