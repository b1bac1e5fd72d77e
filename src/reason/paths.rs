//! How a cause brings a finding about: the conditions between, and the sentences of the rules on the way.

use crate::ground::{Ground, Origin};
use crate::machine::{Answer, Supposed};
use crate::model::{Effect, Line, Model, ParentGrade};
use crate::network::NodeId;
use crate::place::Place;
use std::collections::{BTreeMap, VecDeque};

/// The shortest way from a cause to a finding
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// Conditions between, from the cause on
    pub through: Vec<NodeId>,
    /// Sentences of the rules, from the cause on
    pub because: Vec<String>,
}

/// The shortest way from a hidden node to an observation; none when the node does not bring it about
pub fn way(model: &Model, ground: &Ground, from: NodeId, observation: usize) -> Option<Way> {
    let own = ground.observations.get(observation)?;
    let steps_back = back(ground, own.node, from)?;
    let mut through = Vec::new();
    let mut because = Vec::new();
    let mut child = own.node;
    let mut grade = Some(own.grade).filter(|grade| *grade != 0);
    for parent in steps_back {
        let sentence = sentence(model, ground, parent, child, grade);
        grade = sentence.as_ref().and_then(|(_, parent_grade)| *parent_grade);
        because.extend(sentence.map(|(text, _)| text));
        if parent != from {
            through.push(parent);
        }
        child = parent;
    }
    through.reverse();
    because.reverse();
    because.dedup();
    Some(Way { through, because })
}

/// Nodes from the finding's parent back to the cause, both ends of the way but the finding itself
fn back(ground: &Ground, finding: NodeId, cause: NodeId) -> Option<Vec<NodeId>> {
    let mut came_from: BTreeMap<NodeId, NodeId> = BTreeMap::new();
    let mut queue = VecDeque::from([finding]);
    while let Some(node) = queue.pop_front() {
        for &parent in ground.network.parents(node) {
            if came_from.contains_key(&parent) || matches!(ground.origin(parent), Some(Origin::Fact(..))) {
                continue;
            }
            came_from.insert(parent, node);
            if parent == cause {
                let mut way = vec![cause];
                let mut at = node;
                while at != finding {
                    way.push(at);
                    at = *came_from.get(&at)?;
                }
                way.reverse();
                return Some(way);
            }
            queue.push_back(parent);
        }
    }
    None
}

/// The sentence of the line that leads from a parent to a grade of a child, and the parent's grade that it names
fn sentence(
    model: &Model,
    ground: &Ground,
    parent: NodeId,
    child: NodeId,
    grade: Option<usize>,
) -> Option<(String, Option<usize>)> {
    let effect = effect(model, ground, child)?;
    let place = ground.origin(child)?.place();
    let hidden = ground.origin(parent)?.as_hidden()?;
    let state = grade.map(|grade| effect.grades.state(grade));
    let share = |line: &Line| {
        let effects = line.effects.iter();
        let wanted = effects.filter(|(known, _)| state.is_none_or(|state| state == *known));
        wanted.map(|(_, share)| *share).sum::<f64>()
    };
    let lines = effect.lines.iter().filter(|line| {
        line.parents.iter().any(|known| known.of == hidden) && possible(model, ground, line, &place)
    });
    let best = lines.filter(|line| line.because.is_some()).fold(None, |best: Option<&Line>, line| {
        if best.is_none_or(|best| share(line) > share(best)) { Some(line) } else { best }
    })?;
    let named = best.parents.iter().find(|known| known.of == hidden).map(|known| known.grade);
    let parent_grade = match named {
        Some(ParentGrade::Grade(grade)) => Some(grade),
        _ => None,
    };
    Some((best.because.clone()?, parent_grade))
}

fn possible(model: &Model, ground: &Ground, line: &Line, place: &Place) -> bool {
    let nothing = Supposed::new();
    ground.machine.holds(model, &line.test, place, &nothing) != Answer::No
}

/// The block of a condition's or symptom's node
fn effect<'m>(model: &'m Model, ground: &Ground, node: NodeId) -> Option<&'m Effect> {
    Some(ground.origin(node)?.as_effect()?.effect(model))
}

/// True when a hidden node can bring an observation about
pub fn leads_to(ground: &Ground, from: NodeId, observation: usize) -> bool {
    let own = ground.observations.get(observation);
    own.is_some_and(|own| ground.network.ancestors(&[own.node]).contains(&from) && own.node != from)
}
