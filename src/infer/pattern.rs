//! What findings ask of a circuit: which nodes must be variables, and which leaves need not be.
//!
//! Circuits are compiled for a pattern and not for findings. The pattern says which nodes are variables and which tables exist;
//! it hangs only on what was looked at and which of it was abnormal. How sure a finding is, whether it is left out for once, and
//! what is supposed besides are likelihoods, which change from one evaluation to the next on the same frame.
//!
//! One frame takes in every cause, condition and open fact, so that prior, posterior and reasons come from one circuit. Where
//! that is much wider than what was found needs, the nodes that no finding hangs on are worked out in circuits of their own.

use crate::infer::Finding;
use crate::infer::likelihood::bound;
use crate::network::{Law, Network, NodeId};

/// What a circuit must be able to answer besides the findings
#[derive(Clone, Default, Debug)]
pub struct Ask {
    /// Nodes whose marginals are wanted, or that may be observed later
    pub keep: Vec<NodeId>,
    /// Nodes that may later be found at or below a state; a noisy-MAX leaf costs nothing but its joint paths
    pub bound: Vec<NodeId>,
}

/// All that a frame hangs on: findings of one pattern share it, whatever their likelihoods
#[derive(Clone, Eq, PartialEq, Ord, PartialOrd, Debug)]
pub(crate) struct Pattern {
    /// Nodes that are variables, parents first
    pub(crate) variables: Vec<NodeId>,
    /// Leaves factored over their paths of which one has several parents, so that these are tied together
    pub(crate) joints: Vec<NodeId>,
}

/// What is known of a node while a pattern is made
#[derive(Clone, Copy, Default)]
struct Mark {
    relevant: bool,
    /// Parent of a relevant node
    inner: bool,
    kept: bool,
    /// Findings on it
    found: usize,
    /// May be bounded later
    open: bool,
    /// A finding on it says more than "at or below a state"
    coupled: bool,
}

/// Pattern of some findings: every ancestor of what is found, kept or may be bounded is a variable,
/// and so are these nodes themselves, but for noisy-MAX leaves that bounds alone speak of
pub(crate) fn pattern(network: &Network, findings: &[Finding], ask: &Ask) -> Pattern {
    let mut marks = vec![Mark::default(); network.len()];
    let mut open: Vec<NodeId> = Vec::new();
    let mut mark = |node: NodeId, change: fn(&mut Mark)| {
        if let Some(mark) = marks.get_mut(node.index()) {
            change(mark);
            if !std::mem::replace(&mut mark.relevant, true) {
                open.push(node);
            }
        }
    };
    for finding in findings {
        mark(finding.node, |mark| mark.found += 1);
        if !bounds_leaf(network, finding) {
            mark(finding.node, |mark| mark.coupled = true);
        }
    }
    ask.keep.iter().for_each(|&node| mark(node, |mark| mark.kept = true));
    ask.bound.iter().for_each(|&node| mark(node, |mark| mark.open = true));
    while let Some(node) = open.pop() {
        for &parent in network.parents(node) {
            if let Some(mark) = marks.get_mut(parent.index()) {
                mark.inner = true;
                if !std::mem::replace(&mut mark.relevant, true) {
                    open.push(parent);
                }
            }
        }
    }
    let mut pattern = Pattern { variables: Vec::new(), joints: Vec::new() };
    for (node, mark) in network.nodes().zip(marks).filter(|(_, mark)| mark.relevant) {
        let single = mark.found + usize::from(mark.open) <= 1 && !mark.coupled;
        match network.law(node) {
            Law::Max { paths, .. } if single && !mark.kept && !mark.inner => {
                if paths.iter().any(|path| path.parents.len() > 1) {
                    pattern.joints.push(node);
                }
            }
            _ => pattern.variables.push(node),
        }
    }
    pattern
}

fn bounds_leaf(network: &Network, finding: &Finding) -> bool {
    match network.law(finding.node) {
        Law::Max { shape, .. } => bound(*shape, &finding.entries(network.states(finding.node))).is_some(),
        Law::Table { .. } => false,
    }
}
