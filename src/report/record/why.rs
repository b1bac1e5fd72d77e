//! Everything about one cause, condition or finding, as `why` tells it.

use crate::ground::Ground;
use crate::model::Model;
use crate::reason::Ranked;
use crate::reason::explain::Explanation;
use crate::report::record::diagnosis::{Cause, Rival, from_weighing};
use crate::report::record::evidence::{self, Finding};
use crate::report::record::robust::Robust;
use serde::Serialize;

/// The answer to one `why`
#[derive(Debug, Serialize)]
pub struct Why {
    /// What was supposed on top of what was found
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supposed: Option<Finding>,
    /// The causes or conditions asked about, likeliest place first
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub causes: Vec<Cause>,
    /// Their probabilities without what was supposed
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub before: Vec<f64>,
    /// How the likeliest of them stands when the figures of the rules are moved; none where nobody asked
    #[serde(skip_serializing_if = "Option::is_none")]
    pub robust: Option<Robust>,
    /// The findings asked about
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub findings: Vec<Explained>,
}

/// What explains one finding
#[derive(Debug, Serialize)]
pub struct Explained {
    /// The finding
    #[serde(flatten)]
    pub finding: Finding,
    /// Causes that can bring it about, likeliest first
    pub sources: Vec<Source>,
    /// Probability that none of them, and no condition of the rules, did; none for a normal finding
    pub unexplained: Option<f64>,
}

/// A cause that can bring a finding about
#[derive(Debug, Serialize)]
pub struct Source {
    /// The cause
    #[serde(flatten)]
    pub cause: Rival,
    /// Change of its odds, in decibans, that would be lost without the finding
    pub left_out: f64,
    /// The rules' own sentences on the way
    pub because: String,
}

/// Causes or conditions as `why` tells them; `all` holds their rivals
pub fn causes(model: &Model, ground: &Ground, ranked: &[Ranked], all: &[Ranked]) -> Vec<Cause> {
    ranked.iter().map(|one| from_weighing::cause(model, ground, one, all)).collect()
}

/// A finding with what explains it
pub fn finding(model: &Model, ground: &Ground, explanation: &Explanation) -> Option<Explained> {
    let own = ground.observations.get(explanation.observation)?;
    let sources = explanation.sources.iter().map(|source| {
        let named = model.subject(source.hidden, &source.place);
        Source {
            cause: Rival { named, probability: source.probability },
            left_out: source.left_out,
            because: source.way.because.join(" "),
        }
    });
    Some(Explained {
        finding: evidence::observation(model, own),
        sources: sources.collect(),
        unexplained: explanation.unexplained,
    })
}
