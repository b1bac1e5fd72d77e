//! One inspection weighed again and again under other strengths of the same rules.

use crate::ground::Ground;
use crate::infer::circuit::{Circuit, Scratch};
use crate::infer::mould::Mould;
use crate::infer::pattern::Ask;
use crate::infer::{Limits, TooWide};
use crate::invariant::Hold;
use crate::model::Model;
use crate::network::{Law, Network, NodeId};
use crate::reason::evidence::findings;

/// An inspection with all that does not hang on the strengths worked out once
pub struct Reweighing<'a> {
    /// The inspection
    pub ground: &'a Ground,
    /// How its findings were compiled
    pub mould: Mould,
    /// Causes that are asked about
    pub causes: Vec<NodeId>,
    /// Nodes whose numbers the answers hang on and that have strengths
    pub bearing: Vec<NodeId>,
    network: Network,
    scratch: Scratch,
}

impl<'a> Reweighing<'a> {
    /// Takes an inspection, with the causes that are asked about, to be weighed within some limits
    ///
    /// # Errors
    /// [`TooWide`] when the findings couple too much for them.
    pub fn new(ground: &'a Ground, causes: Vec<NodeId>, limits: &Limits) -> Result<Self, TooWide> {
        let ask = Ask { keep: causes.clone(), bound: Vec::new() };
        let mould = Mould::new(&ground.network, findings(ground), ask, limits)?;
        Ok(Reweighing {
            ground,
            bearing: mould.bearing(),
            mould,
            causes,
            network: Network::clone(&ground.network),
            scratch: Scratch::default(),
        })
    }

    /// The circuit under the strengths that the inspection was bound to
    ///
    /// # Errors
    /// As for [`Mould::circuit`].
    pub fn circuit(&self) -> Result<Circuit, TooWide> {
        self.mould.circuit(&self.ground.network)
    }

    /// Probability that each of the causes is present, by rules that differ in strengths alone at some of the nodes
    ///
    /// # Errors
    /// As for [`Mould::circuit`].
    pub fn under(&mut self, model: &Model, nodes: &[NodeId]) -> Result<Vec<f64>, TooWide> {
        self.take(model, nodes);
        let weighed = self.weigh();
        self.give_back(nodes);
        weighed
    }

    /// The circuit by rules that differ in strengths alone at some of the nodes
    ///
    /// # Errors
    /// As for [`Mould::circuit`].
    pub fn circuit_under(&mut self, model: &Model, nodes: &[NodeId]) -> Result<Circuit, TooWide> {
        self.take(model, nodes);
        let circuit = self.mould.circuit(&self.network);
        self.give_back(nodes);
        circuit
    }

    fn give_back(&mut self, nodes: &[NodeId]) {
        for &node in nodes {
            self.put(node, self.ground.network.law(node).clone());
        }
    }

    /// Gives some nodes the numbers of other rules, until they are given others again
    pub fn take(&mut self, model: &Model, nodes: &[NodeId]) {
        for &node in nodes {
            if let Some(law) = self.ground.law(model, node) {
                self.put(node, law);
            }
        }
    }

    /// Probability that each of the causes is present, by the numbers taken last
    ///
    /// # Errors
    /// As for [`Mould::circuit`].
    pub fn weigh(&mut self) -> Result<Vec<f64>, TooWide> {
        let circuit = self.mould.circuit(&self.network)?;
        let beliefs = circuit.evaluate_in(&circuit.weights(), &mut self.scratch);
        // None are there where a strength moved as far as its line has room for makes the findings impossible.
        let present =
            |node: &NodeId| beliefs.marginal(*node).map_or(0.0, |states| states.iter().skip(1).sum());
        Ok(self.causes.iter().map(present).collect())
    }

    fn put(&mut self, node: NodeId, law: Law) {
        let changed = self.network.change(node, law);
        changed.hold("strengths moved within their bounds are as sound as they were");
    }
}
