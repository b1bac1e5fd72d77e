//! From variables, factors and an order of elimination to the flat arrays of a frame

#![expect(
    clippy::indexing_slicing,
    reason = "variables, buckets and rows are numbered by this file alone, each within the array it counts"
)]

use crate::invariant::Hold;
use std::sync::Arc;

use crate::infer::beliefs::Places;
use crate::infer::expand::{Factor, Parts};
use crate::infer::frame::{Bucket, Frame, Input, Place, turned};
use crate::infer::order::Step;

/// Frame that eliminates the variables in the order of `steps`
///
/// INVARIANT: bucket `i` eliminates the variable of step `i`. Its table runs over the bucket's other
/// variables from the last eliminated to the next one, and then its own, which is fastest. So the
/// message, the sum over its own variable, is one number a row, and the parent's own variable is
/// fastest in it.
pub(crate) fn assemble(parts: &Parts<'_>, steps: &[Step]) -> Frame {
    let mut position = vec![0; steps.len()];
    for (place, step) in steps.iter().enumerate() {
        position[step.variable] = place;
    }
    let mut builder = Builder::new(parts, steps, &position);
    for factor in &parts.factors {
        builder.multiply(parts, factor, &position);
    }
    for joint in &parts.joints {
        let scope = positions(&parts.scopes[joint.scope.clone()], &position);
        let place = builder.place(&scope);
        builder.frame.joints.push(((joint.leaf, joint.path), place));
    }
    let mut frame = builder.frame;
    let sizes = (0..parts.nodes.len()).map(|variable| parts.states[variable]);
    frame.places = Arc::new(Places::new(parts.nodes.iter().copied().zip(sizes)));
    frame.bucket_of = position[..parts.nodes.len()].to_vec();
    frame
}

fn positions(scope: &[usize], position: &[usize]) -> Vec<usize> {
    scope.iter().map(|&variable| position[variable]).collect()
}

struct Builder {
    frame: Frame,
    /// Number of states by position
    sizes: Vec<usize>,
    /// Working memory of `multiply`
    map: Vec<u32>,
    product: Vec<f64>,
}

impl Builder {
    fn new(parts: &Parts<'_>, steps: &[Step], position: &[usize]) -> Self {
        let sizes: Vec<usize> = steps.iter().map(|step| parts.states[step.variable]).collect();
        let mut frame = Frame { buckets: Vec::with_capacity(steps.len()), ..Frame::default() };
        let (mut table, mut message, mut local) = (0, 0, 0);
        for (place, step) in steps.iter().enumerate() {
            let start = frame.others.len();
            frame.others.extend(step.neighbours.iter().map(|&other| position[other] as u32));
            frame.others[start..].sort_unstable_by(|a, b| b.cmp(a));
            let others = &frame.others[start..];
            let states = sizes[place];
            let rows = others.iter().map(|&other| sizes[other as usize]).product();
            let parent = others.last().map(|&parent| parent as usize);
            let others = (start, frame.others.len());
            frame.buckets.push(Bucket { states, rows, table, message, local, parent, others, map: 0 });
            table += rows * states;
            message += rows;
            local += states;
        }
        frame.base = vec![1.0; table];
        frame.messages = message;
        frame.locals = local;
        let mut builder = Builder { frame, sizes, map: Vec::new(), product: Vec::new() };
        builder.link();
        builder
    }

    /// Maps from the rows of each parent to the message of its child
    fn link(&mut self) {
        for child in 0..self.frame.buckets.len() {
            let bucket = self.frame.buckets[child];
            if bucket.parent.is_some() {
                let scope: Vec<usize> =
                    self.frame.others(&bucket).iter().map(|&other| other as usize).collect();
                self.frame.buckets[child].map = self.place(&scope).map;
            }
        }
    }

    /// The bucket that a table over `scope` goes to, with a map from its rows to the table turned so
    /// that the first eliminated is fastest
    fn place(&mut self, scope: &[usize]) -> Place {
        let mut sorted = scope.to_vec();
        sorted.sort_unstable();
        let mut strides = Vec::with_capacity(sorted.len());
        let mut stride = 1;
        for &position in &sorted {
            strides.push((position, stride));
            stride *= self.sizes[position];
        }
        let bucket = *sorted.first().hold("a table that is placed is over some variable");
        let map = self.frame.maps.len();
        let mut maps = std::mem::take(&mut self.frame.maps);
        self.frame.rows(&mut maps, bucket, &strides);
        self.frame.maps = maps;
        Place { bucket, map }
    }

    /// Multiplies a factor into the base table of the bucket of its first eliminated variable; where a
    /// product leaves the range of doubles it becomes an input of its own
    fn multiply(&mut self, parts: &Parts<'_>, factor: &Factor<'_>, position: &[usize]) {
        let scope = positions(&parts.scopes[factor.scope.clone()], position);
        let mut map = std::mem::take(&mut self.map);
        map.clear();
        let laid = self.frame.lay(&scope, &mut map);
        let (bucket, own) = laid.hold("a factor is over the variable that it defines");
        if !self.multiply_base(bucket, &map, own, &factor.values) {
            let place = self.place(&scope);
            let values = turned(&scope, &factor.values, |position| self.sizes[position]);
            let values = values.hold("a factor has an entry for every combination of its variables");
            self.frame.inputs.push(Input { place, values });
        }
        self.map = map;
    }

    /// Whether the product stayed in the range of doubles; nothing is changed otherwise
    fn multiply_base(&mut self, bucket: usize, map: &[u32], stride: usize, values: &[f64]) -> bool {
        let Bucket { states, table, rows, .. } = self.frame.buckets[bucket];
        let base = &mut self.frame.base[table..table + rows * states];
        self.product.clear();
        let mut lost = false;
        for (row, &start) in base.chunks_exact(states).zip(map) {
            for (state, &own) in row.iter().enumerate() {
                let value = values[start as usize + state * stride];
                let product = own * value;
                lost |= (product < f64::MIN_POSITIVE) & (own > 0.0) & (value > 0.0);
                self.product.push(product);
            }
        }
        if !lost {
            base.copy_from_slice(&self.product);
        }
        !lost
    }
}
