//! The balance of a set of rules, as text and for programs.

use super::page::Page;
use super::words::{figure, percent};
use crate::model::{Extent, Model};
use crate::reason::balance;
use serde::Serialize;

/// The balance as it is told
#[derive(Debug, Serialize)]
pub struct Balance {
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
    /// Its name
    pub id: String,
    /// Its label
    pub label: String,
    /// On how many of the machines drawn
    pub machines: u32,
}

/// A symptom with how often it shows
#[derive(Debug, Serialize)]
pub struct Shown {
    /// Its name
    pub id: String,
    /// Its label
    pub label: String,
    /// What its places are: machines, sides, or parts in the plural
    pub of: String,
    /// Share of them that show it in any grade but the normal one
    pub share: f64,
}

/// The balance with names
pub fn balance(model: &Model, balance: &balance::Balance) -> Balance {
    let symptoms = balance.shown.iter().map(|(id, share)| {
        let common = &model[*id].effect.common;
        let of = match common.extent {
            Extent::Machine => "machines".to_owned(),
            Extent::Side => "sides".to_owned(),
            Extent::Each(part) => model[part].plural(),
        };
        Shown { id: common.name.clone(), label: common.label.clone(), of, share: *share }
    });
    Balance {
        expected_causes: balance.expected_causes,
        none_share: balance.none,
        sound_drawn: balance.drawn,
        sound_blamed: balance.blamed,
        blamed_causes: balance
            .blamed_causes
            .iter()
            .map(|(id, machines)| {
                let common = &model[*id].common;
                Blamed { id: common.name.clone(), label: common.label.clone(), machines: *machines }
            })
            .collect(),
        too_entangled: balance.too_wide,
        symptoms: symptoms.collect(),
    }
}

/// The balance in words
pub fn text(balance: &Balance, width: usize) -> String {
    let mut page = Page::new(width);
    page.item("", &format!(
        "On a machine of which nothing is seen yet these rules expect {} causes; {} of machines have none.",
        figure(balance.expected_causes),
        percent(balance.none_share)
    ));
    page.item("", &format!(
        "Of {} sound machines drawn, with everything looked at and noted, {} had a cause blamed at over 50 %{}.",
        balance.sound_drawn,
        balance.sound_blamed,
        match balance.too_entangled {
            0 => String::new(),
            number => format!("; {number} could not be weighed exactly"),
        }
    ));
    for blamed in &balance.blamed_causes {
        page.item("  ", &format!("{} times: {} ({})", blamed.machines, blamed.label, blamed.id));
    }
    page.heading("HOW OFTEN EACH SYMPTOM SHOWS, BY THESE RULES");
    for shown in &balance.symptoms {
        page.item("  ", &format!("{} of {}: {} ({})", percent(shown.share), shown.of, shown.label, shown.id));
    }
    page.finish()
}
