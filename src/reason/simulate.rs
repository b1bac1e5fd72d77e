//! Machines drawn from the rules: what is given of one, what is so on it, and what a walk round it shows.
//!
//! Facts, causes, conditions and symptoms are drawn by the shares of the rules, parents first. What the rules say
//! nothing of is our own invention: hours, sizes, how much is given, and which checks are done.
//!
//! A machine drawn has every fact, and its case gives some of them: one network serves all draws, and what is left open is so by
//! no fault of the machine. A fact that hangs on hours given is reckoned from them just as the reader will, and what that hangs
//! on is given too. A complaint comes first in most walks, so that what is looked at hangs a little on what is wrong, as it does
//! in practice. Machine number k of a seed draws from a stream of its own.

mod machine;
mod walk;

use crate::infer::draw::Dice;
use crate::machine::{Machine, Turned};
use crate::model::{CauseId, CheckId, FactId, Model, PartId, StateId, SymptomId};
use crate::place::{Place, Side};
use std::collections::BTreeMap;

pub use walk::noted;

/// A machine drawn, and one visit to it
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawn {
    /// What is so: hours, size and counts, parts as far as they are given, and every fact
    pub machine: Machine,
    /// Facts that are given, in the order of drawing; the others are left open, or reckoned from what is given of parts
    pub facts: Vec<FactDrawn>,
    /// Parts whose hours are given
    pub parts: Vec<PartDrawn>,
    /// States that the machine was in, so that every check done counts
    pub states: Vec<StateId>,
    /// Checks done, of the whole machine or of all of a side
    pub looked: Vec<(CheckId, Place)>,
    /// Grades noted: all that are not normal, and normal ones where a look alone does not say so
    pub found: Vec<(SymptomId, Place, usize)>,
    /// State of every symptom that is not normal, whether anybody looks there or not
    pub shows: BTreeMap<(SymptomId, Place), usize>,
    /// Causes that are there, each with its form, from 1
    pub present: Vec<(CauseId, Place, usize)>,
    /// Causes that are not there, though they could have brought about something noted; empty on a sound machine
    pub absent: Vec<(CauseId, Place)>,
}

/// A fact with its choice
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub struct FactDrawn {
    /// The fact
    pub fact: FactId,
    /// The side; none for a fact of the whole machine
    pub side: Option<Side>,
    /// Number of the choice
    pub choice: usize,
}

/// When a part went on and was turned, in hours of the machine
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartDrawn {
    /// The part
    pub part: PartId,
    /// The side; none when the same goes for all of them
    pub side: Option<Side>,
    /// When it went on
    pub on: f64,
    /// Whether it was turned; unknown for a part that cannot be
    pub turned: Turned,
}

/// Machine `number` of a seed: the same whatever other machines are drawn
pub fn simulate(model: &Model, seed: u64, number: u64) -> Drawn {
    let mut dice = Dice::numbered(seed, number);
    let (machine, parts) = machine::machine(model, &mut dice);
    let (machine, facts) = machine::facts(model, machine, &mut dice);
    walk::walk(model, Drawn { machine, facts, parts, ..Drawn::default() }, &mut dice)
}
