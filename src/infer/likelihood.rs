//! A finding in the terms of a frame: likelihoods on single variables, tables on several, a constant

use crate::infer::Finding;
use crate::infer::frame::{Frame, Input, Unary};
use crate::infer::number::{Number, Wide};
use crate::infer::weights::level;
use crate::network::shape::Shape;
use crate::network::{Law, Network, NodeId, Path};

/// What one finding multiplies into the tables of a frame
#[derive(Clone, Default, Debug)]
pub(crate) struct Likelihood {
    pub(crate) unaries: Vec<Unary>,
    pub(crate) inputs: Vec<Input>,
    /// Factor that no variable hangs on
    pub(crate) constant: Wide,
    /// Leaf that was factored, of which no other finding can be taken in
    pub(crate) leaf: Option<NodeId>,
}

impl Likelihood {
    /// The finding over a frame; `None` when its node is no variable of it and cannot be factored there
    pub(crate) fn new(network: &Network, frame: &Frame, finding: &Finding) -> Option<Likelihood> {
        let mut values = finding.entries(network.states(finding.node));
        let constant = Wide::scaled(1.0, level(&mut values));
        if let Some(bucket) = frame.bucket_of(finding.node) {
            return Some(Likelihood {
                unaries: vec![Unary { bucket, values }],
                constant,
                ..Likelihood::default()
            });
        }
        let Law::Max { shape, paths } = network.law(finding.node) else {
            return None;
        };
        let (top, level) = bound(*shape, &values)?;
        let constant = constant.times(Wide::of(level), &mut false);
        let mut likelihood = Likelihood { constant, leaf: Some(finding.node), ..Likelihood::default() };
        for (number, path) in paths.iter().enumerate() {
            likelihood.hold(frame, finding, *shape, top, (number, path))?;
        }
        Some(likelihood)
    }

    /// P(contribution of a path at or below the bound), over the states of the path's parents
    fn hold(
        &mut self,
        frame: &Frame,
        finding: &Finding,
        shape: Shape,
        top: usize,
        (number, path): (usize, &Path),
    ) -> Option<()> {
        let values = shape.held(&path.rows, top);
        match (path.parents.as_slice(), values.as_slice()) {
            ([], [value]) => self.constant = self.constant.times(Wide::of(*value), &mut false),
            ([parent], _) => self.unaries.push(Unary { bucket: frame.bucket_of(*parent)?, values }),
            (parents, _) => {
                let place = frame.joint(finding.node, number)?;
                let values = frame.turned(parents, &values)?;
                self.inputs.push(Input { place, values });
            }
        }
        Some(())
    }
}

/// State `g` and level if the likelihood is that level at and below `g` and nought elsewhere
pub(crate) fn bound(shape: Shape, likelihood: &[f64]) -> Option<(usize, f64)> {
    let level = *likelihood.first().filter(|&&level| level > 0.0)?;
    let held = likelihood.iter().enumerate().filter(|&(_, &value)| value > 0.0);
    let top = held.fold(0, |top, (state, _)| shape.join(top, state));
    let fits =
        |(state, &value): (usize, &f64)| value == if shape.at_or_below(state, top) { level } else { 0.0 };
    likelihood.iter().enumerate().all(fits).then_some((top, level))
}
