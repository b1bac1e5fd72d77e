//! A network with the frames of the patterns met so far, each compiled once

use crate::invariant::Hold;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard};

use crate::infer::assemble::assemble;
use crate::infer::beliefs::Beliefs;
use crate::infer::circuit::Circuit;
use crate::infer::cover::cover;
use crate::infer::expand::Chains;
use crate::infer::frame::Frame;
use crate::infer::pattern::{Ask, Pattern, pattern};
use crate::infer::plan::{narrowest, plan};
use crate::infer::{Finding, Limits, TooWide};
use crate::network::{Network, NodeId};

/// Entries of all frames kept, with what goes with them some 12 MB, so that sixteen engines hold some 200 MB; the frame
/// used longest ago goes first, and one that is larger by itself is kept alone
const MOST_KEPT: usize = 1 << 19;

/// A network ready to be asked, by any number of threads
///
/// What it answers does not depend on what it was asked before.
#[derive(Debug)]
pub struct Engine {
    network: Arc<Network>,
    chains: Chains,
    kept: Mutex<Kept>,
}

/// Frames by pattern, with the number of the question each was last used for
#[derive(Debug, Default)]
struct Kept {
    frames: BTreeMap<Pattern, (u64, Arc<Frame>)>,
    entries: usize,
    asked: u64,
}

impl Engine {
    /// Engine of a network that has not been asked anything
    pub fn new(network: Arc<Network>) -> Self {
        Engine { chains: Chains::new(&network), network, kept: Mutex::default() }
    }

    /// The network
    pub fn network(&self) -> &Network {
        &self.network
    }

    /// Drops the frames of all patterns met so far
    pub fn forget(&self) {
        *cache(&self.kept) = Kept::default();
    }

    /// Circuit over some findings, ready for what is asked besides; only patterns not met before, or met
    /// long ago, are compiled
    ///
    /// # Errors
    ///
    /// [`TooWide`] past the limits.
    pub fn circuit(&self, findings: &[Finding], ask: &Ask, limits: &Limits) -> Result<Circuit, TooWide> {
        let pattern = pattern(&self.network, findings, ask);
        let known = cache(&self.kept).find(&pattern);
        let frame = match known {
            Some(frame) => {
                limits.hold_frame(&frame)?;
                frame
            }
            None => {
                let frame = Arc::new(frame(&self.network, &self.chains, &pattern, limits)?);
                cache(&self.kept).keep(pattern, &frame);
                frame
            }
        };
        Ok(over(&self.network, frame, findings))
    }

    /// Posterior marginals of the `wanted` nodes, and of every node that the findings hang on, given all findings
    ///
    /// # Errors
    ///
    /// [`TooWide`] when the findings alone, or with one wanted node, are past the limits.
    pub fn posteriors(
        &self,
        findings: &[Finding],
        wanted: &[NodeId],
        limits: &Limits,
    ) -> Result<Beliefs, TooWide> {
        let compile = |keep: &[NodeId], limits: &Limits| {
            self.circuit(findings, &Ask { keep: keep.to_vec(), bound: Vec::new() }, limits)
        };
        Ok(cover(compile, &[], wanted, limits)?.beliefs())
    }

    /// Entries of the largest table, and of all tables together, that a circuit would have; nothing is laid out, so that
    /// it can be told past any limits. The largest `usize` stands for more.
    pub fn entries(&self, findings: &[Finding], ask: &Ask) -> (usize, usize) {
        let pattern = pattern(&self.network, findings, ask);
        let plan = narrowest(&self.network, &self.chains, &pattern, usize::MAX);
        plan.map_or((usize::MAX, usize::MAX), |plan| (plan.order.largest, plan.order.total))
    }
}

/// Frame of a pattern
///
/// # Errors
///
/// [`TooWide`] past the limits.
fn frame(network: &Network, chains: &Chains, pattern: &Pattern, limits: &Limits) -> Result<Frame, TooWide> {
    let plan = plan(network, chains, pattern, limits)?;
    Ok(assemble(&plan.parts, &plan.order.steps))
}

/// Circuit of a network that is asked only once
///
/// # Errors
///
/// [`TooWide`] past the limits.
pub(crate) fn compile_once(
    network: &Network,
    findings: &[Finding],
    ask: &Ask,
    limits: &Limits,
) -> Result<Circuit, TooWide> {
    let pattern = pattern(network, findings, ask);
    let frame = frame(network, &Chains::new(network), &pattern, limits)?;
    Ok(over(network, Arc::new(frame), findings))
}

/// Findings over the frame of their own pattern
pub(crate) fn over(network: &Network, frame: Arc<Frame>, findings: &[Finding]) -> Circuit {
    Circuit::new(network, frame, findings).hold("the frame was made for these findings")
}

/// A cache for this thread alone; one that a fault of the program left half changed is begun anew
pub(super) fn cache<T: Default>(cache: &Mutex<T>) -> MutexGuard<'_, T> {
    // else: what it holds is not to be trusted, and can be worked out again
    cache.lock().unwrap_or_else(|poisoned| {
        let mut held = poisoned.into_inner();
        *held = T::default();
        cache.clear_poison();
        held
    })
}

impl Kept {
    fn find(&mut self, pattern: &Pattern) -> Option<Arc<Frame>> {
        self.asked += 1;
        let (used, frame) = self.frames.get_mut(pattern)?;
        *used = self.asked;
        Some(Arc::clone(frame))
    }

    fn keep(&mut self, pattern: Pattern, frame: &Arc<Frame>) {
        self.entries += frame.base.len();
        if let Some((_, other)) = self.frames.insert(pattern, (self.asked, Arc::clone(frame))) {
            self.entries -= other.base.len();
        }
        while self.entries > MOST_KEPT && self.frames.len() > 1 {
            let oldest = self.frames.iter().min_by_key(|(_, (used, _))| *used);
            let Some(pattern) = oldest.map(|(pattern, _)| pattern.clone()) else { break };
            if let Some((_, frame)) = self.frames.remove(&pattern) {
                self.entries -= frame.base.len();
            }
        }
    }
}
