//! The compiled circuit of an inspection, asked again and again with some findings left out.

use crate::ground::Ground;
use crate::infer::beliefs::Beliefs;
use crate::infer::circuit::{Circuit, Scratch};
use crate::infer::{self, Finding, Limits, TooWide};
use crate::network::NodeId;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Least probability told apart from none, so that odds stay numbers
const LEAST: f64 = 1e-300;

/// The observations as findings for inference, in the same order
pub fn findings(ground: &Ground) -> Vec<Finding> {
    let observations = ground.observations.iter();
    observations.map(|own| Finding { node: own.node, likelihood: own.likelihood.clone() }).collect()
}

/// A circuit over all findings, with the answers it has given
#[derive(Debug)]
pub struct Weighing {
    circuit: Circuit,
    scratch: Scratch,
    findings: usize,
    known: BTreeMap<Vec<bool>, Rc<Beliefs>>,
}

impl Weighing {
    /// Compiles the circuit over all findings
    ///
    /// # Errors
    /// [`TooWide`] when they couple too much for exact weighing.
    pub fn new(ground: &Ground, limits: &Limits) -> Result<Self, TooWide> {
        let findings = findings(ground);
        Ok(Weighing {
            circuit: infer::compile(&ground.network, &findings, &[], limits)?,
            scratch: Scratch::default(),
            findings: findings.len(),
            known: BTreeMap::new(),
        })
    }

    /// Number of findings
    pub fn findings(&self) -> usize {
        self.findings
    }

    /// True when the findings bear on a node at all
    pub fn has(&self, node: NodeId) -> bool {
        self.circuit.has(node)
    }

    /// Beliefs given all findings
    pub fn all(&mut self) -> Rc<Beliefs> {
        self.given(&vec![true; self.findings])
    }

    /// Beliefs given none of them
    pub fn none(&mut self) -> Rc<Beliefs> {
        self.given(&vec![false; self.findings])
    }

    /// Beliefs given the findings that are switched on
    pub fn given(&mut self, on: &[bool]) -> Rc<Beliefs> {
        if let Some(beliefs) = self.known.get(on) {
            return Rc::clone(beliefs);
        }
        let mut weights = self.circuit.weights();
        for (finding, &on) in on.iter().enumerate() {
            weights.switch(finding, on);
        }
        let beliefs = Rc::new(self.circuit.evaluate_in(&weights, &mut self.scratch));
        self.known.insert(on.to_vec(), Rc::clone(&beliefs));
        beliefs
    }

    /// Odds, in decibans, that a node is not in its first state, given the findings that are switched on
    pub fn decibans(&mut self, on: &[bool], node: NodeId) -> f64 {
        decibans(&self.given(on), node)
    }
}

/// Odds, in decibans, that a node is present: 10 log10 of P(present) / P(absent) (Good 1950)
pub fn decibans(beliefs: &Beliefs, node: NodeId) -> f64 {
    let states = beliefs.marginal(node).unwrap_or_default();
    let absent = states.first().copied().unwrap_or(0.0).max(LEAST);
    let present = states.iter().skip(1).sum::<f64>().max(LEAST);
    10.0 * (libm::log10(present) - libm::log10(absent))
}

/// Probability that odds in decibans stand for
pub fn probability(decibans: f64) -> f64 {
    let odds = libm::pow(10.0, -decibans / 10.0);
    1.0 / (1.0 + odds)
}
