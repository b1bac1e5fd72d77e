//! The shipped rules with one machine on the bench: a case given as text, and the chances that follow from it.

pub use super::rules::SHIPPED;
use super::rules::{shipped, told};
use pinboss::case::{self, Inspection};
use pinboss::consultation::{Consultation, Visit};
use pinboss::ground::{Ground, Origin, find_hidden, find_symptom, ground};
use pinboss::infer::{self, Finding, Limits};
use pinboss::model::Hidden;
use pinboss::network::NodeId;
use pinboss::place::{Place, Side};
use pinboss::reason::Weighing;
use pinboss::reason::evidence;
use pinboss::source::Sources;
use std::sync::Arc;

/// One machine, looked at
pub struct Bench {
    pub ground: Ground,
    findings: Vec<Finding>,
}

/// A machine of 6000 h of which a case tells these facts, these parts and these findings, each in YAML flow style; it
/// was in every state at some time of the visit, so that nothing is held back for want of one
pub fn dozer(facts: &str, parts: &str, seen: &str) -> Bench {
    let comma = if facts.is_empty() { "" } else { ", " };
    Bench::of(&format!(
        "case: bench\nmachine: {{tag: B1, hours: 6000, size: medium, facts: {{{facts}{comma}rollers: 7}}}}\n\
         parts: [{parts}]\nvisit: {{state: [packed, hot, cleaned, moved, lifted]}}\nseen: {{{seen}}}\n"
    ))
}

/// A case by the shipped rules, with all that can be asked of it; it must be without an error
pub fn consultation(text: &str) -> Consultation {
    let (inspection, ground) = bound(text);
    Consultation::new(shipped(), Visit { inspection: Arc::new(inspection), ground: Arc::new(ground) })
}

fn bound(text: &str) -> (Inspection, Ground) {
    let mut sources = Sources::default();
    let id = sources.add("bench.yaml", text);
    let (inspection, mut problems) = case::read(&sources, id);
    let Some(inspection) = inspection else {
        panic!("{:#?}\n{text}", told(&problems, &sources));
    };
    let (ground, said) = ground(&SHIPPED.model, &inspection);
    problems.append(said);
    assert!(!problems.any_error(), "{:#?}\n{text}", told(&problems, &sources));
    (inspection, ground)
}

impl Bench {
    /// Reads a case, which must be without an error
    pub fn of(text: &str) -> Self {
        let (_, ground) = bound(text);
        let findings = evidence::findings(&ground);
        Bench { ground, findings }
    }

    /// The machine weighed by the shipped rules
    pub fn weighing(&self) -> Weighing {
        Weighing::new(shipped(), self.ground.clone())
    }

    /// Chance that a cause or condition is present, `joints_dry left`, or shows a grade, `frame_toe toed_in left`
    pub fn chance(&self, name: &str) -> f64 {
        let (node, states) = self.states(name);
        let beliefs =
            infer::posteriors(&self.ground.network, &self.findings, &[node], &Limits::default()).unwrap();
        let marginal = beliefs.marginal(node).unwrap();
        states.iter().map(|&state| marginal[state]).sum()
    }

    /// Chance that at least one of some causes and conditions is present: 1 - P(e and none of them) / P(e)
    pub fn any_of(&self, names: &[&str]) -> f64 {
        let absent = names.iter().map(|name| Finding::state(&self.ground.network, self.states(name).0, 0));
        let with: Vec<Finding> = self.findings.iter().cloned().chain(absent).collect();
        let evidence = |findings: &[Finding]| {
            let circuit = infer::compile(&self.ground.network, findings, &[], &Limits::default()).unwrap();
            circuit.evaluate(&circuit.weights()).log_evidence
        };
        1.0 - libm::exp(evidence(&with) - evidence(&self.findings))
    }

    /// True when a cause or condition is on this machine's network at all
    pub fn has(&self, name: &str) -> bool {
        let (name, _, place) = split(name);
        let hidden = find_hidden(&SHIPPED.model, name).unwrap_or_else(|| panic!("no `{name}`"));
        self.ground.node(&Origin::hidden(hidden, place)).is_some()
    }

    /// The grade a symptom counts with; none when it has no finding
    pub fn grade(&self, name: &str) -> Option<&'static str> {
        let (name, _, place) = split(name);
        let id = find_symptom(&SHIPPED.model, name).unwrap_or_else(|| panic!("no `{name}`"));
        let own = self.ground.observations.iter().find(|own| own.symptom == id && own.place == place)?;
        Some(SHIPPED.model[id].effect.grades.name(own.grade))
    }

    /// The node of a name, and the states of it that are meant
    fn states(&self, name: &str) -> (NodeId, Vec<usize>) {
        let (name, grade, place) = split(name);
        let hidden = find_hidden(&SHIPPED.model, name).unwrap_or_else(|| panic!("no `{name}`"));
        let node = self.ground.node(&Origin::hidden(hidden, place));
        let node = node.unwrap_or_else(|| panic!("`{name}` is not on this machine"));
        let states = 1..self.ground.network.states(node);
        let Some(grade) = grade else {
            return (node, states.collect());
        };
        let meant = |&state: &usize| match hidden {
            Hidden::Condition(id) => {
                let grades = &SHIPPED.model[id].grades;
                grades.shows(grades.find(grade).unwrap_or_else(|| panic!("no grade `{grade}`")), state)
            }
            Hidden::Cause(id) => {
                SHIPPED.model[id].forms.names().get(state - 1).is_some_and(|form| form == grade)
            }
        };
        (node, states.filter(meant).collect())
    }
}

/// `slope_work`, `joints_dry left`, `frame_toe toed_in left`, `roller_dry left roller 3`
fn split(name: &str) -> (&str, Option<&str>, Place) {
    let words: Vec<&str> = name.split(' ').collect();
    match words.as_slice() {
        [name] => (name, None, Place::Machine),
        [name, at] => match Side::from_word(at) {
            Some(side) => (name, None, Place::Side(side)),
            None => (name, Some(at), Place::Machine),
        },
        [name, grade, at] => (name, Some(grade), Place::Side(Side::from_word(at).unwrap())),
        [name, at, part, number] => {
            let side = Side::from_word(at).unwrap();
            let number = number.parse().unwrap();
            (name, None, Place::Numbered { side, part: (*part).to_owned(), number })
        }
        _ => panic!("`{name}` is no name with a place"),
    }
}
