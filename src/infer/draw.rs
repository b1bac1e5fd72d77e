//! Joint samples of all variables of a circuit given the evidence

use crate::invariant::Hold;
use std::collections::BTreeMap;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use crate::infer::circuit::Circuit;
use crate::infer::number::{Number, Wide};
use crate::infer::pass::Pass;
use crate::infer::weights::Weights;
use crate::network::NodeId;
use fixedbitset::FixedBitSet;

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

    /// Number from the standard normal distribution (Box and Muller 1958)
    pub fn normal(&mut self) -> f64 {
        let length = libm::sqrt(-2.0 * libm::log(1.0 - self.unit()));
        length * libm::cos(std::f64::consts::TAU * self.unit())
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

impl<'a> Sampler<'a> {
    /// State of every node of the circuit, drawn together
    pub fn draw(&self, dice: &mut Dice) -> BTreeMap<NodeId, usize> {
        let states = self.draw_buckets(|_| true, dice);
        let nodes = self.circuit.nodes().zip(&self.circuit.frame.bucket_of);
        let state = |bucket: usize| *states.get(bucket).hold("a state is drawn for every bucket");
        nodes.map(|(node, &bucket)| (node, state(bucket))).collect()
    }

    /// The same for some nodes alone, with no more drawn than they hang on; `None` when one of them is no variable of the
    /// circuit
    pub fn of(self, nodes: &[NodeId]) -> Option<SamplerOf<'a>> {
        let frame = &self.circuit.frame;
        let wanted: Vec<usize> = nodes.iter().map(|node| frame.bucket_of(*node)).collect::<Option<_>>()?;
        let mut needed = FixedBitSet::with_capacity(frame.buckets.len());
        needed.extend(wanted.iter().copied());
        for (place, bucket) in frame.buckets.iter().enumerate() {
            if needed.contains(place) {
                needed.extend(frame.others(bucket).iter().map(|other| *other as usize));
            }
        }
        Some(SamplerOf { sampler: self, wanted, needed })
    }

    /// From the roots down, each variable that is needed given those eliminated after it
    fn draw_buckets(&self, needed: impl Fn(usize) -> bool, dice: &mut Dice) -> Vec<usize> {
        let frame = &self.circuit.frame;
        let mut states = vec![0; frame.buckets.len()];
        for (place, bucket) in frame.buckets.iter().enumerate().rev().filter(|(place, _)| needed(*place)) {
            let row = frame.row_of(bucket, &states);
            let drawn = match &self.pass {
                Upward::Plain(pass) => dice.pick(pass.row(bucket, row)),
                Upward::Wide(pass) => dice.pick(&relative(pass.row(bucket, row))),
            };
            if let Some(state) = states.get_mut(place) {
                *state = drawn;
            }
        }
        states
    }
}

/// Sampler of some nodes alone
#[derive(Clone, Debug)]
pub struct SamplerOf<'a> {
    sampler: Sampler<'a>,
    /// Bucket of each node
    wanted: Vec<usize>,
    /// Their buckets and those that these hang on
    needed: FixedBitSet,
}

impl SamplerOf<'_> {
    /// State of each of the nodes, drawn together
    pub fn draw(&self, dice: &mut Dice) -> Vec<usize> {
        let states = self.sampler.draw_buckets(|place| self.needed.contains(place), dice);
        self.wanted.iter().map(|&place| *states.get(place).hold("every bucket has a state")).collect()
    }
}

/// Wide numbers brought to a common scale that doubles hold
fn relative(row: &[Wide]) -> Vec<f64> {
    let sum = row.iter().copied().fold(Wide::ZERO, Wide::plus);
    row.iter().map(|entry| entry.over(sum).narrow()).collect()
}
