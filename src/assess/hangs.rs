//! Which single strengths of the rules a weight hangs on most: where the likelihood ratio goes when one of them is moved.
//!
//! To move every strength would take too long. So the slopes of the circuit (`infer::slopes`), which come for all strengths at
//! once, put them in order by about how far each would move the ratio. The first sixteen are then moved one at a time, a step of
//! the scale down and a step up, and the ratio is worked out anew each time. Only these exact figures are told.

use crate::assess::odds::Odds;
use crate::ground::Ground;
use crate::infer::circuit::Circuit;
use crate::infer::slopes::Slopes;
use crate::infer::weights::Weights;
use crate::infer::{Limits, TooWide};
use crate::model::Model;
use crate::network::NodeId;
use crate::reason::decibans;
use crate::reason::robust::Strength;
use crate::reason::robust::halving::first_past;
use crate::reason::robust::movable::{Movable, Moved, movable};
use crate::reason::robust::reweighing::Reweighing;

/// Strengths moved, those that the ratio answers to most by the slopes
const TRIED: usize = 16;
/// Most entries of tables passed for them
const MOST_WORK: usize = 1 << 28;
/// Decibans from which a ratio is said to answer to a strength
const ANSWERS_FROM: f64 = 0.2;
/// Probability under which none is told apart from another where reaches are only put in order: slopes say no more of what is
/// all but certain
const LEAST_ABSENT: f64 = 1e-12;

/// A strength and the ratio with it moved, all else kept
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hang {
    /// The strength
    pub strength: Strength,
    /// What it is in the rules
    pub from: f64,
    /// One step of the scale down: the strength, and the likelihood ratio then, in decibans
    pub down: (f64, f64),
    /// One step up
    pub up: (f64, f64),
    /// The strength within these at which the ratio passes 1
    pub turns_at: Option<f64>,
    /// At how many places of the machine it counts among what was found
    pub places: usize,
}

impl Hang {
    /// The greater of the two ways that the ratio goes from where it stands, in decibans
    pub fn reach(&self, decibans: f64) -> f64 {
        (self.down.1 - decibans).abs().max((self.up.1 - decibans).abs())
    }
}

/// Strengths that the likelihood ratio of one of some causes being present hangs on, the furthest reach first; none where
/// moving them one by one takes too long
///
/// # Errors
/// [`TooWide`] where the findings couple too much.
pub fn hangs(
    model: &Model,
    ground: &Ground,
    causes: &[NodeId],
    limits: &Limits,
) -> Result<Option<Vec<Hang>>, TooWide> {
    let mut reweighing = Reweighing::new(ground, causes.to_vec(), limits)?;
    let circuit = reweighing.circuit()?;
    if circuit.total().saturating_mul(8 * TRIED) > MOST_WORK {
        return Ok(None);
    }
    let mut trial = model.clone();
    let mut moving = Moving { model: &mut trial, reweighing: &mut reweighing, causes };
    let Some(likely) = moving.likely(&circuit) else { return Ok(Some(Vec::new())) };
    let now = moving.ratio(circuit);
    let mut found = Vec::new();
    for movable in likely {
        let hang = moving.moved(&movable, now)?;
        found.extend(Some(hang).filter(|hang| hang.reach(now) >= ANSWERS_FROM));
    }
    found.sort_by(|a, b| b.reach(now).total_cmp(&a.reach(now)).then(a.strength.cmp(&b.strength)));
    Ok(Some(found))
}

/// An inspection whose strengths are moved one at a time
struct Moving<'m, 'a, 'g> {
    model: &'m mut Model,
    reweighing: &'a mut Reweighing<'g>,
    causes: &'a [NodeId],
}

impl Moving<'_, '_, '_> {
    fn ratio(&self, circuit: Circuit) -> f64 {
        Odds::of(circuit, self.causes.to_vec(), self.reweighing.mould.findings().len()).ratio()
    }

    /// The strengths to which the ratio answers most by the slopes; none where the findings cannot be
    fn likely(&mut self, circuit: &Circuit) -> Option<Vec<Movable>> {
        let movables = movable(self.model, self.reweighing);
        let slopes = RatioSlopes::new(self.reweighing, circuit, self.causes)?;
        let mut reached: Vec<(f64, Movable)> =
            movables.into_iter().map(|movable| (slopes.reach(&movable), movable)).collect();
        reached.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.strength.cmp(&b.1.strength)));
        Some(reached.into_iter().take(TRIED).map(|(_, movable)| movable).collect())
    }

    /// The ratio with a strength one step down, one step up, and where it passes 1 between
    fn moved(&mut self, movable: &Movable, now: f64) -> Result<Hang, TooWide> {
        let (low, high) = movable.ends;
        let nodes = movable.nodes();
        let (down, up) = (self.at(movable, &nodes, low)?, self.at(movable, &nodes, high)?);
        let passes = |end: f64| (end > 0.0) != (now > 0.0);
        let turns_at = match (passes(down), passes(up)) {
            (true, _) => Some(self.between(movable, &nodes, (low, down > 0.0))?),
            (_, true) => Some(self.between(movable, &nodes, (high, up > 0.0))?),
            (false, false) => None,
        };
        Ok(Hang {
            strength: movable.strength,
            from: movable.from,
            down: (low, down),
            up: (high, up),
            turns_at,
            places: movable.down.len(),
        })
    }

    fn at(&mut self, movable: &Movable, nodes: &[NodeId], share: f64) -> Result<f64, TooWide> {
        movable.strength.put(self.model, share);
        let circuit = self.reweighing.circuit_under(self.model, nodes);
        movable.strength.put(self.model, movable.from);
        Ok(self.ratio(circuit?))
    }

    /// Where on the way to an end, at which the ratio is over 1 or is not, it passes 1
    fn between(
        &mut self,
        movable: &Movable,
        nodes: &[NodeId],
        (end, is_over): (f64, bool),
    ) -> Result<f64, TooWide> {
        first_past(movable.from, end, |middle| Ok((self.at(movable, nodes, middle)? > 0.0) == is_over))
    }
}

/// What the ratio is made of, with the slopes of each part
struct RatioSlopes<'a> {
    /// P(none of the causes | findings)
    after: f64,
    /// P(none of the causes) before them
    before: f64,
    /// P(findings), P(findings, none of the causes), P(none of the causes)
    slopes: [Slopes<'a>; 3],
    /// The causes and what lies above them: before the findings nothing else bears on the causes
    above: Vec<NodeId>,
}

impl<'a> RatioSlopes<'a> {
    fn new(reweighing: &'a Reweighing<'_>, circuit: &Circuit, causes: &[NodeId]) -> Option<RatioSlopes<'a>> {
        let network = &reweighing.ground.network;
        let (found, mut nothing) = (circuit.weights(), circuit.weights());
        for finding in 0..reweighing.mould.findings().len() {
            nothing.switch(finding, false);
        }
        let absent = |weights: &Weights| {
            let mut weights = weights.clone();
            causes.iter().all(|cause| weights.observe_state(*cause, 0)).then_some(weights)
        };
        let (none, none_before) = (absent(&found)?, absent(&nothing)?);
        let share =
            |part: &Weights, whole: &Weights| circuit.evaluate(part).evidence_over(&circuit.evaluate(whole));
        let slopes = |weights| Slopes::new(network, &reweighing.mould, circuit, weights);
        Some(RatioSlopes {
            after: share(&none, &found),
            before: share(&none_before, &nothing),
            slopes: [slopes(&found)?, slopes(&none)?, slopes(&none_before)?],
            above: network.ancestors(causes),
        })
    }

    /// How far the ratio goes at most within a step of a strength, in decibans, as if each of its places answered by itself,
    /// which is so where it counts at one; past all others where the slopes cannot tell
    fn reach(&self, movable: &Movable) -> f64 {
        let (down, up) = movable.ends;
        let (all, none): (Vec<&Moved>, _) = (movable.down.iter().collect(), movable.down.iter().collect());
        let before = movable.down.iter().filter(|it| self.above.binary_search(&it.node).is_ok()).collect();
        let ratios = |(slopes, tables): (&Slopes<'_>, Vec<&Moved>)| {
            let ratio = |it: &Moved| slopes.ratio(it.node, it.table, &it.rows);
            tables.into_iter().map(ratio).collect::<Option<Vec<f64>>>()
        };
        let [of_all, of_none, of_before] = &self.slopes;
        let [Some(all), Some(none), Some(none_before)] =
            [(of_all, all), (of_none, none), (of_before, before)].map(ratios)
        else {
            return f64::INFINITY;
        };
        let moved = |share: f64| {
            let part = (share - movable.from) / (down - movable.from);
            let times = |ratios: &[f64]| -> f64 {
                ratios.iter().map(|ratio| (1.0 + part * (ratio - 1.0)).max(LEAST_ABSENT)).product()
            };
            let after = self.after * times(&none) / times(&all);
            odds_present(after) - odds_present(self.before * times(&none_before))
        };
        let now = moved(movable.from);
        (moved(down) - now).abs().max((moved(up) - now).abs())
    }
}

/// Odds of what is not absent, in decibans; the last digits of certainty are left aside
fn odds_present(absent: f64) -> f64 {
    let absent = absent.clamp(LEAST_ABSENT, 1.0 - LEAST_ABSENT);
    decibans::of(1.0 - absent, absent)
}
