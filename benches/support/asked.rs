//! The engine as `answer` asks it: one circuit for the findings at hand, and what it says

use pinboss::infer::beliefs::Beliefs;
use pinboss::infer::circuit::{Circuit, Scratch};
use pinboss::infer::{Finding, Limits, TooWide, compile};
use pinboss::network::{Network, NodeId};

/// Circuit of some findings that is asked over and over
pub struct Asked {
    findings: Vec<Finding>,
    circuit: Circuit,
    scratch: Scratch,
}

impl Asked {
    /// Compiles, with the posteriors of `wanted` among the answers
    pub fn compiled(network: &Network, findings: &[Finding], wanted: &[NodeId]) -> Result<Self, TooWide> {
        let circuit = compile(network, findings, wanted, &Limits::default())?;
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
