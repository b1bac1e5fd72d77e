//! Circuits that together have all wanted nodes, each as narrow as it can be

use std::collections::BTreeMap;

use crate::infer::beliefs::Beliefs;
use crate::infer::circuit::Circuit;
use crate::infer::{Limits, TooWide};
use crate::network::NodeId;

/// Circuits over the same evidence
pub(crate) struct Cover {
    /// What the findings and the `keep` nodes hang on
    pub(crate) core: Circuit,
    /// The same and some of the wanted nodes that the core has not, each in one of these
    pub(crate) rest: Vec<Circuit>,
}

/// Table that a group of wanted nodes may make together, however narrow the core is
const GROUP_TABLE: usize = 1 << 10;

/// Sum of tables that a group of wanted nodes may make together, however small the core is
const GROUP_TOTAL: usize = 1 << 15;

impl Cover {
    /// Beliefs about every node of any of the circuits
    pub(crate) fn beliefs(&self) -> Beliefs {
        let core = self.core.evaluate(&self.core.weights());
        let mut marginals: BTreeMap<NodeId, Vec<f64>> = BTreeMap::new();
        for beliefs in
            self.rest.iter().map(|circuit| circuit.evaluate(&circuit.weights())).chain([core.clone()])
        {
            marginals.extend(beliefs.marginals().map(|(node, marginal)| (node, marginal.to_vec())));
        }
        Beliefs::gathered(core.evidence(), marginals)
    }
}

/// Circuits that together have the `wanted` nodes; `compile` makes one from the nodes it must have.
///
/// A node that nothing observed hangs on ties its ancestors together. So such nodes are taken into one circuit in groups, and
/// only as long as that makes the tables little larger.
pub(crate) fn cover(
    compile: impl Fn(&[NodeId], &Limits) -> Result<Circuit, TooWide>,
    keep: &[NodeId],
    wanted: &[NodeId],
    limits: &Limits,
) -> Result<Cover, TooWide> {
    let core = compile(keep, limits)?;
    let missing: Vec<NodeId> = wanted.iter().copied().filter(|&node| !core.has(node)).collect();
    let group = Limits {
        table: core.largest_table().saturating_mul(2).max(GROUP_TABLE).min(limits.table),
        total: core.total().saturating_mul(2).max(GROUP_TOTAL).min(limits.total),
    };
    let mut rest = Vec::new();
    let mut open = vec![missing];
    while let Some(nodes) = open.pop() {
        let kept: Vec<NodeId> = keep.iter().chain(&nodes).copied().collect();
        match nodes.as_slice() {
            [] => {}
            [_] => rest.push(compile(&kept, limits)?),
            _ => match compile(&kept, &group) {
                Ok(circuit) => rest.push(circuit),
                Err(_) => {
                    let (first, second) = nodes.split_at(nodes.len() / 2);
                    open.push(second.to_vec());
                    open.push(first.to_vec());
                }
            },
        }
    }
    Ok(Cover { core, rest })
}
