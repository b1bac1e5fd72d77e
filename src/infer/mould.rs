//! How a pattern of findings was compiled, kept to be filled with the numbers of other networks.
//!
//! The order of elimination is found once. A network that differs in numbers alone is then weighed in the same order, and only
//! the nodes that the findings hang on are given their new numbers. So strengths can be moved, searched and drawn hundreds of
//! times.

use crate::invariant::Hold;
use std::sync::Arc;

use crate::infer::assemble::assemble;
use crate::infer::circuit::Circuit;
use crate::infer::engine::{compile_once, over};
use crate::infer::expand::{Chains, Parts, Ranks, expand};
use crate::infer::order::Step;
use crate::infer::pattern::{Ask, Pattern, pattern};
use crate::infer::plan::plan;
use crate::infer::{Finding, Limits, TooWide};
use crate::network::{Network, NodeId};

/// Pattern, variables and order of elimination of some findings on a network, good for every network of the same nodes,
/// parents and shapes
#[derive(Clone, Debug)]
pub struct Mould {
    findings: Vec<Finding>,
    ask: Ask,
    limits: Limits,
    pub(crate) pattern: Pattern,
    /// The order that the chains were laid along
    pub(crate) ranks: Ranks,
    steps: Vec<Step>,
    /// Number of states of each variable
    states: Vec<usize>,
    scopes: Vec<usize>,
    /// Each factor's variable that it defines, and the end of its variables in `scopes`
    factors: Vec<(usize, usize)>,
}

impl Mould {
    /// Mould of some findings, with what is asked besides
    ///
    /// # Errors
    ///
    /// [`TooWide`] past the limits.
    pub fn new(
        network: &Network,
        findings: Vec<Finding>,
        ask: Ask,
        limits: &Limits,
    ) -> Result<Mould, TooWide> {
        let pattern = pattern(network, &findings, &ask);
        let chains = Chains::new(network);
        let plan = plan(network, &chains, &pattern, limits)?;
        let factors = plan.parts.factors.iter().map(|factor| (factor.of, factor.scope.end)).collect();
        let Parts { states, scopes, .. } = plan.parts;
        let (ranks, steps) = (plan.ranks, plan.order.steps);
        Ok(Mould { findings, ask, limits: limits.clone(), pattern, ranks, steps, states, scopes, factors })
    }

    /// The findings
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// Nodes whose numbers the answers hang on: the variables, and the leaves found at or below a state
    pub fn bearing(&self) -> Vec<NodeId> {
        let leaves = self.findings.iter().map(|finding| finding.node);
        let mut bearing: Vec<NodeId> = self.pattern.variables.iter().copied().chain(leaves).collect();
        bearing.sort_unstable();
        bearing.dedup();
        bearing
    }

    /// Circuit of a network that differs from the first in numbers alone
    ///
    /// # Errors
    ///
    /// [`TooWide`] where other zeros among the numbers ask for other tables, which are past the limits.
    pub fn circuit(&self, network: &Network) -> Result<Circuit, TooWide> {
        let chains = Chains::new(network);
        let parts = expand(network, &chains, &self.pattern, &self.ranks);
        if parts.states != self.states || parts.scopes != self.scopes {
            return compile_once(network, &self.findings, &self.ask, &self.limits);
        }
        Ok(over(network, Arc::new(assemble(&parts, &self.steps)), &self.findings))
    }

    /// Place of each variable in the order of elimination
    pub(crate) fn positions(&self) -> Vec<usize> {
        let mut positions = vec![0; self.steps.len()];
        for (place, step) in self.steps.iter().enumerate() {
            if let Some(position) = positions.get_mut(step.variable) {
                *position = place;
            }
        }
        positions
    }

    /// Variables of each factor of a variable's law, in the order of its links
    pub(crate) fn scopes_of(&self, variable: usize) -> impl Iterator<Item = &[usize]> {
        let starts = std::iter::once(0).chain(self.factors.iter().map(|(_, end)| *end));
        let all = self.factors.iter().zip(starts);
        all.filter(move |((of, _), _)| *of == variable)
            .map(|((_, end), start)| self.scopes.get(start..*end).hold("each factor has its variables"))
    }
}
