//! What explains one finding: the causes that can bring it about, and the chance that none of them did.

use super::paths::{self, Way};
use super::weighing::Weighing;
use super::{Stop, fit};
use crate::infer::chosen;
use crate::model::Hidden;
use crate::place::Place;

/// What explains an observation
#[derive(Clone, Debug)]
pub struct Explanation {
    /// Number of the observation
    pub observation: usize,
    /// Causes that can bring it about, likeliest first
    pub sources: Vec<Source>,
    /// Probability that neither they nor a condition of the rules did; none for a normal finding
    pub unexplained: Option<f64>,
}

/// A cause that can bring it about
#[derive(Clone, Debug)]
pub struct Source {
    /// The cause
    pub hidden: Hidden,
    /// Where
    pub place: Place,
    /// Its probability given all findings
    pub probability: f64,
    /// Change of its odds, in decibans, that would be lost without the finding
    pub left_out: f64,
    /// How it brings the finding about
    pub way: Way,
}

/// What explains an observation
///
/// # Errors
/// [`Stop`] as for [`Weighing::causes`].
pub(super) fn explain(weighing: &Weighing, observation: usize) -> Result<Explanation, Stop> {
    let (model, ground, evidence) = (weighing.model(), weighing.ground(), weighing.evidence()?);
    let (all, without) =
        (chosen::all(evidence.findings()), chosen::all_but(evidence.findings(), observation));
    let mut sources = Vec::new();
    for cause in weighing.causes()? {
        if let Some(way) = paths::way(model, ground, cause.node, observation) {
            sources.push(Source {
                hidden: cause.hidden,
                place: cause.place.clone(),
                probability: cause.probability,
                left_out: evidence.decibans(&all, cause.node) - evidence.decibans(&without, cause.node),
                way,
            });
        }
    }
    let abnormal = ground.observations.get(observation).is_some_and(|own| own.grade != 0);
    let unexplained = if abnormal {
        Some(fit::unexplained(ground, evidence, observation, &weighing.settings().limits)?)
    } else {
        None
    };
    Ok(Explanation { observation, sources, unexplained })
}
