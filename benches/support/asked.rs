//! The engine as `answer` asks it: one circuit for the findings at hand, and what it says

use pinboss::infer::beliefs::Beliefs;
use pinboss::infer::bounds::{Bounds, Budget, bounds};
use pinboss::infer::circuit::{Circuit, Scratch};
use pinboss::infer::engine::Engine;
use pinboss::infer::pattern::Ask;
use pinboss::infer::{Finding, Limits, TooWide};
use pinboss::network::NodeId;

/// Circuit of some findings that is asked over and over
pub struct Asked {
    findings: Vec<Finding>,
    circuit: Circuit,
    scratch: Scratch,
}

impl Asked {
    /// Circuit of the findings, with the posteriors of `wanted` among the answers; compiled unless the engine has met
    /// their pattern
    pub fn found(engine: &Engine, findings: &[Finding], wanted: &[NodeId]) -> Result<Self, TooWide> {
        let ask = Ask { keep: wanted.to_vec(), bound: Vec::new() };
        let circuit = engine.circuit(findings, &ask, &Limits::default())?;
        Ok(Asked { findings: findings.to_vec(), circuit, scratch: Scratch::default() })
    }

    /// Evidence and posteriors given the findings
    pub fn evaluated(&mut self) -> Beliefs {
        self.circuit.evaluate_in(&self.circuit.weights(), &mut self.scratch)
    }

    /// The same with one finding in the place of all on its node, which must be among the wanted ones
    pub fn changed(&mut self, to: &Finding) -> Beliefs {
        let mut weights = self.circuit.weights();
        for (place, finding) in self.findings.iter().enumerate() {
            if finding.node == to.node {
                weights.switch(place, false);
            }
        }
        assert!(weights.observe(to.node, &to.likelihood), "a finding changes on a wanted node only");
        self.circuit.evaluate_in(&weights, &mut self.scratch)
    }

    /// Entries of the largest table and of all tables together
    pub fn width(&self) -> (usize, usize) {
        (self.circuit.largest_table(), self.circuit.total())
    }
}

/// Bounds after the usual budget
pub fn bounded(engine: &Engine, findings: &[Finding], wanted: &[NodeId]) -> Bounds {
    bounds(engine.network(), findings, wanted, &Budget::default())
}
