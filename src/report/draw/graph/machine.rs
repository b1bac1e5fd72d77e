//! The graph of one machine as it was found: a node for each place, with what was seen and what is probable now.

use super::rules::{common, part_of, sort, title};
use super::{Edge, Graph, Node};
use crate::ground::{Ground, How, Observation, Origin};
use crate::invariant::Hold;
use crate::model::{Hidden, Model, PartId};
use crate::network::NodeId;
use crate::place::{Place, Side};
use crate::reason::standing::Block;
use crate::report::words::{capital, percent, plain};
use std::collections::{BTreeMap, BTreeSet};

/// The graph of a machine with what was seen on it, and the probabilities of each node's grades, forms or choices
pub fn of_case(
    model: &Model,
    ground: &Ground,
    shares: &BTreeMap<NodeId, Vec<f64>>,
    title_of_case: &str,
) -> Graph {
    let parts = part_of(model);
    let seen: BTreeMap<NodeId, &Observation> =
        ground.observations.iter().map(|own| (own.node, own)).collect();
    let home = |origin: &Origin, block: Block| (parts.get(&block).copied().flatten(), origin.place().side());
    let drawn = ground.network.nodes().zip(&ground.origins);
    let drawn: Vec<(NodeId, &Origin, Block)> =
        drawn.filter_map(|(node, origin)| Some((node, origin, block(origin)?))).collect();
    let homes: BTreeSet<(Option<PartId>, Option<Side>)> =
        drawn.iter().map(|(_, origin, block)| home(origin, *block)).collect();
    let homes: Vec<(Option<PartId>, Option<Side>)> = homes.into_iter().collect();
    let clusters = homes.iter().map(|(part, side)| match side {
        Some(side) => format!("{}, {}", title(model, *part), side.word()),
        None => title(model, *part),
    });
    let nodes = drawn.iter().map(|&(node, origin, block)| {
        let common = common(model, block);
        let observation = seen.get(&node).copied();
        let mut lines: Vec<String> = Some(capital(&origin.place().to_string()))
            .filter(|_| origin.place() != Place::Machine)
            .into_iter()
            .collect();
        lines.extend(observation.map(|own| observed(model, own)));
        let shares = shares.get(&node).map(Vec::as_slice).unwrap_or_default(); // else: it was not weighed
        lines.extend(probable(model, block, shares).filter(|_| observation.is_none()));
        Node {
            id: format!("{} {}", common.name, origin.place()),
            name: common.name.clone(),
            label: common.label.clone(),
            sort: sort(block),
            cluster: homes.iter().position(|own| *own == home(origin, block)).hold("every node has a home"),
            lines,
            seen: observation.is_some(),
            abnormal: observation.is_some_and(|own| own.grade != 0),
        }
    });
    let nodes = nodes.collect();
    let numbers: BTreeMap<NodeId, usize> = drawn.iter().map(|(node, ..)| *node).zip(0..).collect();
    let edges = drawn.iter().flat_map(|(node, ..)| {
        let from = ground.network.parents(*node).iter();
        from.filter_map(|from| Some(Edge { from: *numbers.get(from)?, to: *numbers.get(node)? }))
    });
    Graph {
        title: title_of_case.to_owned(),
        clusters: clusters.collect(),
        nodes,
        edges: edges.collect::<BTreeSet<_>>().into_iter().collect(),
    }
}

/// What a node stands for in the picture; none for what places have in common, which is no block of the rules
fn block(origin: &Origin) -> Option<Block> {
    Some(match origin {
        Origin::Fact(id, _) => Block::Fact(*id),
        Origin::Cause(id, _) => Block::Hidden(Hidden::Cause(*id)),
        Origin::Condition(id, _) => Block::Hidden(Hidden::Condition(*id)),
        Origin::Symptom(id, _) => Block::Symptom(*id),
        Origin::Shared(..) => return None,
    })
}

/// `SEEN: inboard`
fn observed(model: &Model, own: &Observation) -> String {
    let grade = plain(model[own.symptom].effect.grades.name(own.grade));
    match own.how {
        How::Seen { .. } => format!("SEEN: {grade}"),
        How::Normal(_) => format!("LOOKED AT: {grade}"),
        How::Read { .. } => format!("READ: {grade}"),
    }
}

/// `Probability 94 %`, and the likeliest grade where there are several
fn probable(model: &Model, block: Block, shares: &[f64]) -> Option<String> {
    let names: Vec<String> = match block {
        Block::Fact(id) => model[id].choices.clone(),
        Block::Hidden(Hidden::Cause(id)) => {
            std::iter::once(String::new()).chain(model[id].forms.names()).collect()
        }
        Block::Hidden(Hidden::Condition(id)) => model[id].grades.names.clone(),
        Block::Symptom(id) => model[id].effect.grades.names.clone(),
    };
    let skipped = usize::from(!matches!(block, Block::Fact(_)));
    let best =
        names.iter().zip(shares).skip(skipped).fold(None, |best: Option<(&String, f64)>, (name, share)| {
            if best.is_some_and(|(_, most)| most >= *share) { best } else { Some((name, *share)) }
        });
    let (name, share) = best?;
    let present = 1.0 - shares.first().hold("one of them is the best");
    Some(match (block, name.as_str()) {
        (Block::Fact(_), _) => format!("Not told; likeliest {}: {}", plain(name), percent(share)),
        (_, "yes") => format!("Probability {}", percent(present)),
        _ => format!("Probability {}, likeliest {}", percent(present), plain(name)),
    })
}
