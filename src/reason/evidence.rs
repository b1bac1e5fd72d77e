//! The findings of an inspection in one compiled circuit, asked again and again with some of them left out.

use crate::ground::{Ground, Origin};
use crate::infer::beliefs::Beliefs;
use crate::infer::chosen;
use crate::infer::circuit::{Circuit, Scratch};
use crate::infer::engine::Engine;
use crate::infer::pattern::Ask;
use crate::infer::weights::Weights;
use crate::infer::{Finding, Limits, TooWide};
use crate::invariant::Hold;
use crate::network::NodeId;
use crate::reason::decibans;
use fixedbitset::FixedBitSet;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use std::sync::Arc;

/// The observations as findings for inference, in the same order
pub fn findings(ground: &Ground) -> Vec<Finding> {
    let observations = ground.observations.iter();
    observations.map(|own| Finding { node: own.node, likelihood: own.likelihood.clone() }).collect()
}

/// Width up to which one circuit takes in every hidden node, whether anything seen hangs on it or not; past it those
/// that nothing seen hangs on are worked out apart
const WHOLE: Limits = Limits { table: 1 << 12, total: 1 << 16 };

/// How many times larger than the circuit of what was found alone one for all questions may be: compiling costs about as
/// much as a dozen evaluations, of which a question takes about as many
const WORTH_SHARING: usize = 2;

/// A circuit over all findings, with the answers it has given
#[derive(Debug)]
pub struct Evidence {
    engine: Arc<Engine>,
    limits: Limits,
    /// What was found, in the order of the observations
    found: Vec<Finding>,
    /// Nodes that what was found hangs on
    bearing: BTreeSet<NodeId>,
    circuit: Circuit,
    scratch: RefCell<Scratch>,
    known: RefCell<BTreeMap<FixedBitSet, Rc<Beliefs>>>,
}

impl Evidence {
    /// Compiles the circuit over all findings by an engine of this machine's network
    ///
    /// # Errors
    /// [`TooWide`] when they couple too much for exact weighing.
    pub(super) fn new(engine: Arc<Engine>, ground: &Ground, limits: &Limits) -> Result<Self, TooWide> {
        let found = findings(ground);
        let whole = whole(limits);
        let ask = Ask { keep: hidden(ground), bound: Vec::new() };
        let circuit = match engine.circuit(&found, &ask, &whole) {
            Ok(circuit) => circuit,
            Err(_) => engine.circuit(&found, &Ask::default(), limits)?,
        };
        let ends: Vec<NodeId> = found.iter().map(|finding| finding.node).collect();
        Ok(Evidence {
            bearing: ground.network.ancestors(&ends).into_iter().collect(),
            engine,
            limits: limits.clone(),
            found,
            circuit,
            scratch: RefCell::default(),
            known: RefCell::default(),
        })
    }

    /// Beliefs about some nodes before anything was found, and given all that was
    ///
    /// # Errors
    /// [`TooWide`] when one of the nodes together with what was found couples too much.
    pub fn before_and_after(&self, nodes: &[NodeId]) -> Result<(Rc<Beliefs>, Rc<Beliefs>), TooWide> {
        if nodes.iter().all(|node| self.circuit.has(*node)) {
            return Ok((self.none(), self.all()));
        }
        let before = self.engine.posteriors(&[], nodes, &self.limits)?;
        let after = self.engine.posteriors(&self.found, nodes, &self.limits)?;
        Ok((Rc::new(before), Rc::new(after)))
    }

    /// Whether one answer keeps to some limits
    ///
    /// # Errors
    /// [`TooWide`] when it does not.
    pub(super) fn hold(&self, limits: &Limits) -> Result<(), TooWide> {
        limits.hold_circuit(&self.circuit)
    }

    /// A circuit that has every hidden node and takes bounds on some leaves besides, so that what may come out there is
    /// had from it by weights alone; none where that is too wide, or much wider than what was found needs, so that
    /// a circuit of its own for each question is faster
    pub(super) fn open_to(&self, ground: &Ground, leaves: Vec<NodeId>, limits: &Limits) -> Option<Circuit> {
        let core = self.engine.circuit(&self.found, &Ask::default(), limits).ok()?;
        let mut whole = whole(limits);
        whole.total = whole.total.min(core.total().saturating_mul(WORTH_SHARING));
        self.engine.circuit(&self.found, &Ask { keep: hidden(ground), bound: leaves }, &whole).ok()
    }

    /// Entries of tables that one answer takes
    pub fn size(&self) -> usize {
        self.circuit.total()
    }

    /// What was found, in the order of the observations
    pub fn found(&self) -> &[Finding] {
        &self.found
    }

    /// Number of findings
    pub fn findings(&self) -> usize {
        self.found.len()
    }

    /// True when the findings bear on a node at all
    pub fn has(&self, node: NodeId) -> bool {
        self.bearing.contains(&node) && self.circuit.has(node)
    }

    /// Beliefs given all findings
    pub fn all(&self) -> Rc<Beliefs> {
        self.given(&chosen::all(self.found.len()))
    }

    /// Beliefs given none of them
    pub fn none(&self) -> Rc<Beliefs> {
        self.given(&chosen::none(self.found.len()))
    }

    /// Beliefs given the findings that are switched on
    pub fn given(&self, on: &FixedBitSet) -> Rc<Beliefs> {
        if let Some(beliefs) = self.known.borrow().get(on) {
            return Rc::clone(beliefs);
        }
        let beliefs = self.circuit.evaluate_in(&self.switched(on), &mut self.scratch.borrow_mut());
        let beliefs = Rc::new(beliefs);
        self.known.borrow_mut().insert(on.clone(), Rc::clone(&beliefs));
        beliefs
    }

    /// Natural logarithm of the probability of the findings that are switched on, which is not kept
    pub fn log_evidence(&self, on: &FixedBitSet) -> f64 {
        self.circuit.log_evidence_in(&self.switched(on), &mut self.scratch.borrow_mut())
    }

    fn switched(&self, on: &FixedBitSet) -> Weights {
        let mut weights = self.circuit.weights();
        weights.count_only(on);
        weights
    }

    /// Odds, in decibans, that a node which the findings bear on is not in its first state, given those that are switched on
    pub fn decibans(&self, on: &FixedBitSet, node: NodeId) -> f64 {
        let beliefs = self.given(on);
        let (absent, present) = beliefs.marginal(node).hold(ASKED).split_first().hold(HAS_STATES);
        decibans::of(present.iter().sum(), *absent)
    }
}

fn whole(limits: &Limits) -> Limits {
    Limits { table: WHOLE.table.min(limits.table), total: WHOLE.total.min(limits.total) }
}

/// Facts that are not given, causes and conditions
pub(super) fn hidden(ground: &Ground) -> Vec<NodeId> {
    let symptom = |node: &NodeId| matches!(ground.origin(*node), Some(Origin::Symptom(..)));
    ground.network.nodes().filter(|node| !symptom(node)).collect()
}

/// Why a node has a posterior where the findings can be
pub(crate) const ASKED: &str = "posteriors are there of every node they were asked for";
/// Why there is a first state
const HAS_STATES: &str = "a node has two states or more";
