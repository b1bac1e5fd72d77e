//! Fair wear or misuse: the weight of the findings for and against what would count against each party, never a verdict.
//!
//! For a party two statements are compared: *at least one of these causes was present*, and *none of them was*. They are
//! the causes that count against the party and have an open path to the damage in question. The weight of the evidence is
//! the likelihood ratio of the two, 10 log10 of which is told in decibans (Good 1950).

pub mod but_for;
pub mod draws;
pub mod expected;
pub mod hangs;
pub mod odds;
pub mod overturn;
pub mod question;
pub mod rivals;
pub mod scale;
pub mod settle;

use crate::assess::but_for::ButFor;
use crate::assess::draws::Drawn;
use crate::assess::expected::{Usual, Worn};
use crate::assess::hangs::Hang;
use crate::assess::odds::Odds;
use crate::assess::overturn::{Overturns, Suppositions};
use crate::assess::scale::Weight;
use crate::assess::settle::Settling;
use crate::case::NameAt;
use crate::ground::{Ground, Origin, find_hidden, find_symptom};
use crate::infer::bounds::{Interval, bounds};
use crate::infer::pattern::Ask;
use crate::infer::{Finding, TooWide};
use crate::invariant::Hold;
use crate::model::{Basis, Hidden, Model};
use crate::network::NodeId;
use crate::network::open::{open_ancestors, open_parents};
use crate::place::Place;
use crate::reason::decibans;
use crate::reason::evidence::findings;
use crate::reason::steps::{Step, steps_of};
use crate::reason::{Stop, Weighing};
use std::collections::BTreeSet;

/// The word of the rules for causes that count against no party
pub const NOBODY: &str = "nobody";

/// Weight of a step, in decibans, from which its finding is said to carry the ratio
const CARRIES_FROM: f64 = 1.0;
/// Most steps that lead
const MOST_LEADING: usize = 8;

/// Damage that an assessor is asked about: a symptom or condition at a place of the machine
#[derive(Clone, Debug, PartialEq)]
pub struct Damage {
    /// Its node
    pub node: NodeId,
    /// The grade named, 0 being normal; none when any is meant
    pub grade: Option<usize>,
    /// Number of the observation of it; none for a condition, and for what was not looked at
    pub observation: Option<usize>,
}

/// Somebody against whom causes count
#[derive(Clone, Debug, PartialEq)]
pub struct Party {
    /// As the rules call him: operator, owner, fitter, maker or site
    pub name: String,
    /// Causes that count against him and have an open path to the damage, in the order of the rules and places; none when
    /// there is nothing to weigh
    pub causes: Vec<NodeId>,
}

/// A party as it is put to the draws
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The party, with its causes
    pub party: Party,
    /// Findings that would take most from the weight if they were wrong; none where the findings are too entangled
    pub supposed: Option<Suppositions>,
}

/// What is said on the damage in question
#[derive(Clone, Debug)]
pub struct Assessment {
    /// The damage
    pub damage: Vec<Damage>,
    /// What is said of each party that some cause counts against, the one against whom the findings weigh most first
    pub against: Vec<PartyOpinion>,
    /// Parties against whom nothing that could have brought this damage about counts
    pub untouched: Vec<String>,
    /// What hours and ground let expect of what was read
    pub worn: Vec<Worn>,
    /// How often what was found shows where nobody did anything wrong
    pub usual: Vec<Usual>,
}

/// What is said of one party
#[derive(Clone, Debug)]
pub struct PartyOpinion {
    /// The party, with the causes of the first statement
    pub party: Party,
    /// The rules' own probability of the first statement before anything was found, given the facts
    pub before: Option<f64>,
    /// Weight of all findings together
    pub weight: Weight,
    /// The findings that carry it, in steps that add up to it; empty where they could not be had
    pub steps: Vec<Step>,
    /// For each step that no cause of the party brings about, the rival cause through which it bears most on them; see
    /// [`rivals`]
    pub rivals: Vec<Option<NodeId>>,
    /// How many of the steps lead: the greatest, until what is left is small or many
    pub leading: usize,
    /// What the others add together, in decibans
    pub others: f64,
    /// For each damage, in the same order, the chance that it would have been less without the causes; none where the
    /// findings are too entangled
    pub but_for: Vec<Option<ButFor>>,
    /// Single findings that, if wrong, would overturn it; none where the findings are too entangled
    pub overturns: Option<Overturns>,
    /// What to look at that would settle it, in order; none where the findings are too entangled for the budget
    pub settling: Option<Vec<Settling>>,
    /// Strengths of the rules that the weight hangs on most, the furthest reach first; none where the findings are too
    /// entangled
    pub hangs: Option<Vec<Hang>>,
}

/// The damage that a name of a case stands for; none for what the rules do not know, or what is not on this machine
pub fn damage(model: &Model, ground: &Ground, name: &NameAt) -> Option<Damage> {
    let place = name.place.as_ref().map_or(Place::Machine, |place| place.value.clone());
    let word = name.grade.as_ref().map(|word| word.value.as_str());
    damage_at(model, ground, &name.name.value, word, place)
}

/// The same from its words
pub fn damage_at(
    model: &Model,
    ground: &Ground,
    name: &str,
    grade: Option<&str>,
    place: Place,
) -> Option<Damage> {
    let (origin, grades) = match (find_symptom(model, name), find_hidden(model, name)) {
        (Some(id), _) => (Origin::Symptom(id, place), &model[id].effect.grades),
        (None, Some(Hidden::Condition(id))) => (Origin::Condition(id, place), &model[id].grades),
        (None, _) => return None,
    };
    let grade = match grade {
        Some(word) => Some(grades.find(word)?),
        None => None,
    };
    let node = ground.node(&origin)?;
    let observation = ground.observations.iter().position(|own| own.node == node);
    Some(Damage { node, grade, observation })
}

/// Everybody against whom causes of the rules count, in the order in which the kinds of cause first name them
pub fn parties(model: &Model, ground: &Ground, damage: &[Damage]) -> Vec<Party> {
    let ends: Vec<NodeId> = damage.iter().map(|own| own.node).collect();
    let open: BTreeSet<NodeId> = open_ancestors(&ground.network, &ends).into_iter().collect();
    let mut parties: Vec<Party> = Vec::new();
    for kind in model.kinds.iter().filter(|kind| kind.against != NOBODY) {
        if !parties.iter().any(|party| party.name == kind.against) {
            parties.push(Party { name: kind.against.clone(), causes: Vec::new() });
        }
    }
    for (id, _, node) in ground.causes().filter(|(_, _, node)| open.contains(node)) {
        let against = &model[model[id].kind].against;
        if let Some(party) = parties.iter_mut().find(|party| party.name == *against) {
            party.causes.push(node);
        }
    }
    parties
}

/// Likelihood ratio in decibans of what was found, for each party with a cause; for the trial of claims
///
/// # Errors
/// [`Stop`] where the findings cannot occur together, or couple too much.
pub fn ratios(weighing: &Weighing, damage: &[Damage]) -> Result<Vec<(Party, f64)>, Stop> {
    weighing.evidence()?;
    let parties = parties(weighing.model(), weighing.ground(), damage);
    let weighed = parties.into_iter().filter(|party| !party.causes.is_empty());
    let ratio = |party: Party| {
        let ratio = Odds::new(weighing, party.causes.clone())?.ratio();
        Ok((party, ratio))
    };
    weighed.map(ratio).collect()
}

/// For each party the findings that would take most from its weight if they were wrong
pub fn asked(weighing: &Weighing, parties: &[Party]) -> Vec<Asked> {
    let (model, ground) = (weighing.model(), weighing.ground());
    let one = |party: &Party| {
        let odds = Odds::new(weighing, party.causes.clone());
        let odds = odds.ok().filter(|_| !party.causes.is_empty());
        let supposed = odds.map(|mut odds| overturn::suppositions(model, ground, &mut odds));
        Asked { party: party.clone(), supposed }
    };
    parties.iter().map(one).collect()
}

/// Says what the findings weigh for and against each of some parties.
///
/// `draws` are the weights with the strengths of the rules drawn anew, a row for each draw and in it one for each party, in
/// their order; see [`draws`].
///
/// # Errors
/// [`Stop::Impossible`] where the findings cannot occur together.
pub fn assess(
    weighing: &Weighing,
    damage: &[Damage],
    asked: &[Asked],
    draws: &[Vec<Drawn>],
) -> Result<Assessment, Stop> {
    if let Err(stop @ Stop::Impossible(_)) = weighing.evidence() {
        return Err(stop);
    }
    let (weighed, rest): (Vec<_>, Vec<_>) =
        asked.iter().enumerate().partition(|(_, asked)| !asked.party.causes.is_empty());
    let causes: Vec<Vec<NodeId>> = weighed.iter().map(|(_, asked)| asked.party.causes.clone()).collect();
    let settling = settle::settle(weighing, &causes);
    let mut against = Vec::new();
    for (turn, (number, asked)) in weighed.into_iter().enumerate() {
        let own = |row| <[Drawn]>::get(row, number).hold("a draw has a weight for each party");
        let drawn: Vec<&Drawn> = draws.iter().map(|row| own(row)).collect();
        let settling = settling.get(turn).cloned().hold("each statement has its checks, or none are told");
        against.push(on(weighing, damage, asked, &drawn, settling));
    }
    against.sort_by(|a, b| b.weight.decibans().total_cmp(&a.weight.decibans()));
    Ok(Assessment {
        damage: damage.to_vec(),
        against,
        untouched: rest.into_iter().map(|(_, asked)| asked.party.name.clone()).collect(),
        worn: expected::worn(weighing.model(), weighing.ground()),
        usual: expected::usual(weighing, damage, &causes.concat()),
    })
}

/// What is said of one party
fn on(
    weighing: &Weighing,
    damage: &[Damage],
    asked: &Asked,
    drawn: &[&Drawn],
    settling: Option<Vec<Settling>>,
) -> PartyOpinion {
    let (model, ground, limits) = (weighing.model(), weighing.ground(), &weighing.settings().limits);
    let party = &asked.party;
    let but_for =
        damage.iter().map(|own| but_for::but_for(model, ground, own, &party.causes, limits)).collect();
    let Ok(mut odds) = Odds::new(weighing, party.causes.clone()) else {
        let weight = Weight::within(bounded(weighing, &party.causes));
        let party = party.clone();
        return PartyOpinion {
            party,
            before: None,
            weight,
            steps: Vec::new(),
            rivals: Vec::new(),
            leading: 0,
            others: 0.0,
            but_for,
            overturns: None,
            settling,
            hangs: None,
        };
    };
    let (count, once) = (odds.findings(), odds.size());
    let likeliest = odds.likeliest_first();
    let steps = steps_of(model, ground, &likeliest, count, once, &mut |on| odds.decibans(on));
    let estimates = estimates(model, ground, &party.causes, damage, &steps);
    let leads = |step: &&Step| !step.rest && step.decibans.abs() >= CARRIES_FROM;
    let leading = steps.iter().take(MOST_LEADING).take_while(leads).count();
    let others = steps.iter().skip(leading).map(|step| step.decibans).sum();
    let rivals = rivals::rivals(ground, &mut odds, &party.causes, &steps, leading);
    let ratios: Vec<f64> = drawn.iter().map(|own| own.decibans).collect();
    let weight = Weight::exact(odds.ratio(), &ratios, estimates);
    let overturns = asked.supposed.as_ref().and_then(|supposed| overturned(&weight, supposed, drawn));
    PartyOpinion {
        party: party.clone(),
        before: Some(odds.before()),
        weight,
        steps,
        rivals,
        leading,
        others,
        but_for,
        overturns,
        settling,
        hangs: hangs::hangs(model, ground, &party.causes, limits).ok().flatten(),
    }
}

/// What would overturn an exact weight, by the draws behind its range
fn overturned(weight: &Weight, supposed: &Suppositions, drawn: &[&Drawn]) -> Option<Overturns> {
    let Weight::Exact(exact) = weight else { return None };
    let one = |own: &Drawn, number: usize| {
        *own.supposed.get(number).hold("a draw tells of each finding that is supposed otherwise")
    };
    let of = |number: usize| drawn.iter().map(|own| one(own, number)).collect();
    let draws: Vec<Vec<f64>> = (0..supposed.list.len()).map(of).collect();
    Some(overturn::overturns(&exact.held, supposed, &draws, !exact.estimates.is_empty()))
}

/// Bounds on the likelihood ratio, in decibans, where the findings are too entangled for an exact one; none where they say
/// nothing
fn bounded(weighing: &Weighing, causes: &[NodeId]) -> Option<Interval> {
    let (ground, budget) = (weighing.ground(), &weighing.settings().budget);
    let absent: Vec<Finding> =
        causes.iter().map(|cause| Finding::state(&ground.network, *cause, 0)).collect();
    let found = findings(ground);
    let both: Vec<Finding> = found.iter().chain(&absent).cloned().collect();
    let before = absence(weighing, &absent).ok()?;
    let all = bounds(&ground.network, &found, &[], budget).log_evidence;
    let none = bounds(&ground.network, &both, &[], budget).log_evidence;
    let after = |absent: f64, all: f64| {
        let share = libm::exp(absent - all).clamp(0.0, 1.0);
        decibans::of_ratio((1.0 - share) / share)
    };
    let start = decibans::of_ratio((1.0 - before) / before);
    let within =
        Interval { lower: after(none.upper, all.lower) - start, upper: after(none.lower, all.upper) - start };
    (within.lower.is_finite() || within.upper.is_finite()).then_some(within)
}

/// Probability that all of some causes are absent before anything was found
fn absence(weighing: &Weighing, absent: &[Finding]) -> Result<f64, TooWide> {
    let circuit = weighing.engine().circuit(absent, &Ask::default(), &weighing.settings().limits)?;
    Ok(libm::exp(circuit.evaluate(&circuit.weights()).log_evidence))
}

/// Names of blocks whose figures nobody has published, on an open path from one of the causes to the damage or to a finding
/// that carries the ratio: that a thing is common practice says that it is so, and not how often
fn estimates(
    model: &Model,
    ground: &Ground,
    causes: &[NodeId],
    damage: &[Damage],
    steps: &[Step],
) -> Vec<String> {
    let carrying = steps.iter().filter(|step| !step.rest && step.decibans.abs() >= CARRIES_FROM);
    let carried = carrying.flat_map(|step| &step.observations);
    let carried = carried.map(|number| ground.observation(*number).node);
    let ends: Vec<NodeId> = damage.iter().map(|own| own.node).chain(carried).collect();
    let mut below: BTreeSet<NodeId> = BTreeSet::new();
    let mut names: Vec<String> = Vec::new();
    for node in open_ancestors(&ground.network, &ends) {
        let hangs = |parent: &NodeId| below.contains(parent);
        if !causes.contains(&node) && !open_parents(&ground.network, node).iter().any(hangs) {
            continue;
        }
        below.insert(node);
        let common = match ground.origin(node) {
            Some(Origin::Cause(id, _)) => &model[*id].common,
            origin => match origin.and_then(Origin::as_effect) {
                Some(effect) => &effect.effect(model).common,
                None => continue,
            },
        };
        if !matches!(common.basis, Some(Basis::Source(_))) && !names.contains(&common.name) {
            names.push(common.name.clone());
        }
    }
    names
}
