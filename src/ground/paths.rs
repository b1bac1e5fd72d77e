//! The paths of a condition or symptom at one place: one for each set of parents, and the leak.
//!
//! A line of the rules is a path: a table P(contribution | parents) whose parents include the open facts that its tests
//! and gates hang on. So gates, first-line-that-holds and joint lines need no special case in inference.

use super::open::Open;
use super::record::Origin;
use super::shared::{Draw, group_of};
use crate::invariant::Hold;
use crate::machine::{Answer, Machine, Supposed};
use crate::model::grades::{Grades, Shape};
use crate::model::{Effect, Extent, Forms, Hidden, Line, Model, ParentGrade, Reach};
use crate::network;
use crate::network::{Law, NodeId, Path};
use crate::place::{Place, Side};
use std::collections::BTreeMap;

/// One parent of a group of lines, and the arm of its grades that the group looks at
#[derive(Clone, Debug, Eq, Ord, PartialEq, PartialOrd)]
struct Key {
    of: Hidden,
    reach: Reach,
    arm: Arm,
}

/// Which grades of a parent a group of lines looks at
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
enum Arm {
    Whole,
    Low,
    High,
}

/// How much of what shows slowly has come to show of a cause that has been at work only lately: a tenth, by judgement; some
/// 300 hours of the 3,000 in which such wear is plain to see
const GROWN_LATELY: f64 = 0.1;

/// The noisy-MAX law of a block at a place, beneath what it has in common with other places
pub(super) fn law(
    model: &Model,
    machine: &Machine,
    effect: &Effect,
    place: &Place,
    nodes: &BTreeMap<Origin, NodeId>,
    common: Option<(NodeId, &Draw)>,
) -> Law {
    let here = Here { model, machine, effect, place, nodes };
    let background = match common {
        Some((node, draw)) => draw.beneath(node, here.leak(), effect.grades.states()),
        None => here.leak(),
    };
    let mut paths = vec![background];
    for (keys, lines) in here.groups() {
        for instance in here.instances(&keys) {
            paths.push(here.path(&keys, &lines, &instance));
        }
    }
    Law::Max { shape: shape(&effect.grades), paths }
}

/// What the places of a block have in common within a group; none where there is nothing to share
pub(super) fn draw(
    model: &Model,
    machine: &Machine,
    effect: &Effect,
    group: &Place,
    nodes: &BTreeMap<Origin, NodeId>,
) -> Option<Draw> {
    let places = machine.places(model, effect.common.extent).into_iter();
    let own: Vec<Place> = places.filter(|place| group_of(effect, place).as_ref() == Some(group)).collect();
    if effect.shared <= 0.0 || own.len() < 2 {
        return None;
    }
    let leaks: Vec<Path> =
        own.iter().map(|place| Here { model, machine, effect, place, nodes }.leak()).collect();
    Draw::of(effect.shared, leaks.iter().flat_map(|leak| leak.rows.chunks(effect.grades.states())))
}

fn shape(grades: &Grades) -> network::shape::Shape {
    let (low, high) = grades.arms();
    match grades.shape {
        Shape::Ladder => network::shape::Shape::Ladder { grades: high + 1 },
        Shape::Alternatives => network::shape::Shape::Alternatives { alternatives: high.saturating_sub(1) },
        Shape::Arms { .. } => network::shape::Shape::Arms { low, high },
    }
}

/// A block at one of its places
struct Here<'a> {
    model: &'a Model,
    machine: &'a Machine,
    effect: &'a Effect,
    place: &'a Place,
    nodes: &'a BTreeMap<Origin, NodeId>,
}

/// Why it is known which line holds
const SUPPOSED: &str = "each fact that the lines hang on is told or supposed";

impl<'a> Here<'a> {
    /// What shows with none of the block's own causes
    fn leak(&self) -> Path {
        let gate = &self.effect.common.gate;
        let leaks = &self.effect.leaks;
        let tests = leaks.iter().map(|leak| &leak.test).chain([gate]);
        let open = Open::of(self.model, self.machine, self.nodes, tests, self.place);
        let mut rows = Vec::new();
        for supposed in open.combinations() {
            let lines = leaks.iter().map(|leak| (&leak.test, &leak.effects));
            let first = self.machine.first(self.model, lines, self.place, &supposed);
            let effects = first.hold(SUPPOSED).filter(|_| self.open(&supposed));
            rows.extend(self.effect.grades.distribution(effects));
        }
        Path { parents: open.nodes, rows }
    }

    /// Whether the block's gate is open
    fn open(&self, supposed: &Supposed) -> bool {
        let gate = &self.effect.common.gate;
        self.machine.holds(self.model, gate, self.place, supposed) == Answer::Yes
    }

    /// Lines by the parents they look at, in the order in which they first stand
    fn groups(&self) -> Vec<(Vec<Key>, Vec<&'a Line>)> {
        let mut groups: Vec<(Vec<Key>, Vec<&Line>)> = Vec::new();
        for line in &self.effect.lines {
            for keys in self.keys(line) {
                match groups.iter_mut().find(|(known, _)| *known == keys) {
                    Some((_, lines)) => lines.push(line),
                    None => groups.push((keys, vec![line])),
                }
            }
        }
        groups
    }

    /// The groups a line belongs to: one, or one for each arm where it names no grade of a parent with two arms
    fn keys(&self, line: &Line) -> Vec<Vec<Key>> {
        let mut all: Vec<Vec<Key>> = vec![Vec::new()];
        for parent in &line.parents {
            let arms = match (self.low_arm(parent.of), parent.grade) {
                (None, _) => vec![Arm::Whole],
                (Some(low), ParentGrade::Grade(grade)) if grade <= low => vec![Arm::Low],
                (Some(_), ParentGrade::Grade(_)) => vec![Arm::High],
                (Some(_), _) => vec![Arm::Low, Arm::High],
            };
            let extend = |keys: &Vec<Key>| {
                let one = |&arm: &Arm| {
                    let key = Key { of: parent.of, reach: parent.reach, arm };
                    keys.iter().cloned().chain([key]).collect()
                };
                arms.iter().map(one).collect::<Vec<_>>()
            };
            all = all.iter().flat_map(extend).collect();
        }
        all
    }

    /// Number of grades on the low arm of a parent with two arms
    fn low_arm(&self, of: Hidden) -> Option<usize> {
        match of {
            Hidden::Condition(id) => match self.model[id].grades.shape {
                Shape::Arms { low } => Some(low),
                Shape::Ladder | Shape::Alternatives => None,
            },
            Hidden::Cause(_) => None,
        }
    }

    /// The nodes of a group's parents, once for each combination of their places; none where one is not on the machine
    fn instances(&self, keys: &[Key]) -> Vec<Vec<NodeId>> {
        let mut all: Vec<Vec<NodeId>> = vec![Vec::new()];
        for key in keys {
            let nodes: Vec<NodeId> = self
                .parent_places(key)
                .into_iter()
                .filter_map(|place| self.nodes.get(&Origin::hidden(key.of, place)).copied())
                .collect();
            let extend = |known: &Vec<NodeId>| {
                let one = |&node: &NodeId| known.iter().copied().chain([node]).collect();
                nodes.iter().map(one).collect::<Vec<_>>()
            };
            all = all.iter().flat_map(extend).collect();
        }
        all
    }

    fn parent_places(&self, key: &Key) -> Vec<Place> {
        let extent = self.model.common(key.of).extent;
        match (key.reach, extent) {
            (Reach::Each, extent) => {
                let within = |place: &Place| self.place.side().is_none() || place.side() == self.place.side();
                self.machine.places(self.model, extent).into_iter().filter(within).collect()
            }
            (Reach::Here, Extent::Machine) => vec![Place::Machine],
            (Reach::Here, Extent::Side) => self.place.side().map(Place::Side).into_iter().collect(),
            (Reach::Here, Extent::Each(_)) => vec![self.place.clone()],
        }
    }

    /// The path of one group at one combination of parents' places
    fn path(&self, keys: &[Key], lines: &[&Line], instance: &[NodeId]) -> Path {
        let gate = &self.effect.common.gate;
        let tests = lines.iter().map(|line| &line.test).chain([gate]);
        let open = Open::of(self.model, self.machine, self.nodes, tests, self.place);
        let combinations = open.combinations();
        let mut rows = Vec::new();
        for states in self.parent_states(keys) {
            let grades: Vec<usize> =
                keys.iter().zip(&states).map(|(key, &state)| self.grade_on(key, state)).collect();
            for supposed in &combinations {
                let line = self.line(lines, &grades, supposed).filter(|_| self.open(supposed));
                let effects = line.map(|line| self.by_now(line, keys, &states));
                rows.extend(self.effect.grades.distribution(effects.as_ref()));
            }
        }
        Path { parents: instance.iter().copied().chain(open.nodes).collect(), rows }
    }

    /// What a line has brought about by now: of what shows slowly little, where one of its causes is at work only lately
    fn by_now(&self, line: &Line, keys: &[Key], states: &[usize]) -> Vec<(usize, f64)> {
        let lately = |(key, &state): (&Key, &usize)| matches!(key.of, Hidden::Cause(id) if self.model[id].is_recent(state));
        let grown = if line.slowly && keys.iter().zip(states).any(lately) { GROWN_LATELY } else { 1.0 };
        line.effects.iter().map(|&(state, share)| (state, share * grown)).collect()
    }

    /// Every combination of the parents' states, the last parent running fastest
    fn parent_states(&self, keys: &[Key]) -> Vec<Vec<usize>> {
        let mut all: Vec<Vec<usize>> = vec![Vec::new()];
        for key in keys {
            let count = match key.of {
                Hidden::Cause(id) => self.model[id].states(),
                Hidden::Condition(id) => self.model[id].grades.states(),
            };
            let extend = |known: &Vec<usize>| {
                let one = |state: usize| known.iter().copied().chain([state]).collect();
                (0..count).map(one).collect::<Vec<_>>()
            };
            all = all.iter().flat_map(extend).collect();
        }
        all
    }

    /// The grade of a parent's state that a group looks at; 0 is normal or absent
    fn grade_on(&self, key: &Key, state: usize) -> usize {
        match (key.of, key.arm) {
            (Hidden::Cause(id), _) => self.model[id].form(state),
            (_, Arm::Whole) => state,
            (Hidden::Condition(id), arm) => {
                let grades = &self.model[id].grades;
                let (low, high) = grades.arms();
                let (on_low, on_high) = (state / (high + 1), state % (high + 1));
                match arm {
                    Arm::Low => on_low,
                    _ if on_high == 0 => 0,
                    _ => low + on_high,
                }
            }
        }
    }

    /// The line that counts for these grades of the parents: those that name them before those that do not, and the
    /// first of them that holds
    fn line(&self, lines: &[&'a Line], grades: &[usize], supposed: &Supposed) -> Option<&'a Line> {
        if grades.contains(&0) {
            return None;
        }
        let named = |line: &Line| -> Option<usize> {
            let mut named = 0;
            for (parent, &grade) in line.parents.iter().zip(grades) {
                match self.wanted(parent.of, parent.grade) {
                    None => {}
                    Some(wanted) if wanted == grade => named += 1,
                    Some(_) => return None,
                }
            }
            Some(named)
        };
        let most = lines.iter().filter_map(|line| named(line)).max()?;
        let fitting = lines.iter().filter(|line| named(line) == Some(most));
        let tested = fitting.map(|line| (&line.test, *line));
        self.machine.first(self.model, tested, self.place, supposed).hold(SUPPOSED)
    }

    /// The grade a line asks of a parent; none when any but normal will do
    fn wanted(&self, of: Hidden, grade: ParentGrade) -> Option<usize> {
        let form = |side: Option<Side>| {
            let sided = matches!(of, Hidden::Cause(id) if self.model[id].forms == Forms::Sides);
            match side {
                Some(Side::Left) if sided => Some(1),
                Some(Side::Right) if sided => Some(2),
                _ => None,
            }
        };
        match grade {
            ParentGrade::Any => None,
            ParentGrade::Grade(grade) => Some(grade),
            ParentGrade::ThisSide => form(self.place.side()),
            ParentGrade::OtherSide => form(self.place.side().map(Side::other)),
        }
    }
}
