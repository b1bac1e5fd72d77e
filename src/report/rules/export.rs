//! The network of an inspection for other programs: plain tables, names of states, findings as likelihoods.

pub mod bif;
pub mod names;
pub mod xmlbif;

use crate::ground::{Ground, Observation, Origin};
use crate::model::grades::Grades;
use crate::model::{Forms, Model};
use crate::network::plain::{Made, Plain};
use crate::network::{Law, NodeId};
use serde::Serialize;

/// A network of plain tables with what was found
#[derive(Clone, Debug, Serialize)]
pub struct Export {
    /// What the case is called
    pub case: String,
    /// What its people call the machine
    pub machine: String,
    /// Digest of the rules used
    pub rules_digest: String,
    /// Digest of the case file
    pub case_digest: String,
    /// Every node, parents before children
    pub nodes: Vec<Node>,
    /// What was seen and read; independent of one another given the nodes
    pub findings: Vec<Likelihood>,
}

/// A node with its table
#[derive(Clone, Debug, Serialize)]
pub struct Node {
    /// Name of letters, digits and underscores, its own within the network
    pub name: String,
    /// Name in the words of the rules
    pub true_name: String,
    /// `fact`, `cause`, `condition`, `symptom` or `auxiliary`
    pub sort: &'static str,
    /// Name of the block in the rules; of an auxiliary node, that of the node it helps
    pub id: String,
    /// Where
    pub place: String,
    /// Label of the block; of an auxiliary node, what it is for
    pub label: String,
    /// Its states, the normal or absent one first
    pub states: Vec<State>,
    /// Names of its parents
    pub parents: Vec<String>,
    /// P(state | parents): a row for each configuration of the parents, the last parent running fastest, with an entry
    /// for each state
    pub table: Vec<Vec<f64>>,
}

/// A state of a node
#[derive(Clone, Debug, Serialize)]
pub struct State {
    /// Name of letters, digits and underscores, its own within the node
    pub name: String,
    /// Grades, form or choice that show in it, as the rules name them
    pub shows: Vec<String>,
}

/// A finding
#[derive(Clone, Debug, Serialize)]
pub struct Likelihood {
    /// Name of the node
    pub node: String,
    /// Name of the symptom
    pub finding: String,
    /// Where
    pub place: String,
    /// The grade it speaks for most
    pub grade: String,
    /// P(what was observed | state) for each state of the node, on a scale of its own
    pub likelihood: Vec<f64>,
}

/// The network and findings of an inspection in plain tables; `titles` are the names of case and machine, `digests`
/// those of rules and case
pub fn export(
    model: &Model,
    ground: &Ground,
    plain: &Plain,
    titles: (&str, &str),
    digests: (&str, &str),
) -> Export {
    let names = node_names(plain);
    let nodes = plain.network.nodes().zip(&plain.made);
    Export {
        case: titles.0.to_owned(),
        machine: titles.1.to_owned(),
        rules_digest: digests.0.to_owned(),
        case_digest: digests.1.to_owned(),
        nodes: nodes.filter_map(|(id, &made)| node(model, ground, plain, &names, id, made)).collect(),
        findings: ground
            .observations
            .iter()
            .filter_map(|own| finding(model, plain.node(own.node)?, own, &names))
            .collect(),
    }
}

/// Safe names of all nodes, by index
fn node_names(plain: &Plain) -> Vec<String> {
    let mut taken = names::Names::default();
    // Nodes of the rules choose first, so that an auxiliary node never changes the name of one.
    let real = plain.network.nodes().zip(&plain.made).map(|(id, made)| match made {
        Made::Node(_) => Some(taken.real(plain.network.name(id))),
        Made::Auxiliary { .. } => None,
    });
    let real: Vec<Option<String>> = real.collect();
    let numbered = real.into_iter().zip(&plain.made).map(|(name, made)| match (name, made) {
        (Some(name), _) => name,
        (None, Made::Auxiliary { of, number }) => {
            let of = plain.node(*of).map_or("", |of| plain.network.name(of));
            taken.auxiliary(of, *number)
        }
        (None, Made::Node(_)) => String::new(),
    });
    numbered.collect()
}

fn node(
    model: &Model,
    ground: &Ground,
    plain: &Plain,
    names: &[String],
    id: NodeId,
    made: Made,
) -> Option<Node> {
    let (of, auxiliary) = match made {
        Made::Node(of) => (of, false),
        Made::Auxiliary { of, .. } => (of, true),
    };
    let origin = ground.origin(of)?;
    let common = match origin {
        Origin::Fact(id, _) => &model[*id].common,
        Origin::Cause(id, _) => &model[*id].common,
        Origin::Condition(id, _) => &model[*id].common,
        Origin::Symptom(id, _) => &model[*id].effect.common,
        Origin::Shared(id, _) => &id.effect(model).common,
    };
    let label = if auxiliary {
        format!("no node of the rules: joins some of what brings about `{}`", ground.network.name(of))
    } else {
        common.label.clone()
    };
    let (parents, rows) = match plain.network.law(id) {
        Law::Table { parents, rows } => (parents, rows),
        Law::Max { .. } => return None,
    };
    Some(Node {
        name: names.get(id.index())?.clone(),
        true_name: plain.network.name(id).to_owned(),
        sort: if auxiliary { "auxiliary" } else { sort(origin) },
        id: common.name.clone(),
        place: origin.place().to_string(),
        label,
        states: states(model, origin),
        parents: parents.iter().filter_map(|parent| names.get(parent.index()).cloned()).collect(),
        table: rows.chunks(plain.network.states(id)).map(<[f64]>::to_vec).collect(),
    })
}

fn sort(origin: &Origin) -> &'static str {
    match origin {
        Origin::Fact(..) => "fact",
        Origin::Cause(..) => "cause",
        Origin::Condition(..) => "condition",
        Origin::Symptom(..) => "symptom",
        Origin::Shared(..) => "shared",
    }
}

/// States of what a node stands for, in the order of the network
fn states(model: &Model, origin: &Origin) -> Vec<State> {
    let one = |name: &String| vec![name.clone()];
    let shown: Vec<Vec<String>> = match origin {
        Origin::Fact(id, _) => model[*id].choices.iter().map(one).collect(),
        Origin::Cause(id, _) => {
            let forms = match (&model[*id].forms, model[*id].recent) {
                (Forms::Plain, None) => vec!["present".to_owned()],
                _ => model[*id].state_names(),
            };
            std::iter::once(vec!["absent".to_owned()]).chain(forms.iter().map(one)).collect()
        }
        Origin::Condition(id, _) => by_state(&model[*id].grades),
        Origin::Symptom(id, _) => by_state(&model[*id].effect.grades),
        Origin::Shared(id, _) => {
            let common = by_state(&id.effect(model).grades);
            std::iter::once(vec!["each by itself".to_owned()]).chain(common).collect()
        }
    };
    let mut taken = names::Names::default();
    let named = shown
        .into_iter()
        .map(|shows| State { name: taken.real(&shows.join(" and ").replace(' ', "_")), shows });
    named.collect()
}

/// The grades that show in each state
fn by_state(grades: &Grades) -> Vec<Vec<String>> {
    let shown = |state: usize| {
        let named = grades.names.iter().enumerate();
        named.filter(|(grade, _)| grades.shows(*grade, state)).map(|(_, name)| name.clone()).collect()
    };
    (0..grades.states()).map(shown).collect()
}

fn finding(model: &Model, node: NodeId, own: &Observation, names: &[String]) -> Option<Likelihood> {
    let effect = &model[own.symptom].effect;
    Some(Likelihood {
        node: names.get(node.index())?.clone(),
        finding: effect.common.name.clone(),
        place: own.place.to_string(),
        grade: effect.grades.name(own.grade).to_owned(),
        likelihood: own.likelihood.clone(),
    })
}
