//! Findings, and the checks that would bring more of them, as they are told.

use crate::ground::{Ground, How, Observation, Origin};
use crate::model::Model;
use crate::model::subject::{Subject, Term, as_cause};
use crate::reason::next::{self, First, Shift, Shows, What};
use crate::report::words;
use serde::Serialize;

/// A finding
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// Name of the symptom
    pub finding: String,
    /// Where
    pub place: String,
    /// Its grade
    pub grade: String,
    /// Label of the symptom
    pub label: String,
    /// How it is known: `seen`, `read`, or `looked at and not noted`
    pub how: &'static str,
    /// The grade is the normal one
    pub normal: bool,
}

/// A check or question, with what it is worth
#[derive(Clone, Debug, Serialize)]
pub struct NextCheck {
    /// Name of the check or fact
    pub id: String,
    /// `check`, or `fact` for a question about the machine
    pub sort: &'static str,
    /// Where
    pub place: String,
    /// What to do
    pub label: String,
    /// How it is done, where the rules say so
    #[serde(skip_serializing_if = "Option::is_none")]
    pub how: Option<String>,
    /// What to beware of
    pub cautions: Vec<String>,
    /// Tools
    pub needs: Vec<String>,
    /// How the machine must stand: parked, moved, lifted or records
    #[serde(skip_serializing_if = "Option::is_none")]
    pub access: Option<String>,
    /// State the machine must be in
    #[serde(skip_serializing_if = "Option::is_none")]
    pub state: Option<String>,
    /// What brings it into that state first
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set_up: Option<SetUp>,
    /// Why it goes first
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first: Option<String>,
    /// Expected drop of entropy, bits
    pub bits: f64,
    /// Minutes of the check itself
    pub minutes: f64,
    /// Bits for each minute, its share of the set-up counted
    pub bits_per_minute: f64,
    /// The bits are exact; else a mean over seeded draws
    pub exact: bool,
    /// Something may come of it that takes a cause past 10, 50 or 90 %, either way
    pub decides: bool,
    /// What can come out
    pub outcomes: Vec<Outcome>,
    /// Chance that all is normal, and what that does
    #[serde(skip_serializing_if = "Option::is_none")]
    pub all_normal: Option<AllNormal>,
}

/// What must be done first
#[derive(Clone, Debug, Serialize)]
pub struct SetUp {
    /// The check that brings the state about, and what to do
    #[serde(flatten)]
    pub term: Term,
    /// Minutes it takes in all
    pub minutes: f64,
    /// What to beware of
    pub cautions: Vec<String>,
}

/// One thing that can come out
#[derive(Clone, Debug, Serialize)]
pub struct Outcome {
    /// Name of the symptom or fact
    pub finding: String,
    /// Where
    pub place: String,
    /// Grade or choice
    pub grade: String,
    /// Label of the symptom or fact
    pub label: String,
    /// Its chance
    pub chance: f64,
    /// What it does to causes
    pub then: Vec<Then>,
}

/// All normal
#[derive(Clone, Debug, Serialize)]
pub struct AllNormal {
    /// Its chance
    pub chance: f64,
    /// What it does to causes
    pub then: Vec<Then>,
}

/// A cause moved
#[derive(Clone, Debug, Serialize)]
pub struct Then {
    /// The cause, and where
    #[serde(flatten, serialize_with = "as_cause")]
    pub named: Subject,
    /// Probability now
    pub from: f64,
    /// Probability then
    pub to: f64,
}

/// An observation as it is told
pub fn observation(model: &Model, own: &Observation) -> Finding {
    let effect = &model[own.symptom].effect;
    Finding {
        finding: effect.common.name.clone(),
        place: own.place.to_string(),
        grade: effect.grades.name(own.grade).to_owned(),
        label: effect.common.label.clone(),
        how: match own.how {
            How::Seen { .. } => "seen",
            How::Normal(_) => "looked at and not noted",
            How::Read { .. } => "read",
        },
        normal: own.grade == 0,
    }
}

/// A check or question as it is told
pub fn next_check(model: &Model, ground: &Ground, next: &next::NextCheck) -> NextCheck {
    let base = NextCheck {
        id: String::new(),
        sort: "check",
        place: next.place.to_string(),
        label: String::new(),
        how: None,
        cautions: Vec::new(),
        needs: Vec::new(),
        access: None,
        state: None,
        set_up: None,
        first: next.first.map(|first| first_words(model, first)),
        bits: next.bits,
        minutes: next.minutes,
        bits_per_minute: next.rate(),
        exact: next.exact,
        decides: next.decides(),
        outcomes: next.outcomes.iter().map(|it| outcome(model, ground, it)).collect(),
        all_normal: next.all_normal.as_ref().map(|(chance, shifts)| AllNormal {
            chance: *chance,
            then: shifts.iter().filter_map(|shift| then(model, ground, shift)).collect(),
        }),
    };
    match next.what {
        What::Check(id) => {
            let check = &model[id];
            NextCheck {
                id: check.common.name.clone(),
                label: check.common.label.clone(),
                how: check.common.text.clone(),
                cautions: check.cautions.clone(),
                needs: check.needs.clone(),
                access: check.access.clone(),
                state: check.needs_state.map(|state| model[state].common.label.clone()),
                set_up: next.set_up.map(|set_up| {
                    let maker = &model[set_up.maker];
                    SetUp {
                        term: model.term(set_up.maker),
                        minutes: maker.minutes,
                        cautions: maker.cautions.clone(),
                    }
                }),
                ..base
            }
        }
        What::Tell(id, _) => {
            let fact = &model[id];
            NextCheck {
                id: fact.common.name.clone(),
                sort: "fact",
                label: format!("Find out: {}", fact.common.label),
                how: fact.tell.as_ref().map(|(text, _)| text.clone()),
                ..base
            }
        }
    }
}

/// How many checks come before those that decide nothing; 0 where enough has been seen
pub fn deciding(checks: &[NextCheck]) -> usize {
    checks.iter().rposition(|check| check.decides).map_or(0, |last| last + 1)
}

fn first_words(model: &Model, first: First) -> String {
    match first {
        First::MayStop => "before all else: it may call for stopping the machine".to_owned(),
        First::Passing(state) => {
            format!("now, while the machine is {}: later checks would spoil it", model[state].common.label)
        }
    }
}

fn outcome(model: &Model, ground: &Ground, outcome: &next::Outcome) -> Outcome {
    let (finding, label, place, grade) = match &outcome.shows {
        Shows::Grade(id, place, grade) => {
            let effect = &model[*id].effect;
            (&effect.common.name, &effect.common.label, place.to_string(), effect.grades.name(*grade))
        }
        Shows::Choice(id, choice) => {
            let fact = &model[*id];
            let choice = fact.choices.get(*choice).map_or("", String::as_str);
            (&fact.common.name, &fact.common.label, String::new(), choice)
        }
    };
    Outcome {
        finding: finding.clone(),
        place,
        grade: grade.to_owned(),
        label: label.clone(),
        chance: outcome.chance,
        then: outcome.shifts.iter().filter_map(|shift| then(model, ground, shift)).collect(),
    }
}

/// A cause moved, as it is told
pub fn then(model: &Model, ground: &Ground, shift: &Shift) -> Option<Then> {
    match ground.origin(shift.node)? {
        Origin::Cause(id, place) => {
            Some(Then { named: model.subject(*id, place), from: shift.from, to: shift.to })
        }
        _ => None,
    }
}

/// A finding in words: its label, its place and its grade
pub fn in_words(finding: &Finding) -> String {
    let place = if finding.place == "machine" {
        String::new()
    } else {
        format!(", {}", words::plain(&finding.place))
    };
    format!("{}{place}: {}", finding.label, words::plain(&finding.grade))
}
