//! Exact inference: a network and findings become a circuit, and a circuit gives posteriors
//!
//! 1. Expanding keeps what the findings and the wanted nodes hang on, factors findings that
//!    put a bound on a noisy-MAX leaf, and splits every other noisy-MAX node into a chain of
//!    accumulators (parent divorcing).
//! 2. The order of elimination is min-fill; the chains are then laid along it if that is narrower.
//! 3. A frame is the tree of buckets laid out in flat arrays. All findings of one pattern share it,
//!    which an [`Engine`](engine::Engine) sees to; a circuit is a frame with the likelihoods of its findings,
//!    and one pass up and one pass down give every posterior marginal.
//!
//! Nothing is approximated: what is too wide is refused with a [`TooWide`].

use std::fmt;

use crate::infer::beliefs::Beliefs;
use crate::infer::circuit::Circuit;
use crate::infer::frame::Frame;
use crate::infer::pattern::Ask;
use crate::network::{Network, NodeId};

mod assemble;
pub mod beliefs;
pub mod bounds;
pub mod chosen;
pub mod circuit;
mod cover;
pub mod draw;
pub mod engine;
pub mod engines;
pub mod enumerate;
mod expand;
pub mod forward;
mod frame;
pub mod information;
pub mod mould;
mod number;
pub mod order;
mod pass;
pub mod pattern;
mod plan;
pub mod slopes;
mod split;
mod likelihood;
pub mod weights;

/// What an observation says about one node
///
/// Several findings may concern the same node; they are then independent given its state.
#[derive(Clone, PartialEq, Debug)]
pub struct Finding {
    /// Node observed
    pub node: NodeId,
    /// P(observation | state) on any scale, one entry for each state; entries left out, negative or
    /// not finite count as 0, entries too many are ignored
    pub likelihood: Vec<f64>,
}

impl Finding {
    /// Finding that `node` is in `state` for certain
    pub fn state(network: &Network, node: NodeId, state: usize) -> Self {
        let likelihood = (0..network.states(node)).map(|other| f64::from(u8::from(other == state))).collect();
        Finding { node, likelihood }
    }

    /// Likelihood with one proper entry for each of `states` states
    fn entries(&self, states: usize) -> Vec<f64> {
        proper_entries(&self.likelihood, states)
    }
}

/// Bounds past which a circuit is refused
#[derive(Clone, Eq, PartialEq, Debug)]
pub struct Limits {
    /// Most entries of one table
    pub table: usize,
    /// Most entries of all tables together
    pub total: usize,
}

impl Default for Limits {
    /// Tables of 2^24 entries together take some 0.4 s to pass and 0.4 GB to hold
    fn default() -> Self {
        Limits { table: 1 << 21, total: 1 << 24 }
    }
}

impl Limits {
    /// Width up to which hundreds of evaluations take no more than a second or two
    pub fn often() -> Self {
        Limits { table: 1 << 15, total: 1 << 18 }
    }

    fn hold(&self, width: Width, entries: usize) -> Result<(), TooWide> {
        let allowed = match width {
            Width::Table => self.table,
            Width::Total => self.total,
        };
        // Row maps are 32 bits wide, whatever the caller allows.
        let allowed = allowed.min(u32::MAX as usize);
        if entries > allowed { Err(TooWide { width, entries, allowed }) } else { Ok(()) }
    }

    /// Whether a circuit keeps to the bounds
    ///
    /// # Errors
    ///
    /// [`TooWide`] when it does not.
    pub fn hold_circuit(&self, circuit: &Circuit) -> Result<(), TooWide> {
        self.hold(Width::Table, circuit.largest_table())?;
        self.hold(Width::Total, circuit.total())
    }

    fn hold_frame(&self, frame: &Frame) -> Result<(), TooWide> {
        self.hold(Width::Table, frame.largest_table())?;
        self.hold(Width::Total, frame.base.len())
    }
}

/// Bound that was met
#[derive(Copy, Clone, Eq, PartialEq, Debug)]
pub enum Width {
    /// Entries of one table
    Table,
    /// Entries of all tables together
    Total,
}

/// Named stop: the findings couple too many nodes for an exact answer within the limits
#[derive(Copy, Clone, Eq, PartialEq, Debug)]
pub struct TooWide {
    /// Bound that was met
    pub width: Width,
    /// Entries needed at the least, the largest `usize` when they are more
    pub entries: usize,
    /// Entries allowed
    pub allowed: usize,
}

impl fmt::Display for TooWide {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let what = match self.width {
            Width::Table => "one table",
            Width::Total => "all tables together",
        };
        write!(
            out,
            "the findings couple too much: {what} would need {} entries, {} are allowed",
            self.entries, self.allowed
        )
    }
}

impl std::error::Error for TooWide {}

/// Circuit of everything that the findings' nodes and the `keep` nodes hang on
///
/// A node is a variable of the circuit if it is an ancestor of a finding's node or of a `keep` node,
/// or one itself; but a noisy-MAX leaf outside `keep` whose only finding says "at or below a state"
/// is factored away.
///
/// # Errors
///
/// [`TooWide`] past the limits.
pub fn compile(
    network: &Network,
    findings: &[Finding],
    keep: &[NodeId],
    limits: &Limits,
) -> Result<Circuit, TooWide> {
    engine::compile_once(network, findings, &Ask { keep: keep.to_vec(), bound: Vec::new() }, limits)
}

/// Posterior marginals of the `wanted` nodes, and of every node that the findings hang on, given
/// all findings
///
/// # Errors
///
/// [`TooWide`] when the findings alone, or with one wanted node, are past the limits.
pub fn posteriors(
    network: &Network,
    findings: &[Finding],
    wanted: &[NodeId],
    limits: &Limits,
) -> Result<Beliefs, TooWide> {
    let compile = |keep: &[NodeId], limits: &Limits| compile(network, findings, keep, limits);
    Ok(cover::cover(compile, &[], wanted, limits)?.beliefs())
}

fn proper_entries(likelihood: &[f64], states: usize) -> Vec<f64> {
    let proper = |value: f64| {
        if value.is_finite() && value > 0.0 { value } else { 0.0 }
    };
    let given = likelihood.iter().copied().map(proper);
    given.chain(std::iter::repeat(0.0)).take(states).collect()
}
