//! The graph of one machine as it was found: a node for each place, with what was seen and what is probable now.

use super::rules::{common, part_of, sort, title};
use super::{Edge, Graph, Node};
use crate::ground::{Ground, How, Observation, Origin, Sharer};
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
    let home = |origin: &Origin| (parts.get(&block(origin)).copied().flatten(), origin.place().side());
    let homes: BTreeSet<(Option<PartId>, Option<Side>)> = ground.origins.iter().map(home).collect();
    let homes: Vec<(Option<PartId>, Option<Side>)> = homes.into_iter().collect();
    let clusters = homes.iter().map(|(part, side)| match side {
        Some(side) => format!("{}, {}", title(model, *part), side.word()),
        None => title(model, *part),
    });
    let nodes = ground.network.nodes().zip(&ground.origins).map(|(node, origin)| {
        let block = block(origin);
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
            cluster: homes.iter().position(|own| *own == home(origin)).hold("every node has a home"),
            lines,
            seen: observation.is_some(),
            abnormal: observation.is_some_and(|own| own.grade != 0),
        }
    });
    let nodes = nodes.collect();
    let edges = ground.network.nodes().flat_map(|to| {
        let from = ground.network.parents(to).iter();
        from.map(move |from| Edge { from: from.index(), to: to.index() })
    });
    Graph {
        title: title_of_case.to_owned(),
        clusters: clusters.collect(),
        nodes,
        edges: edges.collect::<BTreeSet<_>>().into_iter().collect(),
    }
}

fn block(origin: &Origin) -> Block {
    match origin {
        Origin::Fact(id, _) | Origin::Shared(Sharer::Fact(id), _) => Block::Fact(*id),
        Origin::Cause(id, _) => Block::Hidden(Hidden::Cause(*id)),
        Origin::Condition(id, _) | Origin::Shared(Sharer::Condition(id), _) => {
            Block::Hidden(Hidden::Condition(*id))
        }
        Origin::Symptom(id, _) | Origin::Shared(Sharer::Symptom(id), _) => Block::Symptom(*id),
    }
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
