//! From variables, factors and an order of elimination to the flat arrays of a circuit

#![expect(
    clippy::indexing_slicing,
    reason = "variables, buckets and rows are numbered by this file alone, each within the array it counts"
)]

use std::sync::Arc;

use crate::infer::beliefs::Places;
use crate::infer::circuit::{Bucket, Circuit, Input, Unary};
use crate::infer::expand::{Factor, Parts};
use crate::infer::order::Step;

/// Circuit that eliminates the variables in the order of `steps`
///
/// INVARIANT: bucket `i` eliminates the variable of step `i`. Its table runs over the bucket's other
/// variables from the last eliminated to the next one, and then its own, which is fastest. So the
/// message, the sum over its own variable, is one number a row, and the parent's own variable is
/// fastest in it.
pub(crate) fn assemble(parts: Parts, steps: &[Step]) -> Circuit {
    let mut position = vec![0; steps.len()];
    for (place, step) in steps.iter().enumerate() {
        position[step.variable] = place;
    }
    let mut builder = Builder::new(&parts, steps, &position);
    for factor in &parts.factors {
        builder.place(factor, &position);
    }
    let places = places(&parts);
    let unaries = unaries(&parts, &position);
    let Builder { mut circuit, .. } = builder;
    circuit.unaries = unaries;
    circuit.constants = parts.constants;
    circuit.exponents = parts.exponents;
    circuit.bucket_of = parts.variables.iter().map(|(&node, &variable)| (node, position[variable])).collect();
    circuit.places = Arc::new(places);
    circuit
}

struct Builder {
    circuit: Circuit,
    /// Number of states by position
    sizes: Vec<usize>,
}

impl Builder {
    fn new(parts: &Parts, steps: &[Step], position: &[usize]) -> Self {
        let sizes: Vec<usize> = steps.iter().map(|step| parts.states[step.variable]).collect();
        let mut builder = Builder { circuit: Circuit::default(), sizes };
        let (mut table, mut message, mut local) = (0, 0, 0);
        for (place, step) in steps.iter().enumerate() {
            let mut scope: Vec<usize> = step.neighbours.iter().map(|&other| position[other]).collect();
            scope.sort_unstable_by(|a, b| b.cmp(a));
            let states = builder.sizes[place];
            let rows = scope.iter().map(|&other| builder.sizes[other]).product();
            let parent = scope.last().copied();
            let bucket =
                Bucket { states, rows, table, message, local, parent, others: scope, ..Bucket::default() };
            builder.circuit.buckets.push(bucket);
            table += rows * states;
            message += rows;
            local += states;
        }
        builder.circuit.base = vec![1.0; table];
        builder.circuit.messages = message;
        builder.circuit.locals = local;
        builder.link();
        builder
    }

    /// Maps from the rows of each parent to the message of its child
    fn link(&mut self) {
        for child in 0..self.circuit.buckets.len() {
            let Some(parent) = self.circuit.buckets[child].parent else {
                continue;
            };
            let map = self.row_map(parent, &self.circuit.buckets[child].others);
            self.circuit.buckets[child].map = self.circuit.maps.len();
            self.circuit.maps.extend(map);
            self.circuit.buckets[parent].children.push(child);
        }
    }

    /// For each row of a bucket, the place where a table over `scope` has the row's entries; `scope`
    /// is sorted from the last position down, ending with the bucket's own
    fn row_map(&self, bucket: usize, scope: &[usize]) -> Vec<u32> {
        let others = &self.circuit.buckets[bucket].others;
        let mut stride = 1;
        let mut strides = vec![0; others.len()];
        for &position in scope.iter().rev() {
            if let Some(digit) = others.iter().position(|&other| other == position) {
                strides[digit] = stride;
            }
            stride *= self.sizes[position];
        }
        let mut map = vec![0_u32];
        for (&stride, &position) in strides.iter().zip(others) {
            let states = 0..self.sizes[position];
            map = map
                .iter()
                .flat_map(|&place| states.clone().map(move |state| place + (state * stride) as u32))
                .collect();
        }
        map
    }

    /// Puts a factor into the bucket of its first variable: into the base table where it always
    /// counts, else as an input of its own
    fn place(&mut self, factor: &Factor, position: &[usize]) {
        let (scope, values) = self.turned(factor, position);
        let Some(&bucket) = scope.last() else { return };
        let map = self.row_map(bucket, &scope);
        if factor.switch.is_none() && self.multiply_base(bucket, &map, &values) {
            return;
        }
        let input =
            Input { switch: factor.switch, map: self.circuit.maps.len(), values: self.circuit.values.len() };
        self.circuit.maps.extend(map);
        self.circuit.values.extend(values);
        self.circuit.buckets[bucket].inputs.push(input);
    }

    /// Whether the product stayed in the range of doubles; nothing is changed otherwise
    fn multiply_base(&mut self, bucket: usize, map: &[u32], values: &[f64]) -> bool {
        let Bucket { states, table, rows, .. } = self.circuit.buckets[bucket];
        let base = &mut self.circuit.base[table..table + rows * states];
        let product = |row: usize, state: usize, own: f64| (own, values[map[row] as usize + state]);
        let lost = base.iter().enumerate().any(|(entry, &own)| {
            let (a, b) = product(entry / states, entry % states, own);
            a > 0.0 && b > 0.0 && a * b < f64::MIN_POSITIVE
        });
        if lost {
            return false;
        }
        for (entry, own) in base.iter_mut().enumerate() {
            let (a, b) = product(entry / states, entry % states, *own);
            *own = a * b;
        }
        true
    }

    /// The factor over positions from the last down
    fn turned(&self, factor: &Factor, position: &[usize]) -> (Vec<usize>, Vec<f64>) {
        let mut strides: Vec<(usize, usize)> = Vec::new();
        let mut stride = 1;
        for &variable in factor.scope.iter().rev() {
            strides.push((position[variable], stride));
            stride *= self.sizes[position[variable]];
        }
        strides.sort_unstable_by(|a, b| b.cmp(a));
        let mut places = vec![0];
        for &(position, stride) in &strides {
            let states = 0..self.sizes[position];
            places = places
                .iter()
                .flat_map(|&place| states.clone().map(move |state| place + state * stride))
                .collect();
        }
        let values = places.into_iter().map(|place: usize| factor.values[place]).collect();
        (strides.into_iter().map(|(position, _)| position).collect(), values)
    }
}

fn places(parts: &Parts) -> Places {
    let mut start = 0;
    let mut places = Places::new();
    for (&node, &variable) in &parts.variables {
        places.insert(node, start..start + parts.states[variable]);
        start += parts.states[variable];
    }
    places
}

fn unaries(parts: &Parts, position: &[usize]) -> Vec<Unary> {
    let turned = |unary: &crate::infer::expand::Unary| Unary {
        bucket: position[unary.variable],
        values: unary.values.clone(),
        finding: unary.finding,
    };
    parts.unaries.iter().map(turned).collect()
}
