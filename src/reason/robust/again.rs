//! One inspection weighed again and again under other strengths of the same rules.

use crate::ground::Ground;
use crate::infer::circuit::{Circuit, Scratch};
use crate::infer::mould::Mould;
use crate::infer::pattern::Ask;
use crate::infer::{Limits, TooWide};
use crate::model::Model;
use crate::network::{Law, Network, NodeId};
use crate::reason::weighing::findings;

/// An inspection with all that does not hang on the strengths worked out once
pub(super) struct Again<'a> {
    pub(super) ground: &'a Ground,
    pub(super) mould: Mould,
    /// Causes that can be on the machine
    pub(super) causes: Vec<NodeId>,
    /// Nodes whose numbers the answers hang on and that have strengths
    pub(super) bearing: Vec<NodeId>,
    network: Network,
    scratch: Scratch,
}

impl<'a> Again<'a> {
    /// Takes an inspection, to be weighed within some limits
    ///
    /// # Errors
    /// [`TooWide`] when the findings couple too much for them.
    pub(super) fn new(ground: &'a Ground, limits: &Limits) -> Result<Self, TooWide> {
        let causes: Vec<NodeId> = ground.causes().map(|(_, _, node)| node).collect();
        let ask = Ask { keep: causes.clone(), bound: Vec::new() };
        let mould = Mould::new(&ground.network, findings(ground), ask, limits)?;
        Ok(Again {
            ground,
            bearing: mould.bearing(),
            mould,
            causes,
            network: Network::clone(&ground.network),
            scratch: Scratch::default(),
        })
    }

    /// The circuit under the strengths that the inspection was bound to
    pub(super) fn circuit(&self) -> Result<Circuit, TooWide> {
        self.mould.circuit(&self.ground.network)
    }

    /// Probability that each of the causes is present, by rules that differ in strengths alone at some of the nodes
    pub(super) fn under(&mut self, model: &Model, nodes: &[NodeId]) -> Result<Vec<f64>, TooWide> {
        self.take(model, nodes);
        let weighed = self.weigh();
        for &node in nodes {
            self.put(node, self.ground.network.law(node).clone());
        }
        weighed
    }

    /// Gives some nodes the numbers of other rules, until they are given others again
    pub(super) fn take(&mut self, model: &Model, nodes: &[NodeId]) {
        for &node in nodes {
            if let Some(law) = self.ground.law(model, node) {
                self.put(node, law);
            }
        }
    }

    /// Probability that each of the causes is present, by the numbers taken last
    pub(super) fn weigh(&mut self) -> Result<Vec<f64>, TooWide> {
        let circuit = self.mould.circuit(&self.network)?;
        let beliefs = circuit.evaluate_in(&circuit.weights(), &mut self.scratch);
        let present =
            |node: &NodeId| beliefs.marginal(*node).map_or(0.0, |states| states.iter().skip(1).sum());
        Ok(self.causes.iter().map(present).collect())
    }

    fn put(&mut self, node: NodeId, law: Law) {
        let changed = self.network.change(node, law);
        debug_assert!(
            changed.is_ok(),
            "strengths moved within their bounds are as sound as they were: {changed:?}"
        );
    }
}
