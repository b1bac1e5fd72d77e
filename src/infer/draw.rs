//! Joint samples of all variables of a circuit given the evidence

use std::collections::BTreeMap;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use crate::infer::circuit::Circuit;
use crate::infer::number::{Number, Wide};
use crate::infer::pass::Pass;
use crate::infer::weights::Weights;
use crate::network::NodeId;

/// Seeded source of chance, the same numbers on every machine
#[derive(Clone, Debug)]
pub struct Dice {
    source: ChaCha8Rng,
}

impl Dice {
    /// Source that a seed fixes for good
    pub fn seeded(seed: u64) -> Self {
        Dice { source: ChaCha8Rng::seed_from_u64(seed) }
    }

    /// One of 2^64 sources that a seed fixes, each unlike the others whichever of them are asked for
    pub fn numbered(seed: u64, number: u64) -> Self {
        let mut source = ChaCha8Rng::seed_from_u64(seed);
        source.set_stream(number);
        Dice { source }
    }

    /// Number from 0 up to but not including 1, in steps of 2^-53
    pub fn unit(&mut self) -> f64 {
        const STEP: f64 = 1.0 / (1_u64 << 53) as f64;
        (self.source.next_u64() >> 11) as f64 * STEP
    }

    /// Whether something comes about that does with a probability
    pub fn comes(&mut self, probability: f64) -> bool {
        self.unit() < probability
    }

    /// Whole number below `count`, all equally likely; 0 when `count` is 0
    pub fn below(&mut self, count: usize) -> usize {
        let drawn = (self.unit() * count as f64) as usize;
        drawn.min(count.saturating_sub(1))
    }

    /// Index drawn in proportion to weights that are non-negative; the last with a weight when
    /// rounding leaves none, 0 when all are nought
    pub fn pick(&mut self, weights: &[f64]) -> usize {
        let total: f64 = weights.iter().sum();
        let mut left = self.unit() * total;
        let mut last = 0;
        for (index, &weight) in weights.iter().enumerate().filter(|&(_, &weight)| weight > 0.0) {
            if left < weight {
                return index;
            }
            left -= weight;
            last = index;
        }
        last
    }
}

/// Upward pass of a circuit under given weights, ready to be drawn from
#[derive(Clone, Debug)]
pub struct Sampler<'a> {
    circuit: &'a Circuit,
    pass: Upward,
}

#[derive(Clone, Debug)]
enum Upward {
    Plain(Pass<f64>),
    Wide(Pass<Wide>),
}

impl Circuit {
    /// Sampler of the posterior; `None` when the evidence is impossible
    pub fn sampler(&self, weights: &Weights) -> Option<Sampler<'_>> {
        let mut plain = Pass::<f64>::default();
        if let Some(total) = plain.up(&self.frame, weights) {
            return self.sampler_of(weights, total, Upward::Plain(plain));
        }
        let mut wide = Pass::<Wide>::default();
        let total = wide.up(&self.frame, weights)?;
        self.sampler_of(weights, total, Upward::Wide(wide))
    }

    fn sampler_of(&self, weights: &Weights, total: Wide, pass: Upward) -> Option<Sampler<'_>> {
        let possible = !total.is_zero() && !weights.constant().is_zero();
        possible.then_some(Sampler { circuit: self, pass })
    }
}

impl Sampler<'_> {
    /// State of every node of the circuit, drawn together
    pub fn draw(&self, dice: &mut Dice) -> BTreeMap<NodeId, usize> {
        let states = self.draw_buckets(dice);
        let nodes = self.circuit.nodes().zip(&self.circuit.frame.bucket_of);
        nodes.filter_map(|(node, &bucket)| Some((node, *states.get(bucket)?))).collect()
    }

    /// State of each of some nodes, drawn together with all others; `None` for a node that is no
    /// variable of the circuit
    pub fn draw_of(&self, nodes: &[NodeId], dice: &mut Dice) -> Option<Vec<usize>> {
        let states = self.draw_buckets(dice);
        nodes.iter().map(|node| states.get(self.circuit.frame.bucket_of(*node)?).copied()).collect()
    }

    /// From the roots down, each variable given those eliminated after it
    fn draw_buckets(&self, dice: &mut Dice) -> Vec<usize> {
        let frame = &self.circuit.frame;
        let mut states = vec![0; frame.buckets.len()];
        for (place, bucket) in frame.buckets.iter().enumerate().rev() {
            let row = frame.row_of(bucket, &states);
            let chances = match &self.pass {
                Upward::Plain(pass) => pass.row(bucket, row).to_vec(),
                Upward::Wide(pass) => relative(pass.row(bucket, row)),
            };
            if let Some(state) = states.get_mut(place) {
                *state = dice.pick(&chances);
            }
        }
        states
    }
}

/// Wide numbers brought to a common scale that doubles hold
fn relative(row: &[Wide]) -> Vec<f64> {
    let sum = row.iter().copied().fold(Wide::ZERO, Wide::plus);
    row.iter().map(|entry| entry.over(sum).narrow()).collect()
}
