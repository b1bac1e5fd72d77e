//! What to look at next: every check still open, those first that may decide something, by what each would tell for each
//! minute, cautions and order minded.
//!
//! What may decide a cause that the findings speak for goes before what may decide another: who complains of one thing is not
//! sent to look for what is common anyway. What may decide something goes before what tells more bits: bits are counted over
//! every cause alike, so that what rules out a little of many unlikely causes outranks what would bring up a likely one. Where no
//! check decides, enough has been seen, and the answer says so.

pub mod order;
pub mod probes;

use super::evidence::Evidence;
use super::{Ranked, SPOKEN_FOR};
use crate::ground::{Ground, Origin};
use crate::infer::circuit::Scratch;
use crate::infer::information::{Effort, Information, Posteriors, Single, information, information_by};
use crate::infer::{Finding, Limits, TooWide};
use crate::model::{CheckId, FactId, Model, StateId, SymptomId};
use crate::network::NodeId;
use crate::place::{Place, Side};
use std::cmp::Reverse;

/// Bits under which a check tells nothing worth a person's time
pub const WORTHLESS_UNDER: f64 = 0.005;
/// Change of a cause's probability worth telling
const TELLING: f64 = 0.02;
/// Chance under which an outcome is not shown
const RARE: f64 = 0.005;
/// Chance from which an outcome is reckoned with
const RECKONED_WITH: f64 = 0.02;
/// Probabilities at which a cause goes from unlikely to open, to more likely than not, to likely
pub const MARKS: [f64; 3] = [0.1, 0.5, 0.9];

/// A check, or a question about the machine, with what it is worth
#[derive(Clone, Debug)]
pub struct NextCheck {
    /// What to do
    pub what: What,
    /// Where
    pub place: Place,
    /// Expected drop of the causes' entropy, in bits, added up over causes and places (Lindley 1956)
    pub bits: f64,
    /// All joint outcomes were gone through; else the bits are a mean over seeded draws
    pub exact: bool,
    /// Minutes of the check itself
    pub minutes: f64,
    /// What must be done first, and this check's share of its minutes
    pub set_up: Option<SetUp>,
    /// Why it goes before checks that tell more for each minute
    pub first: Option<First>,
    /// What can come out, most telling first
    pub outcomes: Vec<Outcome>,
    /// Chance that all it shows is normal, and what that does to causes; none for a question about a fact
    pub all_normal: Option<(f64, Vec<Shift>)>,
}

/// What to do next
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum What {
    /// A check
    Check(CheckId),
    /// Find out a fact, of the machine or of a side
    Tell(FactId, Option<Side>),
}

/// What brings the machine into the state a check asks for
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetUp {
    /// The check that makes the state
    pub maker: CheckId,
    /// The state
    pub state: StateId,
    /// Share of its minutes that falls on this check
    pub minutes: f64,
}

/// Why a check goes first
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum First {
    /// It may call for stopping the machine
    MayStop,
    /// A later one would spoil it: the state it asks for does not come back
    Passing(StateId),
}

/// One thing that can come out
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// What shows
    pub shows: Shows,
    /// Its chance
    pub chance: f64,
    /// Causes it moves most
    pub shifts: Vec<Shift>,
}

/// What an outcome shows
#[derive(Clone, Debug, PartialEq)]
pub enum Shows {
    /// A grade of a symptom at a place
    Grade(SymptomId, Place, usize),
    /// A choice of a fact
    Choice(FactId, usize),
}

/// A cause moved
#[derive(Clone, Debug, PartialEq)]
pub struct Shift {
    /// The cause
    pub node: NodeId,
    /// Its probability now
    pub from: f64,
    /// Its probability then
    pub to: f64,
}

impl NextCheck {
    /// Minutes with the share of the set-up
    pub fn all_minutes(&self) -> f64 {
        self.minutes + self.set_up.map_or(0.0, |set_up| set_up.minutes)
    }

    /// Whether something may come of it that takes a cause past one of the [`MARKS`], either way; where no check left
    /// does, enough has been seen to go by
    pub fn decides(&self) -> bool {
        self.decides_of(|_| true)
    }

    /// The same of some causes
    fn decides_of(&self, some: impl Fn(NodeId) -> bool) -> bool {
        let single = self.outcomes.iter().map(|outcome| (outcome.chance, &outcome.shifts));
        let normal = self.all_normal.iter().map(|(chance, shifts)| (*chance, shifts));
        let past = |shift: &Shift| {
            some(shift.node) && MARKS.iter().any(|&mark| (shift.from < mark) != (shift.to < mark))
        };
        single.chain(normal).any(|(chance, shifts)| chance >= RECKONED_WITH && shifts.iter().any(past))
    }

    /// Bits for each minute, the set-up counted
    pub fn rate(&self) -> f64 {
        self.bits / self.all_minutes().max(f64::MIN_POSITIVE)
    }
}

/// All checks and questions still open, in the order in which to do them; `causes` are all of them, as they stand
///
/// # Errors
/// [`TooWide`] when the findings alone couple too much.
pub(super) fn next_checks(
    model: &Model,
    ground: &Ground,
    evidence: &Evidence,
    causes: &[Ranked],
    limits: &Limits,
    effort: &Effort,
) -> Result<Vec<NextCheck>, TooWide> {
    let open = probes::open(model, ground);
    let leaves = open.iter().flat_map(|open| open.probes.iter().map(|probe| probe.node)).collect();
    let circuit = evidence.open_to(ground, leaves, limits);
    let found = evidence.found();
    let mut scratch = Scratch::default();
    let mut list = Vec::new();
    for open in open {
        let nodes: Vec<NodeId> = open.probes.iter().map(|probe| probe.node).collect();
        let targets = probes::targets(ground, &nodes);
        let by_weights = circuit.as_ref().and_then(|circuit| {
            information_by(circuit, &ground.network, &nodes, &targets, effort, &mut scratch)
        });
        let worth = match by_weights {
            Some(worth) => worth,
            None => match information(&ground.network, found, &nodes, &targets, limits, effort) {
                Ok(worth) => worth,
                Err(_) => single_best(ground, found, &nodes, &targets, limits, effort)?,
            },
        };
        list.push(valued(model, ground, open, &targets, &worth));
    }
    let spoken_for = causes.iter().filter(|own| own.probability > SPOKEN_FOR * own.prior);
    Ok(order::order(model, ground, &spoken_for.map(|own| own.node).collect(), list))
}

/// Where all probes together couple too much: the worth of the best of them alone, which is no more than all are worth
fn single_best(
    ground: &Ground,
    found: &[Finding],
    nodes: &[NodeId],
    targets: &[NodeId],
    limits: &Limits,
    effort: &Effort,
) -> Result<Information, TooWide> {
    let mut best: Option<Information> = None;
    let mut singles = Vec::new();
    for (number, node) in nodes.iter().enumerate() {
        let one = information(&ground.network, found, &[*node], targets, limits, effort)?;
        singles.extend(one.singles.iter().cloned().map(|single| Single { probe: number, ..single }));
        if best.as_ref().is_none_or(|best| one.bits > best.bits) {
            best = Some(one);
        }
    }
    // else: there is nothing to look at
    let best = best.unwrap_or(Information {
        bits: 0.0,
        exact: false,
        before: Posteriors::default(),
        outcomes: Vec::new(),
        singles: Vec::new(),
    });
    Ok(Information { exact: false, singles, outcomes: Vec::new(), ..best })
}

fn valued(
    model: &Model,
    ground: &Ground,
    open: probes::Open,
    targets: &[NodeId],
    worth: &Information,
) -> NextCheck {
    let shifts = |after: &Posteriors| shifts(ground, targets, &worth.before, after);
    let mut outcomes: Vec<Outcome> = Vec::new();
    for single in &worth.singles {
        let Some(probe) = open.probes.get(single.probe) else { continue };
        let Some(shows) = shown(model, probe, single.state) else { continue };
        let shifts = shifts(&single.targets);
        if single.chance >= RARE && !shifts.is_empty() {
            outcomes.push(Outcome { shows, chance: single.chance, shifts });
        }
    }
    outcomes.sort_by_key(|outcome| Reverse(rounded(telling(outcome))));
    let is_check = matches!(open.what, What::Check(_));
    let normal = worth.outcomes.iter().find(|outcome| outcome.states.iter().all(|state| *state == 0));
    NextCheck {
        what: open.what,
        place: open.place,
        bits: worth.bits,
        exact: worth.exact,
        minutes: open.minutes,
        set_up: None,
        first: None,
        outcomes,
        all_normal: normal.filter(|_| is_check).map(|outcome| (outcome.chance, shifts(&outcome.targets))),
    }
}

/// What a probe's state shows; none for the normal grade, and for a pair of grades on two arms
pub fn shown(model: &Model, probe: &probes::Probe, state: usize) -> Option<Shows> {
    match &probe.origin {
        Origin::Symptom(id, place) => {
            let grades = &model[*id].effect.grades;
            let grade = (1..grades.names.len()).find(|&grade| grades.state(grade) == state)?;
            Some(Shows::Grade(*id, place.clone(), grade))
        }
        Origin::Fact(id, _) => Some(Shows::Choice(*id, state)),
        Origin::Cause(..) | Origin::Condition(..) | Origin::Shared(..) => None,
    }
}

/// Causes whose probability an outcome moves, the one moved most first
fn shifts(ground: &Ground, targets: &[NodeId], before: &Posteriors, after: &Posteriors) -> Vec<Shift> {
    let present = |states: &[f64]| states.iter().skip(1).sum::<f64>();
    let mut shifts: Vec<Shift> = targets
        .iter()
        .zip(before.iter().zip(after.iter()))
        .filter(|(node, _)| matches!(ground.origin(**node), Some(Origin::Cause(..))))
        .map(|(node, (from, to))| Shift { node: *node, from: present(from), to: present(to) })
        .filter(|shift| (shift.to - shift.from).abs() >= TELLING)
        .collect();
    shifts.sort_by_key(|shift| (Reverse(rounded((shift.to - shift.from).abs())), shift.node));
    shifts
}

/// In billionths, so that rounding does not decide between what is the same on both sides
fn rounded(value: f64) -> i64 {
    (value * 1e9).round() as i64
}

fn telling(outcome: &Outcome) -> f64 {
    let moved: f64 = outcome.shifts.iter().map(|shift| (shift.to - shift.from).abs()).sum();
    outcome.chance * moved
}
