//! The balance of a set of rules, as text and for programs.

use crate::model::Model;
use crate::model::subject::Term;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::reason::balance;
use crate::report::prose::Prose;
use crate::report::words::{figure, percent};
use serde::Serialize;

/// The balance as it is told
#[derive(Debug, Serialize)]
pub struct Balance {
    /// The machine it was reckoned for
    pub machine: String,
    /// Expected number of causes present on a machine
    pub expected_causes: f64,
    /// Share of machines with none
    pub none_share: f64,
    /// Sound machines drawn
    pub sound_drawn: u32,
    /// Those on which a cause came out over 50 %
    pub sound_blamed: u32,
    /// Causes blamed on them, the one blamed most often first
    pub blamed_causes: Vec<Blamed>,
    /// Those too entangled to be weighed exactly
    pub too_entangled: u32,
    /// Symptoms with the share of places that show them
    pub symptoms: Vec<Shown>,
}

/// A cause blamed on sound machines
#[derive(Debug, Serialize)]
pub struct Blamed {
    /// What it is
    #[serde(flatten)]
    pub term: Term,
    /// On how many of the machines drawn
    pub machines: u32,
}

/// A symptom with how often it shows
#[derive(Debug, Serialize)]
pub struct Shown {
    /// What it is
    #[serde(flatten)]
    pub term: Term,
    /// What its places are: machines, sides, or parts in the plural
    pub of: String,
    /// Share of them that show it in any grade but the normal one
    pub share: f64,
    /// The same as it is seen in practice, where the rules say so
    pub seen: Option<f64>,
}

/// The balance with names
pub fn balance(model: &Model, machine: String, balance: &balance::Balance) -> Balance {
    let symptoms = balance.shown.iter().map(|(id, share)| {
        let common = &model[*id].effect.common;
        Shown {
            term: model.term(*id),
            of: model.noun(common.extent),
            share: *share,
            seen: model[*id].seen.map(|(seen, _)| seen),
        }
    });
    Balance {
        machine,
        expected_causes: balance.expected_causes,
        none_share: balance.none,
        sound_drawn: balance.drawn,
        sound_blamed: balance.blamed,
        blamed_causes: balance
            .blamed_causes
            .iter()
            .map(|(id, machines)| Blamed { term: model.term(*id), machines: *machines })
            .collect(),
        too_entangled: balance.too_wide,
        symptoms: symptoms.collect(),
    }
}

/// A warning for each symptom that the rules show far more or far less often than is seen in practice
pub fn doubts(model: &Model, balance: &balance::Balance) -> Problems {
    let mut problems = Problems::default();
    for (id, implied) in &balance.shown {
        let symptom = &model[*id];
        if let Some((seen, at)) = symptom.seen.filter(|(seen, _)| balance::is_off(*implied, *seen)) {
            let common = &symptom.effect.common;
            let (of, name) = (model.noun(common.extent), &common.name);
            let message = format!(
                "by the rules {} of {of} show `{name}`, in practice {}",
                percent(*implied),
                percent(seen)
            );
            problems.push(
                Problem::new(Code::SharesOff, at, message)
                    .help("one of these is off: the chances of its causes, its `with` and `without` lines, or this figure"),
            );
        }
    }
    problems
}

/// The balance in words
pub fn text(balance: &Balance) -> Prose {
    let mut prose = Prose::new();
    prose.say(0, &format!("Reckoned for {}.", balance.machine));
    prose.say(0, &format!(
        "On a machine of which nothing is seen yet these rules expect {} causes; {} of machines have none.",
        figure(balance.expected_causes),
        percent(balance.none_share)
    ));
    prose.say(0, &format!(
        "Of {} sound machines drawn, with everything looked at and noted, {} had a cause blamed at over 50 %{}.",
        balance.sound_drawn,
        balance.sound_blamed,
        match balance.too_entangled {
            0 => String::new(),
            number => format!("; {number} could not be weighed exactly"),
        }
    ));
    for blamed in &balance.blamed_causes {
        prose.say(2, &format!("{} times: {} ({})", blamed.machines, blamed.term.label, blamed.term.name));
    }
    prose.heading("How often each symptom shows, by these rules");
    for shown in &balance.symptoms {
        let seen = shown.seen.map_or_else(String::new, |seen| format!(", in practice {}", percent(seen)));
        prose.say(
            2,
            &format!(
                "{} of {}{seen}: {} ({})",
                percent(shown.share),
                shown.of,
                shown.term.label,
                shown.term.name
            ),
        );
    }
    prose
}
