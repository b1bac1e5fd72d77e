//! Which blocks and lines of the rules a case exercises: without one that does, a change to them goes unnoticed.

use super::claim::{Claim, Claimed, Sought};
use super::judge::Answers;
use crate::ground::Ground;
use crate::machine::{Answer, Supposed};
use crate::model::{Basis, CheckId, Common, Effect, Forms, Hidden, Line, Model, Parent, ParentGrade};
use crate::network::NodeId;
use crate::place::{Place, Side};
use crate::reason::Ranked;
use crate::source::Span;
use std::collections::{BTreeMap, BTreeSet};

/// Chance from which a cause or condition plays a part in a case that does not name it
pub const PLAYS_FROM: f64 = 0.1;

/// Blocks and lines that were exercised, each by where it is declared or stands
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Exercised {
    /// Places of the names of causes, conditions, symptoms and checks, and of `with` lines
    pub at: BTreeSet<Span>,
}

/// What sort of rule can be exercised
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Sort {
    /// A cause: a case names it in its truth or among what is expected, or it comes out at [`PLAYS_FROM`] or more
    Cause,
    /// A condition: as a cause
    Condition,
    /// A symptom: a case has a finding of it that is not normal
    Symptom,
    /// A check: a case looked, or took one of its readings, or expects it next
    Check,
    /// A `with` line: its parents play a part in a case that shows what it brings about, at a place where its test does
    /// not fail
    Line,
}

/// A rule that can be exercised
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// What sort of rule
    pub sort: Sort,
    /// Its name; for a line that of its block
    pub name: String,
    /// Where it stands
    pub at: Span,
    /// Its block names a published source
    pub sourced: bool,
}

/// Every rule that can be exercised, sort by sort, in the order of the rules
pub fn rules(model: &Model) -> Vec<Rule> {
    let sourced = |common: &Common| matches!(common.basis, Some(Basis::Source(_)));
    let rule = |sort: Sort, common: &Common| Rule {
        sort,
        name: common.name.clone(),
        at: common.at,
        sourced: sourced(common),
    };
    let mut rules: Vec<Rule> = model.causes.iter().map(|cause| rule(Sort::Cause, &cause.common)).collect();
    rules.extend(model.conditions.iter().map(|condition| rule(Sort::Condition, &condition.common)));
    rules.extend(model.symptoms.iter().map(|symptom| rule(Sort::Symptom, &symptom.effect.common)));
    rules.extend(model.checks.iter().map(|check| rule(Sort::Check, &check.common)));
    for effect in model.conditions.iter().chain(model.symptoms.iter().map(|symptom| &symptom.effect)) {
        let name = &effect.common.name;
        rules.extend(effect.lines.iter().map(|line| Rule {
            sort: Sort::Line,
            name: name.clone(),
            at: line.at,
            sourced: sourced(&effect.common),
        }));
    }
    rules
}

/// What a case exercises
pub fn by(model: &Model, ground: &Ground, claims: &[Claimed], answers: &Answers) -> Exercised {
    let mut at = BTreeSet::new();
    for own in claims {
        match &own.claim {
            Claim::Above(one, _) | Claim::Form(one) | Claim::Over(one, _) | Claim::Under(one, _) => {
                at.insert(model.common(one.hidden).at);
            }
            Claim::Next(Sought::Check(check), ..) => {
                at.insert(model[*check].common.at);
            }
            Claim::Next(Sought::Fact(_), ..)
            | Claim::Sound
            | Claim::Unexplained(..)
            | Claim::Held(..)
            | Claim::Weight(_) => {}
        }
    }
    let ranked = answers.causes.iter().chain(&answers.conditions);
    let playing = ranked.clone().filter(|own| own.probability >= PLAYS_FROM);
    at.extend(playing.map(|own| model.common(own.hidden).at));
    for own in ground.observations.iter().filter(|own| own.grade != 0) {
        at.insert(model[own.symptom].effect.common.at);
    }
    at.extend(ground.looked.iter().map(|(check, _)| model[*check].common.at));
    for check in (0..model.checks.len()).map(CheckId) {
        let reads = &model[check].reads;
        if ground.readings.keys().any(|(measure, _)| reads.contains(measure)) {
            at.insert(model[check].common.at);
        }
    }
    let scene = Scene { model, ground, by_node: ranked.map(|own| (own.node, own)).collect() };
    scene.lines(answers, &mut at);
    Exercised { at }
}

/// A case with what came out of it
struct Scene<'a> {
    model: &'a Model,
    ground: &'a Ground,
    by_node: BTreeMap<NodeId, &'a Ranked>,
}

impl Scene<'_> {
    /// The lines of symptoms found and of conditions that play a part
    fn lines(&self, answers: &Answers, at: &mut BTreeSet<Span>) {
        for own in self.ground.observations.iter().filter(|own| own.grade != 0) {
            let effect = &self.model[own.symptom].effect;
            self.lines_of(effect, own.node, &own.place, &[effect.grades.state(own.grade)], at);
        }
        for own in &answers.conditions {
            if let Hidden::Condition(id) = own.hidden {
                let effect = &self.model[id];
                let grades = own.grades.iter().enumerate().skip(1);
                let shown = grades.filter(|(_, share)| **share >= PLAYS_FROM);
                let states: Vec<usize> = shown.map(|(grade, _)| effect.grades.state(grade)).collect();
                self.lines_of(effect, own.node, &own.place, &states, at);
            }
        }
    }

    fn lines_of(
        &self,
        effect: &Effect,
        node: NodeId,
        place: &Place,
        states: &[usize],
        at: &mut BTreeSet<Span>,
    ) {
        for line in &effect.lines {
            let brings = line.effects.iter().any(|(state, _)| states.contains(state));
            if brings && self.is_open(line, node, place) {
                at.insert(line.at);
            }
        }
    }

    /// Whether a line may hold at a place, and each of its parents plays a part
    fn is_open(&self, line: &Line, node: NodeId, place: &Place) -> bool {
        let holds = self.ground.machine.holds(self.model, &line.test, place, &Supposed::new());
        holds != Answer::No && line.parents.iter().all(|parent| self.plays(parent, node, place))
    }

    fn plays(&self, parent: &Parent, node: NodeId, place: &Place) -> bool {
        let parents = self.ground.network.parents(node).iter();
        parents.filter_map(|parent| self.by_node.get(parent)).any(|own| {
            let share = match self.wanted(parent, place) {
                None => own.probability,
                Some(grade) => own.grades.get(grade).copied().unwrap_or(0.0), // else: nothing is exact
            };
            own.hidden == parent.of && share >= PLAYS_FROM
        })
    }

    /// The grade or form that a line asks of its parent; none for any but the normal one
    fn wanted(&self, parent: &Parent, place: &Place) -> Option<usize> {
        let sided = matches!(parent.of, Hidden::Cause(id) if self.model[id].forms == Forms::Sides);
        let form =
            |side: Option<Side>| side.filter(|_| sided).map(|side| if side == Side::Left { 1 } else { 2 });
        match parent.grade {
            ParentGrade::Any => None,
            ParentGrade::Grade(grade) => Some(grade),
            ParentGrade::ThisSide => form(place.side()),
            ParentGrade::OtherSide => form(place.side().map(Side::other)),
        }
    }
}
