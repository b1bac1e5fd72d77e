//! The machine drawn: hours, size, numbers of parts, hours on parts, and facts in the order in which they hang together.

use super::{FactDrawn, PartDrawn};
use crate::ground::reckoned;
use crate::infer::draw::Dice;
use crate::machine::{Machine, Service, Supposed, Turned};
use crate::model::{Extent, FactId, Model, PartId};
use crate::place::{Place, Side};
use std::collections::BTreeMap;

/// Hours are given in steps of this many
const STEP: f64 = 10.0;
/// Least hours on the meter, and how many steps more there can be: young machines to worn-out ones, up to 12,000 h
const METER: (f64, usize) = (300.0, 1170);
/// How often the meter can be read, and how often the size class is given
const METER_READ: f64 = 0.95;
const SIZE_GIVEN: f64 = 0.9;
/// How often the hours of a part are given, and how often of each side for itself
const PART_GIVEN: f64 = 0.5;
const BY_SIDES: f64 = 0.2;
/// How often a part so given is the first on the machine, and how often one that can be turned has been
const FIRST_FITTED: f64 = 0.5;
const TURNED: f64 = 0.3;
/// Least share of the facts that is given; the share itself is drawn for each machine
const LEAST_GIVEN: f64 = 0.4;

/// Hours, size, counts and hours on parts, with what is given of the parts
pub(super) fn machine(model: &Model, dice: &mut Dice) -> (Machine, Vec<PartDrawn>) {
    let hours = dice.comes(METER_READ).then(|| METER.0 + STEP * dice.below(METER.1) as f64);
    let size = dice.comes(SIZE_GIVEN).then(|| dice.below(model.sizes.len()));
    let size = size.and_then(|number| model.sizes.keys().nth(number).cloned());
    let mut machine = Machine { hours, size, ..Machine::default() };
    for (number, part) in model.parts.iter().enumerate() {
        if let Some((least, most)) = part.taken() {
            let more = dice.below((most - least) as usize + 1) as u32;
            machine.counts.insert(PartId(number), least + more);
        }
    }
    let parts = parts(model, &machine, dice);
    for drawn in &parts {
        fit(model, drawn, &mut machine);
    }
    (machine, parts)
}

/// What is given of the parts whose hours or turns some fact is reckoned from
fn parts(model: &Model, machine: &Machine, dice: &mut Dice) -> Vec<PartDrawn> {
    let Some(meter) = machine.hours else {
        return Vec::new();
    };
    let mut turnable: BTreeMap<PartId, bool> = BTreeMap::new();
    for (formula, _) in model.facts.iter().filter_map(|fact| fact.derived.as_ref()) {
        for (part, turned) in formula.served() {
            *turnable.entry(part).or_default() |= turned;
        }
    }
    let mut parts = Vec::new();
    for (part, turnable) in turnable {
        if !dice.comes(PART_GIVEN) {
            continue;
        }
        let sided = model[part].numbered.is_some() || model[part].common.extent != Extent::Machine;
        let sides = if sided && dice.comes(BY_SIDES) { Side::BOTH.map(Some).to_vec() } else { vec![None] };
        for side in sides {
            let on = if dice.comes(FIRST_FITTED) { 0.0 } else { between(0.0, meter, dice) };
            let turned = match turnable {
                true if dice.comes(TURNED) => Turned::Since(meter - between(on, meter, dice)),
                true => Turned::Never,
                false => Turned::Unknown,
            };
            parts.push(PartDrawn { part, side, on, turned });
        }
    }
    parts
}

/// Hours from one figure up to another, in whole steps from the first
fn between(least: f64, most: f64, dice: &mut Dice) -> f64 {
    least + STEP * dice.below(((most - least) / STEP) as usize + 1) as f64
}

/// Notes how long a part has run, at each of its places
fn fit(model: &Model, drawn: &PartDrawn, machine: &mut Machine) {
    let Some(meter) = machine.hours else {
        return;
    };
    let part = &model[drawn.part];
    let extent = part.numbered.map_or(part.common.extent, |_| Extent::Each(drawn.part));
    for place in machine.places(model, extent) {
        if drawn.side.is_none() || place.side() == drawn.side {
            let service = Service { hours: Some(meter - drawn.on), turned: drawn.turned };
            machine.service.insert((drawn.part, place), service);
        }
    }
}

/// The machine with a choice for every fact, and the facts given of it
///
/// A fact that can be reckoned from the hours given is so reckoned, as it is when the case is read, and what that hangs on
/// is given; every other is drawn by the shares of the rules, given those before it.
pub(super) fn facts(model: &Model, machine: Machine, dice: &mut Dice) -> (Machine, Vec<FactDrawn>) {
    let mut facts = Facts { model, given: machine.clone(), whole: machine, drawn: Vec::new() };
    let share = LEAST_GIVEN + (1.0 - LEAST_GIVEN) * dice.unit();
    for &fact in &model.fact_order {
        let tells = dice.comes(share);
        for place in facts.whole.places(model, model[fact].common.extent) {
            facts.draw(fact, &place, tells, dice);
        }
    }
    facts.set_right();
    (facts.whole, facts.drawn)
}

/// The facts of a machine while they are drawn
struct Facts<'m> {
    model: &'m Model,
    /// The machine as its case gives it
    given: Machine,
    /// The machine as it is
    whole: Machine,
    drawn: Vec<FactDrawn>,
}

impl Facts<'_> {
    fn draw(&mut self, fact: FactId, place: &Place, tells: bool, dice: &mut Dice) {
        let key = Machine::key(self.model, fact, place);
        if self.whole.facts.contains_key(&key) {
            return;
        }
        if let Some(choice) = self.reckoned(fact, place) {
            self.given.facts.insert(key, choice);
            self.whole.facts.insert(key, choice);
            return;
        }
        let lines = self.model[fact].shares.iter().map(|(test, shares)| (test, shares));
        let Ok(Some(shares)) = self.whole.first(self.model, lines, place, &Supposed::new()) else {
            return;
        };
        let model = self.model;
        let other = place.side().and_then(|side| self.whole.facts.get(&(fact, Some(side.other()))));
        let choice = match other {
            Some(&other) if model[fact].shared > 0.0 && dice.comes(model[fact].shared) => other,
            _ => dice.pick(shares),
        };
        self.whole.facts.insert(key, choice);
        if tells {
            self.tell(key);
        }
    }

    /// The choice that the hours make, once what it hangs on is given too
    fn reckoned(&mut self, fact: FactId, place: &Place) -> Option<usize> {
        loop {
            let hangs = match reckoned(self.model, &self.given, fact, place) {
                Ok(choice) => return choice,
                Err(hangs) => hangs,
            };
            let known = hangs.iter().all(|key| self.whole.facts.contains_key(key));
            if !known || hangs.is_empty() {
                return None;
            }
            hangs.into_iter().for_each(|key| self.tell(key));
        }
    }

    fn tell(&mut self, key: (FactId, Option<Side>)) {
        if let Some(&choice) = self.whole.facts.get(&key)
            && self.given.facts.insert(key, choice).is_none()
        {
            self.drawn.push(FactDrawn { fact: key.0, side: key.1, choice });
        }
    }

    /// Tells the facts drawn that would be reckoned otherwise once all that is given is known
    fn set_right(&mut self) {
        for &fact in &self.model.fact_order {
            for place in self.whole.places(self.model, self.model[fact].common.extent) {
                let key = Machine::key(self.model, fact, &place);
                let Ok(Some(otherwise)) = reckoned(self.model, &self.given, fact, &place) else {
                    continue;
                };
                if self.whole.facts.get(&key) == Some(&otherwise) {
                    self.given.facts.insert(key, otherwise);
                } else {
                    self.tell(key);
                }
            }
        }
    }
}
