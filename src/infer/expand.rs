//! From a network and findings to variables and factors, each coupling as little as it can

use std::collections::{BTreeMap, BTreeSet};

use crate::infer::Finding;
use crate::infer::expand::chain::Chain;
use crate::infer::weights::level;
use crate::network::shape::Shape;
use crate::network::{Law, Network, NodeId, Path};

mod chain;

/// Place of each node in an order of elimination
pub(crate) type Ranks = BTreeMap<NodeId, usize>;

/// What a circuit is made of
#[derive(Default)]
pub(crate) struct Parts {
    /// Number of states of each variable
    pub(crate) states: Vec<usize>,
    /// Variables that stand for nodes of the network; the others are accumulators
    pub(crate) variables: BTreeMap<NodeId, usize>,
    /// Tables that always count
    pub(crate) factors: Vec<Factor>,
    /// Likelihoods that count while their finding does, on one variable each
    pub(crate) unaries: Vec<Unary>,
    /// Constants that count while their finding does: (finding, value)
    pub(crate) constants: Vec<(usize, f64)>,
    /// Power of two taken out of each finding's likelihood
    pub(crate) exponents: Vec<i64>,
}

/// Table over variables, the last fastest
pub(crate) struct Factor {
    pub(crate) scope: Vec<usize>,
    pub(crate) values: Vec<f64>,
    /// Finding that it counts for, if not always
    pub(crate) switch: Option<usize>,
}

/// Likelihood of a finding over the states of one variable
pub(crate) struct Unary {
    pub(crate) variable: usize,
    pub(crate) values: Vec<f64>,
    pub(crate) finding: usize,
}

/// Everything that the findings and the `keep` nodes hang on, as variables and factors
///
/// `ranks` orders the links of each chain by the parent that is eliminated first, where an earlier
/// order of elimination is known; the links stand as given without one.
pub(crate) fn expand(network: &Network, findings: &[Finding], keep: &[NodeId], ranks: &Ranks) -> Parts {
    let mut parts = Parts::default();
    let mut likelihoods: BTreeMap<NodeId, Vec<(usize, Vec<f64>)>> = BTreeMap::new();
    for (place, finding) in findings.iter().enumerate() {
        let mut values = finding.entries(network.states(finding.node));
        parts.exponents.push(level(&mut values));
        likelihoods.entry(finding.node).or_default().push((place, values));
    }
    let kept: BTreeSet<NodeId> = keep.iter().copied().collect();
    let roots: Vec<NodeId> = likelihoods.keys().chain(&kept).copied().collect();
    let relevant = network.ancestors(&roots);
    let inner: BTreeSet<NodeId> = relevant.iter().flat_map(|&node| network.parents(node)).copied().collect();
    for node in relevant {
        let seen = likelihoods.remove(&node).unwrap_or_default();
        let leaf = !kept.contains(&node) && !inner.contains(&node);
        if leaf && parts.factor_bound(network, node, &seen).is_some() {
            continue;
        }
        let variable = parts.variable(network.states(node));
        parts.variables.insert(node, variable);
        parts.define(network, node, variable, ranks);
        for (finding, values) in seen {
            parts.unaries.push(Unary { variable, values, finding });
        }
    }
    parts
}

impl Parts {
    fn variable(&mut self, states: usize) -> usize {
        self.states.push(states);
        self.states.len() - 1
    }

    fn scope(&self, parents: &[NodeId]) -> Vec<usize> {
        parents.iter().filter_map(|parent| self.variables.get(parent).copied()).collect()
    }

    /// Factors the single finding of a noisy-MAX leaf over its paths, if it says no more than "at or
    /// below a state"; `None` and nothing done otherwise
    fn factor_bound(&mut self, network: &Network, node: NodeId, seen: &[(usize, Vec<f64>)]) -> Option<()> {
        let Law::Max { shape, paths } = network.law(node) else {
            return None;
        };
        let [(finding, likelihood)] = seen else {
            return None;
        };
        let (bound, level) = bound(*shape, likelihood)?;
        self.constants.push((*finding, level));
        for Path { parents, rows } in paths {
            let held = |row: &[f64]| -> f64 {
                let states = row.iter().enumerate();
                states.filter(|&(state, _)| shape.at_or_below(state, bound)).map(|(_, chance)| chance).sum()
            };
            let values: Vec<f64> = rows.chunks(shape.states()).map(held).collect();
            let scope = self.scope(parents);
            match (scope.as_slice(), values.as_slice()) {
                ([], [value]) => self.constants.push((*finding, *value)),
                ([variable], _) => {
                    self.unaries.push(Unary { variable: *variable, values, finding: *finding });
                }
                _ => self.factors.push(Factor { scope, values, switch: Some(*finding) }),
            }
        }
        Some(())
    }

    fn define(&mut self, network: &Network, node: NodeId, variable: usize, ranks: &Ranks) {
        match network.law(node) {
            Law::Table { parents, rows } => {
                let mut scope = self.scope(parents);
                scope.push(variable);
                self.factors.push(Factor { scope, values: rows.clone(), switch: None });
            }
            Law::Max { shape, paths } => {
                let chain = Chain::new(*shape, paths, |parent| network.states(parent), ranks);
                self.define_chain(&chain, variable);
            }
        }
    }

    /// One factor a link, each over the accumulator before, the link's parents, and the next
    /// accumulator, the last of which is the node itself
    fn define_chain(&mut self, chain: &Chain, node: usize) {
        let mut before: Option<usize> = None;
        let last = chain.links.len().saturating_sub(1);
        for (place, link) in chain.links.iter().enumerate() {
            let next = if place == last { node } else { self.variable(link.reached) };
            let mut scope = self.scope(&link.parents);
            scope.extend(before);
            scope.push(next);
            self.factors.push(Factor { scope, values: link.values.clone(), switch: None });
            before = Some(next);
        }
    }
}

/// State `g` and level if the likelihood is that level at and below `g` and nought elsewhere
fn bound(shape: Shape, likelihood: &[f64]) -> Option<(usize, f64)> {
    let level = *likelihood.first().filter(|&&level| level > 0.0)?;
    let held = likelihood.iter().enumerate().filter(|&(_, &value)| value > 0.0);
    let top = held.fold(0, |top, (state, _)| shape.join(top, state));
    let fits =
        |(state, &value): (usize, &f64)| value == if shape.at_or_below(state, top) { level } else { 0.0 };
    likelihood.iter().enumerate().all(fits).then_some((top, level))
}
