//! Past the feasible width: for every posterior an interval that is certain to hold it, narrower the more work is spent.
//!
//! Some variables are cut, each into one clone for each table it stands in, until what is left is narrow enough. A search then
//! settles the states of the cut variables one after another, and always goes on where most of the probability may still lie.
//! What is settled for all cuts is exact and is added to the sums; what is open has an upper bound, by maximising over clones.
//! Let L be the sum of P(evidence, settled states), Lx that part of it in which X is so, and U the bounds of all that is
//! open. Then P(X | evidence) lies between Lx / (L + U) and (Lx + U) / (L + U).
//!
//! No single figure is ever told here, only the interval. The budget counts entries of tables and no seconds, so that the same
//! call gives the same bytes.

use std::cmp::Ordering;
use std::collections::{BTreeMap, BinaryHeap};
use std::sync::Arc;

use crate::infer::Finding;
use crate::infer::circuit::{Circuit, Scratch};
use crate::infer::expand::Chains;
use crate::infer::frame::Unary;
use crate::infer::number::{Number, Wide};
use crate::infer::pattern::{Ask, pattern};
use crate::infer::split::{Cut, Split, split};
use crate::infer::weights::Weights;
use crate::network::{Network, NodeId};
use fixedbitset::FixedBitSet;

/// Work allowed, counted so that the same budget gives the same bounds on every machine
#[derive(Copy, Clone, Eq, PartialEq, Debug)]
pub struct Budget {
    /// Entries of tables passed, each counted once for every pass
    pub entries: u64,
    /// Most entries of one table; smaller ones are passed faster, but more variables must be cut for them
    pub table: usize,
}

/// About what passes in a second on one ordinary core
const ENTRIES_A_SECOND: f64 = 2e8;

impl Budget {
    /// What an ordinary machine does in so many seconds
    pub fn seconds(seconds: f64) -> Self {
        Budget { entries: (seconds.max(0.0) * ENTRIES_A_SECOND) as u64, table: 1 << 17 }
    }
}

impl Default for Budget {
    fn default() -> Self {
        Budget::seconds(1.0)
    }
}

/// Bounds that hold a probability
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Interval {
    /// At least this
    pub lower: f64,
    /// At most this
    pub upper: f64,
}

impl Interval {
    /// One value, known exactly
    pub fn exact(value: f64) -> Self {
        Interval { lower: value, upper: value }
    }

    /// Whether the two have a value in common
    pub fn overlaps(self, other: Interval) -> bool {
        self.lower <= other.upper && other.lower <= self.upper
    }
}

/// Room for rounding, as a share of the sums
const ROUNDING: f64 = 1e-12;

/// Part of the budget spent on sharing out, where not all can be settled
const SHARING: u64 = 6;

/// Drop of the bound's logarithm in one round from which another is worth it
const WORTH_SHARING: f64 = 0.1;

/// Intervals for every node the findings hang on, and for those asked for
#[derive(Clone, Debug)]
pub struct Bounds {
    /// Natural logarithm of the probability of the evidence, in the scale of the likelihoods given
    pub log_evidence: Interval,
    /// Σ P(evidence, state) over what was settled, by node, as a share of all there may be
    sums: BTreeMap<NodeId, Vec<f64>>,
    /// What was settled, as such a share
    settled: f64,
    /// What may lie in what is not, as such a share
    open: f64,
}

impl Bounds {
    /// Bounds on the posterior probability that a node is in one of the states for which `is_one` holds; `None`
    /// for a node not worked out, or when the evidence is impossible
    pub fn among(&self, node: NodeId, is_one: impl Fn(usize) -> bool) -> Option<Interval> {
        let sums = self.sums.get(&node)?;
        let part: f64 = sums.iter().enumerate().filter(|(state, _)| is_one(*state)).map(|(_, sum)| sum).sum();
        let (lower, upper) = (part - ROUNDING, part + self.open + ROUNDING);
        (!self.is_impossible()).then_some(Interval { lower: lower.max(0.0), upper: upper.min(1.0) })
    }

    /// Nodes worked out
    pub fn nodes(&self) -> impl Iterator<Item = NodeId> {
        self.sums.keys().copied()
    }

    /// Whether nothing was left open, so that the intervals are as narrow as rounding
    pub fn is_exact(&self) -> bool {
        self.open <= 0.0
    }

    /// Whether the evidence cannot be
    pub fn is_impossible(&self) -> bool {
        self.settled <= 0.0 && self.open <= 0.0
    }
}

/// Parts of the largest table that are tried
const PARTS: [usize; 3] = [1, 4, 32];

/// Bounds on the posteriors of every node the findings hang on, and of the `wanted` nodes
pub fn bounds(network: &Network, findings: &[Finding], wanted: &[NodeId], budget: &Budget) -> Bounds {
    let chains = Chains::new(network);
    let ask = Ask { keep: wanted.to_vec(), bound: Vec::new() };
    let pattern = pattern(network, findings, &ask);
    let splits =
        PARTS.iter().filter_map(|part| split(network, &chains, &pattern, (budget.table / part).max(2)));
    let best = splits.min_by(|a, b| a.work().total_cmp(&b.work()));
    match best.and_then(|split| Search::new(network, findings, split)) {
        Some(mut search) => {
            search.run(budget);
            search.bounds()
        }
        None => nothing(network, wanted),
    }
}

/// Bounds that say nothing
fn nothing(network: &Network, wanted: &[NodeId]) -> Bounds {
    let sums = wanted.iter().map(|&node| (node, vec![0.0; network.states(node)])).collect();
    let log_evidence = Interval { lower: f64::NEG_INFINITY, upper: f64::INFINITY };
    Bounds { log_evidence, sums, settled: 0.0, open: 1.0 }
}

impl Split {
    /// Logarithm of the entries passed when every state of every cut is settled
    fn work(&self) -> f64 {
        let cuts: f64 = self.cuts.iter().map(|cut| libm::log2(cut.states as f64)).sum();
        cuts + libm::log2(self.frame.base.len().max(1) as f64)
    }
}

/// States of the first cuts, the rest open, with what at most lies there
struct Branch {
    most: Wide,
    states: Vec<usize>,
}

impl PartialEq for Branch {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Branch {}

impl PartialOrd for Branch {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Branch {
    /// By what may lie there, then by the states, so that the search is the same everywhere
    fn cmp(&self, other: &Self) -> Ordering {
        self.most.compare(other.most).then_with(|| other.states.cmp(&self.states))
    }
}

struct Search {
    circuit: Circuit,
    split: Split,
    scratch: Scratch,
    /// Buckets that are maximised over while their cut is open
    maximised: FixedBitSet,
    shares: Vec<Unary>,
    open: BinaryHeap<Branch>,
    settled: Wide,
    sums: BTreeMap<NodeId, Vec<Wide>>,
    spent: u64,
}

impl Search {
    /// `None` when the findings cannot be put on the split frame
    fn new(network: &Network, findings: &[Finding], split: Split) -> Option<Search> {
        let circuit = Circuit::new(network, Arc::new(split.frame.clone()), findings)?;
        let mut maximised = FixedBitSet::with_capacity(split.frame.buckets.len());
        maximised.extend(split.cuts.iter().flat_map(|cut| cut.clones.iter().skip(1)).copied());
        let ones = |cut: &Cut| {
            let values = vec![1.0; cut.states];
            cut.clones.iter().map(move |&bucket| Unary { bucket, values: values.clone() }).collect::<Vec<_>>()
        };
        let shares = split.cuts.iter().flat_map(ones).collect();
        let sums = circuit.nodes().map(|node| (node, vec![Wide::ZERO; network.states(node)])).collect();
        let mut search = Search {
            circuit,
            split,
            scratch: Scratch::default(),
            maximised,
            shares,
            open: BinaryHeap::new(),
            settled: Wide::ZERO,
            sums,
            spent: 0,
        };
        search.add(Vec::new());
        Some(search)
    }

    /// Settles or opens what lies under some states
    fn add(&mut self, states: Vec<usize>) {
        let weights = self.weights(&states);
        if states.len() == self.split.cuts.len() {
            self.settle(&weights);
            return;
        }
        self.spent += self.circuit.total() as u64;
        let maximised = self.maximised_under(states.len());
        let most = self.circuit.most(&weights, &maximised, &mut self.scratch);
        if !most.is_zero() {
            self.open.push(Branch { most, states });
        }
    }

    fn maximised_under(&self, settled: usize) -> FixedBitSet {
        let mut maximised = self.maximised.clone();
        for clone in self.split.cuts.iter().take(settled).flat_map(|cut| &cut.clones) {
            maximised.remove(*clone);
        }
        maximised
    }

    /// Shares each cut variable's weight out among its clones so that they agree better about its state, which
    /// lowers the bound; what one clone is given another gives, so that nothing changes once all agree
    fn share_out(&mut self, entries: u64) {
        let mut now = self.value(None);
        let mut gain = f64::INFINITY;
        while gain > WORTH_SHARING {
            let before = now;
            for cut in 0..self.split.cuts.len() {
                if self.spent >= entries {
                    return;
                }
                let kept = self.shares.clone();
                self.level(cut);
                let then = self.value(None);
                if then < now {
                    now = then;
                } else {
                    self.shares = kept;
                }
            }
            gain = before - now;
        }
    }

    /// Moves the shares of one cut's clones half way to where all would say the same of each state
    fn level(&mut self, cut: usize) {
        let Some(Cut { states, clones }) = self.split.cuts.get(cut).cloned() else { return };
        for state in 0..states {
            let said: Vec<f64> =
                clones.iter().map(|&bucket| self.value(Some((bucket, states, state)))).collect();
            let mean = said.iter().sum::<f64>() / said.len() as f64;
            if mean.is_finite() {
                for (&bucket, said) in clones.iter().zip(&said) {
                    if let Some(share) = self.shares.iter_mut().find(|share| share.bucket == bucket)
                        && let Some(value) = share.values.get_mut(state)
                    {
                        *value *= libm::exp((mean - said) / 2.0);
                    }
                }
            }
        }
    }

    /// Logarithm of the bound with nothing settled, or with one clone in one of its states
    fn value(&mut self, forced: Option<(usize, usize, usize)>) -> f64 {
        let mut weights = self.weights(&[]);
        if let Some((bucket, states, state)) = forced {
            weights.settle(&[bucket], states, state);
        }
        self.spent += self.circuit.total() as u64;
        self.circuit.most(&weights, &self.maximised, &mut self.scratch).ln()
    }

    fn weights(&self, states: &[usize]) -> Weights {
        let mut weights = self.circuit.weights();
        weights.weigh(self.shares.clone());
        for (cut, &state) in self.split.cuts.iter().zip(states) {
            weights.settle(&cut.clones, cut.states, state);
        }
        weights
    }

    fn settle(&mut self, weights: &Weights) {
        self.spent += 2 * self.circuit.total() as u64;
        let beliefs = self.circuit.evaluate_in(weights, &mut self.scratch);
        let evidence = beliefs.evidence();
        self.settled = self.settled.plus(evidence);
        for (node, marginal) in beliefs.marginals() {
            if let Some(sums) = self.sums.get_mut(&node) {
                for (sum, &share) in sums.iter_mut().zip(marginal) {
                    *sum = sum.plus(evidence.times(Wide::of(share), &mut false));
                }
            }
        }
    }

    /// Goes on where most may lie, until all is settled or the budget is spent
    fn run(&mut self, budget: &Budget) {
        if self.split.work() > libm::log2(budget.entries as f64)
            && let Some(all) = self.open.pop()
        {
            self.share_out(budget.entries / SHARING);
            self.add(all.states);
        }
        while self.spent < budget.entries
            && let Some(branch) = self.open.pop()
        {
            let states = self.split.cuts.get(branch.states.len()).map_or(0, |cut| cut.states);
            for state in 0..states {
                self.add(branch.states.iter().copied().chain([state]).collect());
            }
        }
    }

    fn bounds(self) -> Bounds {
        let open = self.open.iter().fold(Wide::ZERO, |sum, branch| sum.plus(branch.most));
        let all = self.settled.plus(open);
        let share = |part: Wide| part.over(all).narrow();
        let states = |sums: Vec<Wide>| sums.into_iter().map(share).collect();
        Bounds {
            log_evidence: Interval { lower: self.settled.ln(), upper: all.ln() },
            sums: self.sums.into_iter().map(|(node, sums)| (node, states(sums))).collect(),
            settled: share(self.settled),
            open: share(open),
        }
    }
}
