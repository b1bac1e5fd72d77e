//! From a pattern to variables and factors, each tied to as few others as can be.
//!
//! A noisy-MAX leaf that was found normal is a product of one factor for each path, and ties no two parents together. Any other
//! noisy-MAX node becomes a chain of accumulators, which takes its parents in one after another (parent divorcing).

use crate::invariant::Hold;
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::OnceLock;

use crate::infer::expand::chain::Chain;
use crate::infer::pattern::Pattern;
use crate::network::{Law, Network, NodeId};

pub(crate) mod chain;

/// Place of each node in an order of elimination
pub(crate) type Ranks = BTreeMap<NodeId, usize>;

/// A network with the chains of its noisy-MAX nodes, each made when it is first asked for
#[derive(Debug)]
pub(crate) struct Chains {
    known: Vec<OnceLock<Chain>>,
}

impl Chains {
    pub(crate) fn new(network: &Network) -> Self {
        Chains { known: network.nodes().map(|_| OnceLock::new()).collect() }
    }

    fn of(&self, network: &Network, node: NodeId) -> Option<&Chain> {
        let known = self.known.get(node.index())?;
        Some(known.get_or_init(|| chain(network, node, &Ranks::new())))
    }
}

/// Chain of a node, laid along an order of elimination
pub(crate) fn chain(network: &Network, node: NodeId, ranks: &Ranks) -> Chain {
    chain_of(network, network.law(node), ranks)
}

/// The same under another law of the same parents and states
pub(crate) fn chain_of(network: &Network, law: &Law, ranks: &Ranks) -> Chain {
    match law {
        Law::Max { shape, paths } => Chain::new(*shape, paths, |parent| network.states(parent), ranks),
        Law::Table { .. } => Chain { links: Vec::new() },
    }
}

/// What a frame is made of
#[derive(Default)]
pub(crate) struct Parts<'a> {
    /// Number of states of each variable
    pub(crate) states: Vec<usize>,
    /// Nodes that the first variables stand for; the others are accumulators
    pub(crate) nodes: Vec<NodeId>,
    /// Variables of all factors and joints, one after another
    pub(crate) scopes: Vec<usize>,
    pub(crate) factors: Vec<Factor<'a>>,
    pub(crate) joints: Vec<Joint>,
}

/// Table over variables, the last fastest
pub(crate) struct Factor<'a> {
    /// Variable that it defines, or whose chain it is a link of
    pub(crate) of: usize,
    /// Its variables in `scopes`
    pub(crate) scope: Range<usize>,
    pub(crate) values: Cow<'a, [f64]>,
}

/// Table that a finding on a leaf may bring, over the parents of one of its paths
pub(crate) struct Joint {
    pub(crate) leaf: NodeId,
    pub(crate) path: usize,
    /// Its variables in `scopes`
    pub(crate) scope: Range<usize>,
}

/// Everything of a pattern as variables and factors
///
/// `ranks` orders the links of each chain by the parent that is eliminated first, where an earlier
/// order of elimination is known; without any the chains are those that `chains` has.
pub(crate) fn expand<'a>(
    network: &'a Network,
    chains: &'a Chains,
    pattern: &Pattern,
    ranks: &Ranks,
) -> Parts<'a> {
    let mut variables = vec![None; network.len()];
    let mut parts = Parts { nodes: pattern.variables.clone(), ..Parts::default() };
    for (variable, &node) in pattern.variables.iter().enumerate() {
        parts.states.push(network.states(node));
        if let Some(slot) = variables.get_mut(node.index()) {
            *slot = Some(variable);
        }
    }
    let variable = |node: &NodeId| {
        let own = variables.get(node.index()).copied().flatten();
        own.hold("the parents of all that a pattern takes in are its variables")
    };
    for (number, &node) in pattern.variables.iter().enumerate() {
        match network.law(node) {
            Law::Table { parents, rows } => {
                let scope = parts.scope(parents.iter().map(variable).chain([number]));
                parts.factors.push(Factor { of: number, scope, values: Cow::Borrowed(rows) });
            }
            Law::Max { .. } if ranks.is_empty() => {
                if let Some(chain) = chains.of(network, node) {
                    parts.define(number, chain, variable, Cow::Borrowed);
                }
            }
            Law::Max { .. } => {
                let chain = chain(network, node, ranks);
                parts.define(number, &chain, variable, |values| Cow::Owned(values.to_vec()));
            }
        }
    }
    for &leaf in &pattern.joints {
        if let Law::Max { paths, .. } = network.law(leaf) {
            for (number, path) in paths.iter().enumerate().filter(|(_, path)| path.parents.len() > 1) {
                let scope = parts.scope(path.parents.iter().map(variable));
                parts.joints.push(Joint { leaf, path: number, scope });
            }
        }
    }
    parts
}

impl<'a> Parts<'a> {
    fn scope(&mut self, variables: impl Iterator<Item = usize>) -> Range<usize> {
        let start = self.scopes.len();
        self.scopes.extend(variables);
        start..self.scopes.len()
    }

    /// One factor a link, each over the accumulator before, the link's parents, and the next
    /// accumulator, the last of which is the node itself
    fn define<'c>(
        &mut self,
        node: usize,
        chain: &'c Chain,
        variable: impl Fn(&NodeId) -> usize,
        values: impl Fn(&'c [f64]) -> Cow<'a, [f64]>,
    ) {
        let mut before: Option<usize> = None;
        let last = chain.links.len().saturating_sub(1);
        for (place, link) in chain.links.iter().enumerate() {
            let next = if place == last {
                node
            } else {
                self.states.push(link.reached);
                self.states.len() - 1
            };
            let scope = self.scope(link.parents.iter().map(&variable).chain(before).chain([next]));
            self.factors.push(Factor { of: node, scope, values: values(&link.values) });
            before = Some(next);
        }
    }

    /// Variables of each factor and joint
    pub(crate) fn all_scopes(&self) -> impl Iterator<Item = &[usize]> {
        let factors = self.factors.iter().map(|factor| &factor.scope);
        let joints = self.joints.iter().map(|joint| &joint.scope);
        let own = |scope: &Range<usize>| self.scopes.get(scope.clone()).hold("each table has its variables");
        factors.chain(joints).map(own)
    }
}
