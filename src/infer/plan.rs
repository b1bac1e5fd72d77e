//! The narrowest of a few ways to chain the accumulators and to order the elimination

use crate::infer::expand::{Parts, Ranks, expand};
use crate::infer::order::{Order, order};
use crate::infer::{Finding, Limits, TooWide, Width};
use crate::network::{Network, NodeId};

/// Variables and factors with the order that eliminates them
pub(crate) struct Plan {
    pub(crate) parts: Parts,
    pub(crate) order: Order,
}

/// Entries of all tables up to which no better plan is looked for: passing them takes less time than
/// looking
const EASY: usize = 1 << 14;

/// Most plans made after the first; the third hardly ever is better than the second
const ROUNDS: usize = 2;

/// How far over the limits a first plan may be and still be worth another
const SLACK: usize = 64;

/// Plan within the limits, whose chains follow the order of elimination if that makes it narrower
///
/// # Errors
///
/// [`TooWide`] when no plan found keeps to the limits.
pub(crate) fn plan(
    network: &Network,
    findings: &[Finding],
    keep: &[NodeId],
    limits: &Limits,
) -> Result<Plan, TooWide> {
    let attempt = |ranks: &Ranks| {
        let parts = expand(network, findings, keep, ranks);
        let scopes = parts.factors.iter().map(|factor| factor.scope.as_slice());
        let order = order(&parts.states, scopes, limits.table.saturating_mul(SLACK));
        order.map(|order| Plan { parts, order })
    };
    let too_wide = |entries: usize| TooWide { width: Width::Table, entries, allowed: limits.table };
    let mut best = attempt(&Ranks::new()).map_err(too_wide)?;
    for _ in 0..ROUNDS {
        if best.order.total <= EASY {
            break;
        }
        match attempt(&best.ranks()) {
            Ok(plan) if plan.order.total < best.order.total => best = plan,
            _ => break,
        }
    }
    limits.hold(Width::Table, best.order.largest)?;
    limits.hold(Width::Total, best.order.total)?;
    Ok(best)
}

impl Plan {
    fn ranks(&self) -> Ranks {
        let mut place = vec![0; self.order.steps.len()];
        for (number, step) in self.order.steps.iter().enumerate() {
            if let Some(place) = place.get_mut(step.variable) {
                *place = number;
            }
        }
        let rank = |(&node, &variable): (&NodeId, &usize)| Some((node, *place.get(variable)?));
        self.parts.variables.iter().filter_map(rank).collect()
    }
}
