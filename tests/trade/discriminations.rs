//! What a mechanic tells apart: machines alike but for the signs that turn his mind. All common practice.

mod alignment;
mod chain;
mod drive;
mod joints;
mod rollers;
mod shoes;
mod teeth;
mod tension;

use crate::support::shipped::{Bench, dozer};
use std::collections::BTreeMap;

/// A chance taken for none, so that odds stay finite
const NONE: f64 = 1e-12;

/// Log-odds by which each sign that turns the mind must move it: half a deciban
const TELLS: f64 = 0.05 * std::f64::consts::LN_10;

/// What two mechanics would argue over
struct Dispute<'a> {
    /// What both see
    seen: &'a [&'a str],
    /// What they should think of; any of it will do
    think: &'a [&'a str],
    /// What comes to mind first
    rather: &'a [&'a str],
}

impl Dispute<'_> {
    /// By how much, in log-odds, `think` stands above `rather` when these signs are seen as well
    fn lead(&self, signs: &[&str]) -> f64 {
        let all: Vec<&str> = self.seen.iter().chain(signs).copied().collect();
        let bench = machine(&all);
        log_odds(&bench, self.think) - log_odds(&bench, self.rather)
    }

    /// With the signs that turn the mind `think` stands above `rather`, and further above than with the others; and each of
    /// them has its part in it
    fn turns(&self, turning: &[&str], instead: &[&str]) {
        let (turned, before) = (self.lead(turning), self.lead(instead));
        let said = format!("{:?} rather than {:?}: {turned:.2}, else {before:.2}", self.think, self.rather);
        assert!(turned > 0.0, "not above: {said}");
        assert!(turned > before, "not turned: {said}");
        for idle in 0..turning.len() {
            let others = [&turning[..idle], &turning[idle + 1..]].concat();
            let without = self.lead(&others);
            assert!(
                turned > without + TELLS,
                "`{}` tells nothing: {said}, without it {without:.2}",
                turning[idle]
            );
        }
    }

    /// As [`Dispute::turns`], and with the others `rather` stands above `think`
    fn turns_both_ways(&self, turning: &[&str], instead: &[&str]) {
        self.turns(turning, instead);
        let before = self.lead(instead);
        assert!(before < 0.0, "not back: {:?} rather than {:?}: {before:.2}", self.rather, self.think);
    }
}

/// Of at least one of these; what the facts told rule out has no chance
fn log_odds(bench: &Bench, names: &[&str]) -> f64 {
    let possible: Vec<&str> = names.iter().copied().filter(|name| bench.has(name)).collect();
    let chance = match possible.as_slice() {
        [] => 0.0,
        [one] => bench.chance(one),
        several => bench.any_of(several),
    };
    let chance = chance.clamp(NONE, 1.0 - NONE);
    libm::log(chance / (1.0 - chance))
}

/// A machine with these signs: `fact water: dry`, `part {part: chain, on: 0 h, turned: never}`, `turn_scars yes`,
/// `left teeth_sharp sharp`, `left roller 3 oil_streak yes`; what has a figure is a reading, `left sag_clean 44 mm`
fn machine(signs: &[&str]) -> Bench {
    let (mut facts, mut parts) = (Vec::new(), Vec::new());
    let mut places: BTreeMap<&str, BTreeMap<String, Signs>> = BTreeMap::new();
    for sign in signs {
        let words: Vec<&str> = sign.split(' ').collect();
        let (side, number, told) = match words.as_slice() {
            ["fact", fact @ ..] => {
                facts.push(fact.join(" "));
                continue;
            }
            ["part", part @ ..] => {
                parts.push(part.join(" "));
                continue;
            }
            [side @ ("left" | "right"), "roller", number, told @ ..] => {
                (*side, format!("roller {number}"), told)
            }
            [side @ ("left" | "right"), told @ ..] => (*side, String::new(), told),
            told => ("machine", String::new(), told),
        };
        places.entry(side).or_default().entry(number).or_default().add(told);
    }
    let seen: Vec<String> = places.iter().map(|(side, own)| at_side(side, own)).collect();
    dozer(&facts.join(", "), &parts.join(", "), &seen.join(", "))
}

/// What was found and read at one place, as YAML
#[derive(Default)]
struct Signs {
    found: Vec<String>,
    read: Vec<String>,
}

impl Signs {
    fn add(&mut self, told: &[&str]) {
        let (name, value) = (told[0], told[1..].join(" "));
        let list = if value.starts_with(|sign: char| sign.is_ascii_digit()) {
            &mut self.read
        } else {
            &mut self.found
        };
        list.push(format!("{name}: {value}"));
    }

    fn yaml(&self) -> String {
        format!("found: {{{}}}, read: {{{}}}", self.found.join(", "), self.read.join(", "))
    }
}

fn at_side(side: &str, places: &BTreeMap<String, Signs>) -> String {
    let place = |(number, signs): (&String, &Signs)| {
        if number.is_empty() { signs.yaml() } else { format!("{number}: {{{}}}", signs.yaml()) }
    };
    let own: Vec<String> = places.iter().map(place).collect();
    format!("{side}: {{{}}}", own.join(", "))
}
