//! Strengths at which a cause and a rival change places, found one at a time.

use super::field::{Field, of};
use super::halving::{NEAR, first_past};
use super::movable::{Movable, Moved, movable};
use super::reweighing::Reweighing;
use super::scale::{log_odds, share};
use super::strength::{Block, Line, Strength};
use crate::infer::TooWide;
use crate::infer::slopes::Slopes;
use crate::invariant::Hold;
use crate::model::Model;
use crate::network::NodeId;

/// Difference of two causes' slopes under which a strength is taken to move both alike
const SAME: f64 = 1e-9;

/// A strength that, moved alone, makes a cause and a rival change places
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// The strength
    pub strength: Strength,
    /// What it is in the rules
    pub from: f64,
    /// At what they change places; within one step of the scale
    pub at: f64,
    /// The rival
    pub rival: NodeId,
    /// How likely both are then
    pub probability: f64,
    /// At how many places of the machine it counts among what was found
    pub places: usize,
}

/// A strength that may change the order, and what the slopes say of it
struct Candidate {
    strength: Strength,
    from: f64,
    /// One step down and up
    ends: (f64, f64),
    /// Nodes whose numbers it moves, and how many tables of theirs
    nodes: Vec<NodeId>,
    places: usize,
    /// The strength at which two change places, where the slopes tell it; none where it must be searched for
    at: Option<f64>,
}

/// Strengths that change the order within one step of the scale, the least move first
pub(super) fn crossings(
    model: &Model,
    reweighing: &mut Reweighing<'_>,
    field: &Field,
) -> Result<Vec<Crossing>, TooWide> {
    if field.others.is_empty() {
        return Ok(Vec::new());
    }
    let mut trial = model.clone();
    let mut crossings = Vec::new();
    for candidate in candidates(&mut trial, reweighing, field)? {
        let mut moving = Moving { model: &mut trial, reweighing, field, candidate: &candidate };
        let found = match candidate.at {
            Some(at) => moving.confirmed(at)?,
            None => None,
        };
        crossings.extend(match found {
            Some(crossing) => Some(crossing),
            None => moving.searched()?,
        });
    }
    crossings.sort_by(|a, b| length(a).total_cmp(&length(b)).then(a.strength.cmp(&b.strength)));
    Ok(crossings)
}

/// How far a strength moves, in log-odds
fn length(crossing: &Crossing) -> f64 {
    (log_odds(crossing.at) - log_odds(crossing.from)).abs()
}

/// Strengths that bear on the order, with what the slopes say of each; `model` is as it was afterwards
fn candidates(
    model: &mut Model,
    reweighing: &Reweighing<'_>,
    field: &Field,
) -> Result<Vec<Candidate>, TooWide> {
    let Some(slopes) = FieldSlopes::new(reweighing, field)? else {
        return Ok(Vec::new());
    };
    let mut found = Vec::new();
    for movable in movable(model, reweighing) {
        let Movable { strength, from, ends, .. } = movable;
        let predicted = slopes.tell(&movable.down, from, ends);
        let at = match predicted {
            Predicted::Nothing => continue,
            Predicted::At(at) if is_linear(model, strength) => Some(at),
            Predicted::Never if is_linear(model, strength) => continue,
            Predicted::At(_) | Predicted::Never | Predicted::Open => None,
        };
        found.push(Candidate {
            strength,
            from,
            ends,
            nodes: movable.nodes(),
            places: movable.down.len(),
            at,
        });
    }
    Ok(found)
}

/// Whether the numbers of a place are linear in the strength. All are but one sort: the chance of a cause that is told among
/// another number of places than the cause has, and so shared out over them
fn is_linear(model: &Model, strength: Strength) -> bool {
    match (strength.block, strength.line) {
        (Block::Cause(id), Line::Chance(number)) => {
            let cause = &model[id];
            cause.chances.get(number).is_some_and(|chance| chance.noun == cause.common.extent)
        }
        _ => true,
    }
}

/// What the slopes tell of a strength
enum Predicted {
    /// It does not bear on the order
    Nothing,
    /// Two change places there, if the strength counts at one place and is linear there
    At(f64),
    /// None change places within a step, under the same conditions
    Never,
    /// It must be searched
    Open,
}

/// Probability and slopes of a cause and of each rival it is compared with, all findings given
struct FieldSlopes<'a> {
    chances: Vec<f64>,
    slopes: Vec<Slopes<'a>>,
}

impl<'a> FieldSlopes<'a> {
    fn new(reweighing: &'a Reweighing<'_>, field: &Field) -> Result<Option<FieldSlopes<'a>>, TooWide> {
        let circuit = reweighing.circuit()?;
        let network = &reweighing.ground.network;
        let rivals = field.others.iter().zip(&field.against).take(field.compared());
        let mut own = FieldSlopes { chances: Vec::new(), slopes: Vec::new() };
        for (node, chance) in std::iter::once((&field.cause, &field.probability)).chain(rivals) {
            let present: Vec<f64> =
                (0..network.states(*node)).map(|state| f64::from(u8::from(state > 0))).collect();
            let mut weights = circuit.weights();
            if !weights.observe(*node, &present) {
                return Ok(None);
            }
            let Some(slopes) = Slopes::new(network, &reweighing.mould, &circuit, &weights) else {
                continue;
            };
            own.chances.push(*chance);
            own.slopes.push(slopes);
        }
        Ok(Some(own).filter(|own| own.slopes.len() > 1))
    }

    /// What the slopes tell of a strength that moves some tables as it goes down to the first of its `ends`
    fn tell(&self, moved: &[Moved], from: f64, ends: (f64, f64)) -> Predicted {
        let slope = |slopes: &Slopes<'_>| {
            moved.iter().map(|it| Some(slopes.ratio(it.node, it.table, &it.rows)? - 1.0)).sum::<Option<f64>>()
        };
        let Some(slopes) = self.slopes.iter().map(slope).collect::<Option<Vec<f64>>>() else {
            return Predicted::Open;
        };
        let (Some((own_slope, rivals)), Some((own, chances))) =
            (slopes.split_first(), self.chances.split_first())
        else {
            return Predicted::Nothing;
        };
        if rivals.iter().all(|rival| (rival - own_slope).abs() < SAME) {
            return Predicted::Nothing;
        }
        if moved.len() > 1 {
            return Predicted::Open;
        }
        let crossing = |(slope, chance): (&f64, &f64)| {
            let part = (chance - own) / (own * own_slope - chance * slope);
            let at = from + part * (ends.0 - from);
            (at >= ends.0 && at <= ends.1).then_some(at)
        };
        let nearest = rivals.iter().zip(chances).filter_map(crossing);
        let far = |at: &f64| (log_odds(*at) - log_odds(from)).abs();
        nearest.min_by(|a, b| far(a).total_cmp(&far(b))).map_or(Predicted::Never, Predicted::At)
    }
}

/// A strength being moved, all else kept
struct Moving<'m, 'a, 'g> {
    model: &'m mut Model,
    reweighing: &'a mut Reweighing<'g>,
    field: &'a Field,
    candidate: &'a Candidate,
}

impl Moving<'_, '_, '_> {
    /// How far the cause stands before its nearest rival with the strength at a value, in log-odds, which rival that is,
    /// and how likely the cause is
    fn ahead(&mut self, at: f64) -> Result<Option<(f64, usize, f64)>, TooWide> {
        let Candidate { strength, from, nodes, .. } = self.candidate;
        strength.put(self.model, share(at).min(strength.most(self.model)));
        let all = self.reweighing.under(self.model, nodes)?;
        strength.put(self.model, *from);
        let own = of(&all, self.field.number);
        Ok(self.field.ahead(&all).map(|(ahead, rival)| (ahead, rival, own)))
    }

    /// The crossing at a value, if just before it the order is still that of the rules, and just past it no longer
    fn confirmed(&mut self, at: f64) -> Result<Option<Crossing>, TooWide> {
        let (from, at) = (log_odds(self.candidate.from), log_odds(at));
        let further = if at < from { -NEAR } else { NEAR };
        let (Some(before), Some(past)) = (self.ahead(at - further)?, self.ahead(at + further)?) else {
            return Ok(None);
        };
        let turned = self.is_kept(before.0) && !self.is_kept(past.0);
        Ok(turned.then(|| self.crossing(at, past)))
    }

    /// Whether the order is as it is in the rules
    fn is_kept(&self, ahead: f64) -> bool {
        (ahead >= 0.0) == self.field.leads()
    }

    /// The nearer of the two crossings found by halving the way to either end, where the order is another
    fn searched(&mut self) -> Result<Option<Crossing>, TooWide> {
        let (down, up) = self.candidate.ends;
        let mut found: Option<Crossing> = None;
        for end in [down, up] {
            if end > 0.0 && end < 1.0 && end != self.candidate.from {
                let crossing = self.toward(log_odds(end))?;
                found = match (found, crossing) {
                    (Some(one), Some(other)) if length(&one) <= length(&other) => Some(one),
                    (one, other) => other.or(one),
                };
            }
        }
        Ok(found)
    }

    /// The crossing on the way to one end, in log-odds
    fn toward(&mut self, end: f64) -> Result<Option<Crossing>, TooWide> {
        let Some(mut past) = self.ahead(end)?.filter(|past| !self.is_kept(past.0)) else {
            return Ok(None);
        };
        let at = first_past(log_odds(self.candidate.from), end, |middle| {
            let here = self.ahead(middle)?.filter(|here| !self.is_kept(here.0));
            past = here.unwrap_or(past); // else: it is not past there, and what was past before stands
            Ok(here.is_some())
        })?;
        Ok(Some(self.crossing(at, past)))
    }

    fn crossing(&self, at: f64, (_, rival, probability): (f64, usize, f64)) -> Crossing {
        let Candidate { strength, from, places, .. } = *self.candidate;
        let rival = *self.field.others.get(rival).hold("a rival is one of the field");
        Crossing { strength, from, at: share(at), rival, probability, places }
    }
}
