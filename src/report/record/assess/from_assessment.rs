//! From an assessment to its report: labels put to names, nothing reckoned.

use super::{
    ButFor, CAPPED, Carried, Cause, HangsOn, NOT, Overturn, Overturns, PartyOpinion, Ratio, Report, Settling,
    Sign, Then, Usual, Weight,
};
use crate::assess::hangs::Hang;
use crate::assess::overturn::{self, Change};
use crate::assess::scale::{self, Exact, Held, SCALE, Strength, Support};
use crate::assess::settle::{self, Outcome};
use crate::assess::{self, Assessment, Damage};
use crate::case::Inspection;
use crate::ground::{Ground, Origin};
use crate::model::Model;
use crate::network::NodeId;
use crate::place::Place;
use crate::reason::decibans;
use crate::reason::next::Shows;
use crate::reason::steps::Step;
use crate::report::record::evidence::{self, Finding};
use crate::report::rules::shown::Figure;
use crate::report::words::{listed, plain};

/// What a report is made from
pub struct Made<'a> {
    /// The rules
    pub model: &'a Model,
    /// The inspection as written
    pub inspection: &'a Inspection,
    /// The inspection in the terms of the rules
    pub ground: &'a Ground,
    /// What is said of each party
    pub assessment: &'a Assessment,
    /// Digest of the rules
    pub rules_digest: &'a str,
    /// Digest of the case file
    pub case_digest: &'a str,
}

/// The report of an assessment; all figures come from the stages before
pub fn report(made: &Made<'_>) -> Report {
    let Made { model, inspection, ground, assessment, rules_digest, case_digest } = *made;
    let teller = Teller { model, ground };
    Report {
        case: inspection.title.value.clone(),
        machine: inspection.machine.tag.value.clone(),
        hours: ground.machine.hours,
        rules_digest: rules_digest.to_owned(),
        case_digest: case_digest.to_owned(),
        in_question: assessment.damage.iter().map(|damage| teller.damage(damage)).collect(),
        against: assessment.against.iter().map(|own| teller.against(&assessment.damage, own)).collect(),
        nothing_against: assessment.untouched.clone(),
        worn: assessment.worn.clone(),
        usual: assessment.usual.iter().map(|usual| teller.usual(usual)).collect(),
        scale: SCALE,
        this_is_not: NOT,
    }
}

/// Puts labels to what stands in rules and case
struct Teller<'a> {
    model: &'a Model,
    ground: &'a Ground,
}

impl Teller<'_> {
    fn damage(&self, damage: &Damage) -> Sign {
        let seen = damage.observation.and_then(|number| self.ground.observations.get(number));
        self.sign(damage.node, damage.grade.or(seen.map(|own| own.grade)))
    }

    fn sign(&self, node: NodeId, grade: Option<usize>) -> Sign {
        let effect = self.ground.origin(node).and_then(Origin::as_effect).map(|id| id.effect(self.model));
        let (common, grades) = (effect.map(|own| &own.common), effect.map(|own| &own.grades));
        let place = self.ground.origin(node).map_or(Place::Machine, Origin::place);
        Sign {
            finding: common.map_or_else(String::new, |common| common.name.clone()),
            place: place.to_string(),
            label: common.map_or_else(String::new, |common| common.label.clone()),
            grade: grades.zip(grade).map(|(grades, grade)| grades.name(grade).to_owned()),
            normal: grade == Some(0),
        }
    }

    fn against(&self, damage: &[Damage], own: &assess::PartyOpinion) -> PartyOpinion {
        let causes = self.causes(&own.party.causes);
        let estimated = matches!(&own.weight, scale::Weight::Exact(exact) if !exact.estimates.is_empty());
        let in_full: Vec<String> = causes.iter().map(cause_in_words).collect();
        PartyOpinion {
            party: own.party.name.clone(),
            first: format!("At least one of these was present: {}.", in_full.join("; ")),
            second: format!("None of these was present: {}.", in_full.join("; ")),
            causes,
            before: own.before,
            weight: weight(&own.weight),
            carried_by: own
                .steps
                .iter()
                .zip(&own.rivals)
                .filter_map(|(step, rival)| self.carried(step, *rival))
                .collect(),
            leading: own.leading,
            others: own.others,
            but_for: damage
                .iter()
                .zip(&own.but_for)
                .map(|(damage, but_for)| self.but_for(damage, *but_for))
                .collect(),
            overturned_by: own.overturns.as_ref().map(|own| self.overturns(own)),
            settled_by: own
                .settling
                .as_ref()
                .map(|all| all.iter().map(|own| self.settling(own, estimated)).collect()),
            hangs_on: own
                .hangs
                .as_ref()
                .map(|all| all.iter().map(|own| self.hangs_on(own, estimated)).collect()),
        }
    }

    fn hangs_on(&self, own: &Hang, estimated: bool) -> HangsOn {
        let then = |(share, decibans): (f64, f64)| {
            let held = Held::new(decibans, &[], estimated);
            Then { share, ratio: decibans::ratio(held.decibans), capped: held.capped }
        };
        HangsOn {
            figure: Figure::of(self.model, own.strength),
            down: then(own.down),
            up: then(own.up),
            turns_at: own.turns_at,
            places: own.places,
        }
    }

    /// Causes with all their places, in the order in which they first stand
    fn causes(&self, nodes: &[NodeId]) -> Vec<Cause> {
        let mut causes: Vec<Cause> = Vec::new();
        for node in nodes {
            let Some(Origin::Cause(id, place)) = self.ground.origin(*node) else { continue };
            let cause = &self.model[*id];
            match causes.iter_mut().find(|known| known.id == cause.common.name) {
                Some(known) => known.places.push(place.to_string()),
                None => causes.push(Cause {
                    id: cause.common.name.clone(),
                    label: cause.common.label.clone(),
                    places: vec![place.to_string()],
                    kind_label: self.model[cause.kind].common.label.clone(),
                }),
            }
        }
        causes
    }

    fn carried(&self, step: &Step, rival: Option<NodeId>) -> Option<Carried> {
        let mut findings = step.observations.iter().filter_map(|number| self.finding(*number));
        Some(Carried {
            finding: findings.next()?,
            together_with: findings.collect(),
            decibans: step.decibans,
            factor: decibans::ratio(step.decibans),
            because: step.way.as_ref().map_or_else(String::new, |way| way.because.join(" ")),
            direct: step.way.is_some(),
            rival: rival.and_then(|node| self.causes(&[node]).pop()),
            rest: step.rest,
        })
    }

    fn finding(&self, observation: usize) -> Option<Finding> {
        self.ground.observations.get(observation).map(|own| evidence::observation(self.model, own))
    }

    fn but_for(&self, damage: &Damage, but_for: Option<assess::but_for::ButFor>) -> ButFor {
        ButFor {
            sign: self.damage(damage),
            if_there: damage.observation.is_none(),
            chance: but_for.map(|own| own.lower),
            other: but_for.map(|own| own.other),
        }
    }

    fn overturns(&self, own: &overturn::Overturns) -> Overturns {
        Overturns {
            by: own.overturning.iter().filter_map(|own| self.overturn(own)).collect(),
            nearest: own.nearest.as_ref().and_then(|own| self.overturn(own)),
            other_grades: own.graded,
        }
    }

    fn overturn(&self, own: &overturn::Overturn) -> Option<Overturn> {
        let seen = self.ground.observations.get(own.supposed.observation)?;
        let held = &own.held;
        let grades = &self.model[seen.symptom].effect.grades;
        Some(Overturn {
            finding: evidence::observation(self.model, seen),
            taken_as: match own.supposed.change {
                Change::LeftOut => None,
                Change::Grade(grade) => Some(grades.name(grade).to_owned()),
            },
            ratio: decibans::ratio(held.decibans),
            capped: held.decibans.abs() < own.supposed.decibans.abs(),
            range: held.range.map(|(low, high)| [decibans::ratio(low), decibans::ratio(high)]),
            word: held.support.map(|support| support.strength.word()),
            supports: held.support.map(supports),
            crosses: own.crosses,
        })
    }

    fn settling(&self, own: &settle::Settling, estimated: bool) -> Settling {
        Settling {
            check: evidence::next_check(self.model, self.ground, &own.check),
            ratios: own.outcomes.iter().map(|outcome| self.ratio(outcome, estimated)).collect(),
        }
    }

    fn ratio(&self, outcome: &Outcome, estimated: bool) -> Ratio {
        let sign = outcome.shows.as_ref().map(|shows| match shows {
            Shows::Grade(id, place, grade) => {
                let effect = &self.model[*id].effect;
                Sign {
                    finding: effect.common.name.clone(),
                    place: place.to_string(),
                    label: effect.common.label.clone(),
                    grade: Some(effect.grades.name(*grade).to_owned()),
                    normal: *grade == 0,
                }
            }
            Shows::Choice(id, choice) => Sign {
                finding: self.model[*id].common.name.clone(),
                place: String::new(),
                label: self.model[*id].common.label.clone(),
                grade: self.model[*id].choices.get(*choice).cloned(),
                normal: false,
            },
        });
        let held = Held::new(outcome.decibans, &[], estimated);
        Ratio { sign, chance: outcome.chance, ratio: decibans::ratio(held.decibans), capped: held.capped }
    }

    fn usual(&self, usual: &assess::expected::Usual) -> Usual {
        Usual {
            sign: self.sign(usual.node, Some(usual.grade)),
            in_question: usual.in_question,
            or_worse: usual.or_worse,
            chance: usual.chance,
        }
    }
}

/// A cause with its places: `idler out of line (left, right)`, `seal failed (left roller 1, 2 and 3)`
pub(in crate::report) fn cause_in_words(cause: &Cause) -> String {
    let mut rows: Vec<(String, Vec<String>)> = Vec::new();
    for place in cause.places.iter().filter(|place| **place != Place::Machine.to_string()) {
        let (row, number) = match place.rsplit_once(' ') {
            Some((row, number)) => (row.to_owned(), vec![number.to_owned()]),
            None => (place.clone(), Vec::new()),
        };
        match rows.iter_mut().find(|(known, numbers)| *known == row && !numbers.is_empty()) {
            Some((_, numbers)) => numbers.extend(number),
            None => rows.push((row, number)),
        }
    }
    if rows.is_empty() {
        return cause.label.clone();
    }
    let row = |(row, numbers): &(String, Vec<String>)| match numbers.as_slice() {
        [] => plain(row),
        numbers => format!("{} {}", plain(row), listed(numbers)),
    };
    format!("{} ({})", cause.label, rows.iter().map(row).collect::<Vec<_>>().join(", "))
}

fn supports(support: Support) -> &'static str {
    match (support.strength, support.first) {
        (Strength::None, _) => "neither",
        (_, true) => "first",
        (_, false) => "second",
    }
}

fn weight(own: &scale::Weight) -> Weight {
    let nothing = Weight {
        exact: false,
        ratio: None,
        decibans: None,
        range: None,
        draws: 0,
        between: None,
        capped: false,
        capped_because: None,
        steps_come_to: None,
        estimates: Vec::new(),
        word: None,
        at_least: false,
        supports: None,
        curve: Vec::new(),
    };
    match own {
        scale::Weight::Exact(exact) => exactly(exact),
        scale::Weight::Within(bounds) => {
            let end = |decibans: f64| Some(decibans::ratio(decibans)).filter(|ratio| ratio.is_finite());
            Weight { between: Some([end(bounds.lower), end(bounds.upper)]), ..nothing }
        }
        scale::Weight::Unknown => nothing,
    }
}

fn exactly(exact: &Exact) -> Weight {
    let held = &exact.held;
    Weight {
        exact: true,
        ratio: Some(decibans::ratio(held.decibans)),
        decibans: Some(held.decibans),
        range: held.range.map(|(low, high)| [decibans::ratio(low), decibans::ratio(high)]),
        draws: exact.draws,
        between: None,
        capped: held.capped,
        capped_because: held.capped.then_some(CAPPED),
        steps_come_to: Some(exact.reckoned),
        estimates: exact.estimates.clone(),
        word: held.support.map(|support| support.strength.word()),
        at_least: held.at_least,
        supports: held.support.map(supports),
        curve: exact.curve.clone(),
    }
}
