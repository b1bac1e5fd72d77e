//! Where the findings are too entangled for exact figures: every probability within bounds that are certain to hold it.

use super::evidence::findings;
use super::fit::impossible_apart;
use super::{Diagnosis, Ranked, Stop};
use crate::ground::Ground;
use crate::infer::Limits;
use crate::infer::bounds::{Bounds, Budget, Interval, bounds};
use crate::infer::engine::Engine;
use crate::invariant::Hold;
use crate::model::Hidden;
use crate::network::NodeId;
use crate::place::Place;
use crate::reason::evidence::ASKED;

/// All causes and conditions with bounds on their probabilities, those that may be likeliest first; no reasons, for these
/// are exact or nothing
///
/// # Errors
/// [`Stop::Impossible`] when the findings cannot occur together; [`Stop::TooWide`] when the rules
/// couple too much even with nothing found.
pub(super) fn bounded(engine: &Engine, ground: &Ground, budget: &Budget) -> Result<Diagnosis, Stop> {
    let causes: Vec<(Hidden, &Place, NodeId)> =
        ground.causes().map(|(id, place, node)| (Hidden::Cause(id), place, node)).collect();
    let conditions: Vec<(Hidden, &Place, NodeId)> =
        ground.conditions().map(|(id, place, node)| (Hidden::Condition(id), place, node)).collect();
    let wanted: Vec<NodeId> = causes.iter().chain(&conditions).map(|(_, _, node)| *node).collect();
    let bounds = bounds(&ground.network, &findings(ground), &wanted, budget);
    if bounds.is_impossible() {
        return Err(Stop::Impossible(impossible_apart(engine, ground, &Limits::often())));
    }
    let before = engine.posteriors(&[], &wanted, &Limits::default())?;
    let prior = |node: NodeId| 1.0 - before.probability(node, 0).hold(ASKED);
    let ranked = |list: Vec<(Hidden, &Place, NodeId)>| {
        let mut ranked: Vec<Ranked> = list
            .into_iter()
            .map(|(hidden, place, node)| within(&bounds, prior(node), (hidden, place, node)))
            .collect();
        ranked.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        ranked
    };
    let log_evidence = bounds.log_evidence;
    Ok(Diagnosis { causes: ranked(causes), conditions: ranked(conditions), fit: None, log_evidence })
}

fn within(bounds: &Bounds, prior: f64, (hidden, place, node): (Hidden, &Place, NodeId)) -> Ranked {
    let present = bounds.among(node, |state| state > 0);
    let mut within = present.unwrap_or(Interval { lower: 0.0, upper: 1.0 }); // else: nothing is certain
    if bounds.is_exact() {
        within = Interval::exact(within.lower.midpoint(within.upper));
    }
    Ranked {
        hidden,
        place: place.clone(),
        node,
        prior,
        probability: within.lower.midpoint(within.upper),
        within,
        grades: Vec::new(),
        lately: None,
        reasons: Vec::new(),
    }
}
