//! The narrowest of a few ways to chain the accumulators and to order the elimination

use crate::infer::expand::{Chains, Parts, Ranks, expand};
use crate::infer::order::{Order, order};
use crate::infer::pattern::Pattern;
use crate::infer::{Limits, TooWide, Width};
use crate::invariant::Hold;
use crate::network::Network;

/// Variables and factors with the order that eliminates them
pub(crate) struct Plan<'a> {
    pub(crate) parts: Parts<'a>,
    pub(crate) order: Order,
    /// The order that the chains were laid along
    pub(crate) ranks: Ranks,
}

/// Entries for each variable up to which no better plan is looked for: passing them takes less time than
/// looking
const EASY: usize = 1 << 8;

/// Most plans made after the first; the third hardly ever is better than the second
const ROUNDS: usize = 2;

/// How far over the limits a first plan may be and still be worth another
const SLACK: usize = 64;

/// Plan within the limits
///
/// # Errors
///
/// [`TooWide`] when no plan found keeps to the limits.
pub(crate) fn plan<'a>(
    network: &'a Network,
    chains: &'a Chains,
    pattern: &Pattern,
    limits: &Limits,
) -> Result<Plan<'a>, TooWide> {
    let best = narrowest(network, chains, pattern, limits.table)?;
    limits.hold(Width::Table, best.order.largest)?;
    limits.hold(Width::Total, best.order.total)?;
    Ok(best)
}

/// The narrowest plan found, whose chains follow the order of elimination if that makes it narrower
///
/// # Errors
///
/// [`TooWide`] when the first is far wider than one table may be.
pub(crate) fn narrowest<'a>(
    network: &'a Network,
    chains: &'a Chains,
    pattern: &Pattern,
    table: usize,
) -> Result<Plan<'a>, TooWide> {
    let attempt = |ranks: Ranks| {
        let parts = expand(network, chains, pattern, &ranks);
        let order = order(&parts.states, parts.all_scopes(), table.saturating_mul(SLACK));
        order.map(|order| Plan { parts, order, ranks })
    };
    let too_wide = |entries: usize| TooWide { width: Width::Table, entries, allowed: table };
    let mut best = attempt(Ranks::new()).map_err(too_wide)?;
    for _ in 0..ROUNDS {
        if best.order.total <= EASY.saturating_mul(best.parts.states.len()) {
            break;
        }
        match attempt(best.next_ranks()) {
            Ok(plan) if plan.order.total < best.order.total => best = plan,
            _ => break,
        }
    }
    Ok(best)
}

impl Plan<'_> {
    fn next_ranks(&self) -> Ranks {
        let nodes = self.parts.nodes.len();
        let steps = self.order.steps.iter().enumerate().filter(|(_, step)| step.variable < nodes);
        let node = |variable: usize| *self.parts.nodes.get(variable).hold("the first variables are nodes");
        steps.map(|(place, step)| (node(step.variable), place)).collect()
    }
}
