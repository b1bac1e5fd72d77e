//! Twin networks against all worlds gone through one by one, and against what Pearl printed.

use pinboss::assess::but_for::lower;
use pinboss::infer::enumerate::enumerate;
use pinboss::infer::{Finding, Limits};
use pinboss::network::shape::Shape;
use pinboss::network::twin::twin;
use pinboss::network::{Law, Network, NodeId, Path};
use proptest::prelude::*;
use rstest::rstest;

/// Every share is so many of these, so that one draw of a contribution has so many equally likely outcomes
const PARTS: usize = 4;

/// Deterministic stream of numbers out of one seed (SplitMix64, Steele, Lea and Flood 2014, from memory)
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((mixed ^ (mixed >> 31)) % bound as u64) as usize
    }

    fn row(&mut self, states: usize) -> Vec<f64> {
        let mut row = vec![0.0; states];
        for _ in 0..PARTS {
            row[self.below(states)] += 1.0 / PARTS as f64;
        }
        row
    }

    fn path(&mut self, network: &Network, states: usize, most: usize) -> Path {
        let mut parents: Vec<NodeId> = Vec::new();
        for _ in 0..self.below(most + 1) {
            let parent = network.at(self.below(network.len())).unwrap();
            if !parents.contains(&parent) {
                parents.push(parent);
            }
        }
        let rows: usize = parents.iter().map(|parent| network.states(*parent)).product();
        let rows = (0..rows).flat_map(|_| self.row(states)).collect();
        Path { parents, rows }
    }

    fn law(&mut self, network: &Network) -> (usize, Law) {
        let shape = match self.below(5) {
            0 => {
                let states = 2 + self.below(2);
                let Path { parents, rows } = self.path(network, states, 2);
                return (states, Law::Table { parents, rows });
            }
            1 => Shape::Ladder { grades: 2 },
            2 => Shape::Ladder { grades: 3 },
            3 => Shape::Alternatives { alternatives: 2 },
            _ => Shape::Arms { low: 1, high: 1 },
        };
        let paths = (0..=self.below(2)).map(|_| self.path(network, shape.states(), 2)).collect();
        (shape.states(), Law::Max { shape, paths })
    }
}

/// Four nodes, the first a root of two states, with up to three soft findings
fn network(seed: u64) -> (Network, Vec<Finding>) {
    let mut numbers = Numbers(seed);
    let mut network = Network::new();
    let root = Law::Table { parents: Vec::new(), rows: vec![0.25, 0.75] };
    network.add("root", 2, root).unwrap();
    for number in 1..4 {
        let (states, law) = numbers.law(&network);
        network.add(format!("node {number}"), states, law).unwrap();
    }
    let found = (0..numbers.below(4)).map(|_| {
        let node = network.at(numbers.below(4)).unwrap();
        let likelihood = (0..network.states(node)).map(|_| [0.0, 0.5, 1.0, 1.0][numbers.below(4)]).collect();
        Finding { node, likelihood }
    });
    let found = found.collect();
    (network, found)
}

/// Every draw of every contribution, each giving one world as it is and one as it would have been
struct Worlds<'a> {
    network: &'a Network,
    found: &'a [Finding],
    of: NodeId,
    normal: &'a [NodeId],
    shape: Shape,
    total: f64,
    lower: f64,
    other: f64,
}

impl Worlds<'_> {
    fn go(&mut self, is: &mut Vec<usize>, would: &mut Vec<usize>, weight: f64) {
        let Some(node) = self.network.at(is.len()) else {
            let told = |finding: &Finding| finding.likelihood[is[finding.node.index()]];
            let weight = weight * self.found.iter().map(told).product::<f64>();
            let (one, other) = (is[self.of.index()], would[self.of.index()]);
            self.total += weight;
            if one != other && self.shape.join(one, other) == one {
                self.lower += weight;
            } else if one != other && self.shape.join(one, other) != other {
                self.other += weight;
            }
            return;
        };
        let (shape, paths) = match self.network.law(node) {
            Law::Table { parents, rows } => {
                (None, vec![Path { parents: parents.clone(), rows: rows.clone() }])
            }
            Law::Max { shape, paths } => (Some(*shape), paths.clone()),
        };
        let join = |one, other| shape.map_or(other, |shape| shape.join(one, other));
        for draw in 0..PARTS.pow(paths.len() as u32) {
            let (mut one, mut other) = (0, 0);
            for (number, Path { parents, rows }) in paths.iter().enumerate() {
                let part = draw / PARTS.pow(number as u32) % PARTS;
                let shown = |states: &[usize]| {
                    let row = parents
                        .iter()
                        .fold(0, |row, parent| row * self.network.states(*parent) + states[parent.index()]);
                    let size = self.network.states(node);
                    reached(&rows[row * size..(row + 1) * size], part)
                };
                (one, other) = (join(one, shown(is)), join(other, shown(would)));
            }
            is.push(one);
            would.push(if self.normal.contains(&node) { 0 } else { other });
            self.go(is, would, weight / (PARTS.pow(paths.len() as u32) as f64));
            is.pop();
            would.pop();
        }
    }
}

/// The state in whose share of a row a part lies, the states one after another
fn reached(row: &[f64], part: usize) -> usize {
    let middle = (part as f64 + 0.5) / PARTS as f64;
    let mut sum = 0.0;
    row.iter()
        .position(|share| {
            sum += share;
            sum > middle
        })
        .unwrap()
}

fn shape(network: &Network, of: NodeId) -> Shape {
    match network.law(of) {
        Law::Max { shape, .. } => *shape,
        Law::Table { .. } => Shape::Ladder { grades: network.states(of) },
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// By all worlds of a functional model: one draw for each contribution, which both worlds share
    #[test]
    fn but_for_is_that_of_all_worlds(seed: u64, of in 1..4_usize, set in 0..4_usize) {
        let (network, found) = network(seed);
        let (of, normal) = (network.at(of).unwrap(), [network.at(0).unwrap(), network.at(set).unwrap()]);
        let shape = shape(&network, of);
        let mut worlds = Worlds {
            network: &network, found: &found, of, normal: &normal, shape, total: 0.0, lower: 0.0, other: 0.0,
        };
        worlds.go(&mut Vec::new(), &mut Vec::new(), 1.0);
        let told = lower(&network, of, &normal, &found, &Limits::default());
        if worlds.total > 0.0 {
            let told = told.unwrap();
            prop_assert!((told.lower - worlds.lower / worlds.total).abs() < 1e-12, "{told:?} {}", worlds.lower / worlds.total);
            prop_assert!((told.other - worlds.other / worlds.total).abs() < 1e-12, "{told:?} {}", worlds.other / worlds.total);
        } else {
            prop_assert_eq!(told, None);
        }
    }

    /// What is, is as it was: doubling nodes changes no probability of the findings
    #[test]
    fn the_twin_leaves_what_is_alone(seed: u64, of in 1..4_usize) {
        let (network, found) = network(seed);
        let of = network.at(of).unwrap();
        let twin = twin(&network, of, &[network.at(0).unwrap()]).unwrap();
        for node in network.nodes() {
            let here = twin.node(node).unwrap();
            let told = |finding: &Finding| Finding {
                node: twin.node(finding.node).unwrap(),
                likelihood: twin.pairs(finding.node).iter().map(|(is, _)| finding.likelihood[*is]).collect(),
            };
            let beliefs = enumerate(&network, &found);
            let doubled = enumerate(&twin.network, &found.iter().map(told).collect::<Vec<_>>());
            let Some(marginal) = beliefs.marginal(node) else { return Ok(()) };
            for (state, chance) in marginal.iter().enumerate() {
                let pairs = twin.pairs(node).iter().zip(doubled.marginal(here).unwrap());
                let sum: f64 = pairs.filter(|((is, _), _)| *is == state).map(|(_, chance)| chance).sum();
                prop_assert!((sum - chance).abs() < 1e-12);
            }
        }
    }

    /// The bounds on the probability of necessity that hold whatever the mechanism (Tian and Pearl 2000; Pearl 2009,
    /// section 9.3; from memory): max(0, (P(y) - P(y | not x)) / P(x, y)) up to min(1, (P(not y | not x) - P(not x, not y)) /
    /// P(x, y)), for a cause x that nothing confounds
    #[test]
    fn but_for_lies_within_the_bounds_of_tian_and_pearl(seed: u64) {
        let (mut network, _) = network(seed);
        let cause = network.at(0).unwrap();
        let mut numbers = Numbers(!seed);
        let shape = Shape::Ladder { grades: 2 };
        let paths = vec![numbers.path(&network, 2, 2), numbers.path(&network, 2, 2)];
        let effect = network.add("effect", 2, Law::Max { shape, paths }).unwrap();
        let chance = |found: &[Finding]| libm::exp(enumerate(&network, found).log_evidence);
        let is = |node, state| Finding::state(&network, node, state);
        let both = chance(&[is(cause, 1), is(effect, 1)]);
        prop_assume!(both > 0.0);
        let without = chance(&[is(cause, 0), is(effect, 1)]) / chance(&[is(cause, 0)]);
        let least = ((chance(&[is(effect, 1)]) - without) / both).max(0.0);
        let most = ((1.0 - without - chance(&[is(cause, 0), is(effect, 0)])) / both).min(1.0);
        let found = [is(cause, 1), is(effect, 1)];
        let told = lower(&network, effect, &[cause], &found, &Limits::default()).unwrap().lower;
        prop_assert!(told >= least - 1e-12 && told <= most + 1e-12, "{least} {told} {most}");
    }
}

/// A node that is there whenever one of its parents is
fn any_of(network: &mut Network, name: &str, parents: &[NodeId]) -> NodeId {
    let path = |parent: &NodeId| Path { parents: vec![*parent], rows: vec![1.0, 0.0, 0.0, 1.0] };
    let law = Law::Max { shape: Shape::Ladder { grades: 2 }, paths: parents.iter().map(path).collect() };
    network.add(name, 2, law).unwrap()
}

fn root(network: &mut Network, name: &str, chance: f64) -> NodeId {
    network.add(name, 2, Law::Table { parents: Vec::new(), rows: vec![1.0 - chance, chance] }).unwrap()
}

/// The firing squad (Pearl 2000 and 2009, section 7.1.2; from memory): the court orders the execution with probability p,
/// rifleman A pulls the trigger from nerves with probability q, on the order both fire. The prisoner is dead; he would be
/// alive had A not fired with probability q (1 - p) / (1 - (1 - q)(1 - p)).
#[rstest]
#[case(0.7, 0.1)]
#[case(0.05, 0.4)]
#[case(0.5, 0.5)]
fn the_firing_squad(#[case] p: f64, #[case] q: f64) {
    let mut network = Network::new();
    let order = root(&mut network, "order", p);
    let nerves = root(&mut network, "nerves", q);
    let first = any_of(&mut network, "A fires", &[order, nerves]);
    let second = any_of(&mut network, "B fires", &[order]);
    let dead = any_of(&mut network, "dead", &[first, second]);
    let found = [Finding::state(&network, dead, 1)];
    let told = lower(&network, dead, &[first], &found, &Limits::default()).unwrap();
    let printed = q * (1.0 - p) / (1.0 - (1.0 - q) * (1.0 - p));
    assert!((told.lower - printed).abs() < 1e-12, "{told:?} {printed}");
    // Had neither fired he would be alive for certain.
    let neither = lower(&network, dead, &[first, second], &found, &Limits::default()).unwrap();
    assert!((neither.lower - 1.0).abs() < 1e-12);
}

/// Deaths from leukaemia near a test site (figures of Finkelstein and Levin 1990 in Pearl 2009, section 9.4; from memory):
/// 30 of 69,160 with high radiation, 16 of 59,026 with low. With nothing confounding and radiation never saving anybody the
/// probability of necessity is the excess risk ratio, 0.375.
#[test]
fn excess_risk_is_the_probability_of_necessity() {
    let (exposed, spared) = (30.0 / 69_160.0, 16.0 / 59_026.0);
    let mut network = Network::new();
    let radiation = root(&mut network, "radiation", 0.5);
    let share = 1.0 - (1.0 - exposed) / (1.0 - spared);
    let paths = vec![
        Path { parents: Vec::new(), rows: vec![1.0 - spared, spared] },
        Path { parents: vec![radiation], rows: vec![1.0, 0.0, 1.0 - share, share] },
    ];
    let law = Law::Max { shape: Shape::Ladder { grades: 2 }, paths };
    let death = network.add("death", 2, law).unwrap();
    let found = [Finding::state(&network, radiation, 1), Finding::state(&network, death, 1)];
    let told = lower(&network, death, &[radiation], &found, &Limits::default()).unwrap();
    assert!((told.lower - 0.375).abs() < 0.001, "{told:?}");
}
