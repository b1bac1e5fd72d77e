//! Conditioning: variables are cut into clones, one for each table they stand in, until what is left is narrow.
//!
//! With the state of every cut variable known the answer is exact. While some are open it is an upper bound: of each such
//! variable the clone that is eliminated last is summed over, and the others take whatever state gives most.

#![expect(
    clippy::indexing_slicing,
    reason = "variables are numbered by the parts they belong to, and every scope lies in theirs"
)]

use crate::infer::assemble::assemble;
use crate::infer::expand::{Chains, Parts, Ranks, expand};
use crate::infer::frame::Frame;
use crate::infer::order::{Order, order};
use crate::infer::pattern::Pattern;
use crate::network::Network;

/// A frame in which some variables are cut: with every one of them in a known state it is exact, and with the
/// last eliminated of each variable's clones summed over and the others maximised over it is an upper bound, for
/// each maximum stands inside that sum and may take the state summed over (mini-buckets: Dechter and Rish 2003;
/// by cutting: Choi, Chavira and Darwiche 2007)
pub(crate) struct Split {
    pub(crate) frame: Frame,
    /// Variables cut, in the order in which to settle them
    pub(crate) cuts: Vec<Cut>,
}

/// A variable that was cut
#[derive(Clone)]
pub(crate) struct Cut {
    pub(crate) states: usize,
    /// Buckets of its clones, the last eliminated first
    pub(crate) clones: Vec<usize>,
}

/// Most variables cut; what is wider than that has bounds that say nothing anyhow
const MOST_CUTS: usize = 400;

/// Most entries of all tables that are laid out
const MOST_ENTRIES: usize = 1 << 25;

/// Cuts variables of a pattern until no table has more than `table` entries, or nothing is left to cut; `None`
/// when even that is too wide to lay out
pub(crate) fn split(network: &Network, chains: &Chains, pattern: &Pattern, table: usize) -> Option<Split> {
    let mut parts = expand(network, chains, pattern, &Ranks::new());
    let mut clones: Vec<Vec<usize>> = Vec::new();
    let order = loop {
        let order = order(&parts.states, parts.all_scopes(), usize::MAX).ok()?;
        let open = order.largest > table && clones.len() < MOST_CUTS;
        match open.then(|| worst(&parts, &order, &clones, table)).flatten() {
            Some(worst) => clones.push(cut(&mut parts, worst)),
            None => break order,
        }
    };
    if order.total > MOST_ENTRIES {
        return None;
    }
    let mut position = vec![0; order.steps.len()];
    for (place, step) in order.steps.iter().enumerate() {
        position[step.variable] = place;
    }
    let cuts = clones.into_iter().map(|clones| {
        let mut buckets: Vec<usize> = clones.iter().map(|&variable| position[variable]).collect();
        buckets.sort_unstable_by(|a, b| b.cmp(a));
        Cut { states: parts.states[clones[0]], clones: buckets }
    });
    let cuts = cuts.collect();
    Some(Split { frame: assemble(&parts, &order.steps), cuts })
}

/// The variable that is in most of the tables over the limit, for each bit of its own
fn worst(parts: &Parts<'_>, order: &Order, cut: &[Vec<usize>], table: usize) -> Option<usize> {
    let mut score = vec![0.0; parts.states.len()];
    let occurrences = occurrences(parts);
    for step in &order.steps {
        let members = || step.neighbours.iter().chain([&step.variable]);
        let bits: f64 = members().map(|&member| libm::log2(parts.states[member] as f64)).sum();
        let over = bits - libm::log2(table as f64);
        if over > 0.0 {
            for &member in members() {
                score[member] += over;
            }
        }
    }
    let done = |variable: &usize| cut.iter().any(|clones| clones.contains(variable));
    let open = (0..score.len()).filter(|variable| occurrences[*variable] > 1 && !done(variable));
    let value = |variable: usize| score[variable] / libm::log2(parts.states[variable] as f64).max(0.5);
    open.filter(|&variable| score[variable] > 0.0)
        .max_by(|&a, &b| value(a).total_cmp(&value(b)).then(b.cmp(&a)))
}

fn occurrences(parts: &Parts<'_>) -> Vec<usize> {
    let mut occurrences = vec![0; parts.states.len()];
    for factor in &parts.factors {
        for &variable in &parts.scopes[factor.scope.clone()] {
            occurrences[variable] += 1;
        }
    }
    occurrences
}

/// Gives each table but the first a clone of its own, and lists them all
fn cut(parts: &mut Parts<'_>, variable: usize) -> Vec<usize> {
    let mut clones = vec![variable];
    let mut first = true;
    for factor in &parts.factors {
        for member in &mut parts.scopes[factor.scope.clone()] {
            if *member == variable && !std::mem::take(&mut first) {
                *member = parts.states.len();
                clones.push(*member);
                parts.states.push(parts.states[variable]);
            }
        }
    }
    clones
}
