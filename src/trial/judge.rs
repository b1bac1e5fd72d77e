//! Claims held against what comes out, and for each that fails the reasons that led astray.

use super::Extent;
use super::claim::{ABSENT_UNDER, Claim, Claimed, PRESENT_OVER, Sought};
use crate::assess::{self, Damage};
use crate::ground::{Ground, HiddenAt};
use crate::network::NodeId;
use crate::place::Place;
use crate::reason::decibans;
use crate::reason::next::{NextCheck, What};
use crate::reason::{Ranked, Stop, Weighing};

/// What comes out of a case
#[derive(Clone, Debug)]
pub struct Answers {
    /// All causes, likeliest first, without reasons
    pub causes: Vec<Ranked>,
    /// All conditions, likeliest first, without reasons
    pub conditions: Vec<Ranked>,
    /// What to look at next; empty when nobody asked
    pub next: Vec<NextCheck>,
    /// Observations that nothing explains; empty when nobody asked
    pub unexplained: Vec<usize>,
    /// Likelihood ratio for each party on the damage in question; empty when nobody asked, and without a party against whom
    /// nothing counts that could have brought it about
    pub weights: Vec<(String, f64)>,
}

/// Whether one claim holds
#[derive(Clone, Debug)]
pub struct Verdict {
    /// It does
    pub holds: bool,
    /// What came out
    pub came: Came,
    /// What led astray; empty for a claim that holds, and where no chance decides
    pub astray: Vec<Astray>,
}

/// What came out
#[derive(Clone, Debug, PartialEq)]
pub enum Came {
    /// It cannot be on this machine by its facts
    CannotBe,
    /// Its chance
    Chance(f64),
    /// Its chance, and the first of the causes not named with it, if there is one
    Among(f64, Option<(NodeId, f64)>),
    /// The first of the causes
    First(NodeId, f64),
    /// Its number among the next checks, from 1
    Number(Option<usize>),
    /// Whether it is so
    So(bool),
    /// The likelihood ratio; none where nothing that could have brought the damage about counts against the party
    Ratio(Option<f64>),
}

/// A cause or condition that stands too high or too low, with its steps
#[derive(Clone, Debug)]
pub struct Astray {
    /// What it is, with its reasons
    pub ranked: Ranked,
    /// True when it stands too high, so that what speaks for it led astray
    pub too_high: bool,
}

/// What comes out, as far as the claims ask for it
///
/// # Errors
/// [`Stop`] when the findings cannot occur together, or couple too much for an exact answer.
pub fn answers(weighing: &Weighing, claims: &[Claimed], extent: Extent) -> Result<Answers, Stop> {
    let (causes, conditions) = (weighing.causes()?.to_vec(), weighing.conditions()?.to_vec());
    let asked = |wanted: fn(&Claim) -> bool| claims.iter().any(|own| wanted(&own.claim));
    let next = if extent == Extent::Next || asked(|claim| matches!(claim, Claim::Next(..))) {
        weighing.next_checks()?.to_vec()
    } else {
        Vec::new()
    };
    let unexplained = if asked(|claim| matches!(claim, Claim::Unexplained(..))) {
        weighing.fit()?.unexplained.iter().map(|(number, _)| *number).collect()
    } else {
        Vec::new()
    };
    Ok(Answers { causes, conditions, next, unexplained, weights: weights(weighing, claims)? })
}

/// Likelihood ratios on the damage in question, where a claim asks for them
fn weights(weighing: &Weighing, claims: &[Claimed]) -> Result<Vec<(String, f64)>, Stop> {
    let about = claims.iter().find_map(|own| match &own.claim {
        Claim::Weight(weight) => Some(&weight.about),
        _ => None,
    });
    let Some(about) = about else { return Ok(Vec::new()) };
    let damage = about.iter().filter_map(|name| assess::damage(weighing.model(), weighing.ground(), name));
    let ratios = assess::ratios(weighing, &damage.collect::<Vec<Damage>>())?;
    Ok(ratios.into_iter().map(|(party, weight)| (party.name, decibans::ratio(weight))).collect())
}

/// Holds each claim against the answers
///
/// # Errors
/// [`Stop`] when the findings couple too much for the reasons.
pub fn judge(weighing: &Weighing, claims: &[Claimed], answers: &Answers) -> Result<Vec<Verdict>, Stop> {
    let judged = |own: &Claimed| verdict(weighing.ground(), &own.claim, answers);
    let mut verdicts: Vec<Verdict> = claims.iter().map(judged).collect();
    for astray in verdicts.iter_mut().flat_map(|verdict| &mut verdict.astray) {
        astray.ranked.reasons = weighing.steps(astray.ranked.node)?;
    }
    Ok(verdicts)
}

fn verdict(ground: &Ground, claim: &Claim, answers: &Answers) -> Verdict {
    match claim {
        Claim::Above(one, with) => above(one, with, answers),
        Claim::Form(one) => {
            let Some((ranked, chance)) = answers.find(one) else { return cannot_be() };
            let share = chance / ranked.probability.max(f64::MIN_POSITIVE);
            Verdict { holds: share >= PRESENT_OVER, came: Came::Chance(share), astray: Vec::new() }
        }
        Claim::Over(one, bound) => {
            let Some((ranked, chance)) = answers.find(one) else { return cannot_be() };
            judged(chance > *bound, Came::Chance(chance), &[(ranked, false)])
        }
        Claim::Under(one, bound) => match answers.find(one) {
            // What the given facts rule out is not on the network at all.
            None => judged(true, Came::CannotBe, &[]),
            Some((ranked, chance)) => judged(chance < *bound, Came::Chance(chance), &[(ranked, true)]),
        },
        Claim::Sound => match answers.causes.first() {
            None => judged(true, Came::So(true), &[]),
            Some(first) => {
                let came = Came::First(first.node, first.probability);
                judged(first.probability <= ABSENT_UNDER, came, &[(first, true)])
            }
        },
        Claim::Next(sought, place, most) => {
            let number = number(answers, *sought, place.as_ref());
            let holds =
                number.is_some_and(|number| u32::try_from(number).is_ok_and(|number| number <= *most));
            judged(holds, Came::Number(number), &[])
        }
        Claim::Unexplained(symptom, place) => {
            let mut alone = answers.unexplained.iter().filter_map(|&number| ground.observations.get(number));
            let holds = alone.any(|own| own.symptom == *symptom && is_there(place.as_ref(), &own.place));
            judged(holds, Came::So(holds), &[])
        }
        Claim::Held(what, place) => {
            let mut held = ground.held.iter();
            let holds = held.any(|own| own.what == *what && is_there(place.as_ref(), &own.named.place));
            judged(holds, Came::So(holds), &[])
        }
        Claim::Weight(weight) => {
            let own = answers.weights.iter().find(|(party, _)| *party == weight.party);
            let ratio = own.map(|(_, ratio)| *ratio);
            let holds = match ratio {
                Some(ratio) if weight.over => ratio > weight.ratio,
                Some(ratio) => ratio < weight.ratio,
                None => !weight.over,
            };
            judged(holds, Came::Ratio(ratio), &[])
        }
    }
}

fn cannot_be() -> Verdict {
    Verdict { holds: false, came: Came::CannotBe, astray: Vec::new() }
}

fn judged(holds: bool, came: Came, blamed: &[(&Ranked, bool)]) -> Verdict {
    let astray = |&(ranked, too_high): &(&Ranked, bool)| Astray { ranked: ranked.clone(), too_high };
    let astray = if holds { Vec::new() } else { blamed.iter().map(astray).collect() };
    Verdict { holds, came, astray }
}

/// The causes named stand above all that are not
fn above(one: &HiddenAt, with: &[HiddenAt], answers: &Answers) -> Verdict {
    let Some((ranked, _)) = answers.find(one) else { return cannot_be() };
    let named = |own: &Ranked| with.iter().any(|it| it.hidden == own.hidden && it.place == own.place);
    let first = answers.causes.iter().find(|own| !named(own));
    let came = Came::Among(ranked.probability, first.map(|first| (first.node, first.probability)));
    match first.filter(|first| ranked.probability <= first.probability) {
        None => judged(true, came, &[]),
        Some(first) => judged(false, came, &[(ranked, false), (first, true)]),
    }
}

fn is_there(wanted: Option<&Place>, place: &Place) -> bool {
    wanted.is_none_or(|wanted| wanted == place)
}

/// The number, from 1, of the first of the next checks that is the one sought or asks for it beforehand; the same check at
/// several places counts once
fn number(answers: &Answers, sought: Sought, place: Option<&Place>) -> Option<usize> {
    let is_it = |next: &NextCheck| match (next.what, sought) {
        (What::Check(id), Sought::Check(wanted)) => {
            let before = next.set_up.is_some_and(|set_up| set_up.maker == wanted);
            before || (id == wanted && is_there(place, &next.place))
        }
        (What::Tell(id, _), Sought::Fact(wanted)) => id == wanted && is_there(place, &next.place),
        _ => false,
    };
    let at = answers.next.iter().position(is_it)?;
    let earlier = |number: usize, what: What| answers.next.iter().take(number).any(|own| own.what == what);
    Some(
        1 + (1..=at)
            .filter(|&number| answers.next.get(number).is_some_and(|own| !earlier(number, own.what)))
            .count(),
    )
}

impl Answers {
    /// What a name stands for, with the chance of the very form or grade that it names; none when the given facts rule it
    /// out
    pub fn find(&self, one: &HiddenAt) -> Option<(&Ranked, f64)> {
        let all = self.causes.iter().chain(&self.conditions);
        let ranked = all.into_iter().find(|own| own.hidden == one.hidden && own.place == one.place)?;
        let chance = match one.grade {
            None => ranked.probability,
            Some(grade) => ranked.grades.get(grade).copied().unwrap_or(0.0), // else: nothing is exact
        };
        Some((ranked, chance))
    }
}
