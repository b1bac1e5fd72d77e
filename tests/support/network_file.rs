//! Networks and findings in JSON, as reference files keep them and other programs hand them over
//!
//! A network is `{"nodes": [...]}`, every parent before its children. A node has an `id`, its number of `states` (2 when
//! left out), the ids of its `parents` (none when left out), and one of
//!
//! - `prior`: P(state 1) of a node of two states, or one number for each state;
//! - `strengths`, one for each parent, and `leak`: a noisy-OR, P(state 0) = (1 - leak) times the product over the parents
//!   in state 1 of (1 - strength);
//! - `effects`, for each parent one row for each of its states, and `leak`, a row: a noisy-MAX whose grades get worse;
//! - `table`: one row for each configuration of the parents, the last parent fastest.
//!
//! A hard finding is a state, a soft one P(observation | state) for each state, on any scale.

use pinboss::infer::Finding;
use pinboss::network::shape::Shape;
use pinboss::network::{Law, Network, NodeId, Path};
use serde_json::Value;

/// The network of a file
///
/// # Errors
///
/// What is wrong with the first faulty node, by its id.
pub fn network(file: &Value) -> Result<Network, String> {
    let nodes = file.get("nodes").and_then(Value::as_array).ok_or("there is no list `nodes`")?;
    let mut network = Network::new();
    for (place, node) in nodes.iter().enumerate() {
        let id = node.get("id").and_then(Value::as_str).ok_or(format!("node {place} has no `id`"))?;
        add(&mut network, id, node).map_err(|fault| format!("node `{id}`: {fault}"))?;
    }
    Ok(network)
}

/// Findings out of an object from id to state
///
/// # Errors
///
/// The first id or state that is not in the network.
pub fn hard(network: &Network, seen: &Value) -> Result<Vec<Finding>, String> {
    let finding = |(id, state): (&String, &Value)| {
        let node = find(network, id)?;
        let state = state.as_u64().map(|state| state as usize).filter(|state| *state < network.states(node));
        Ok(Finding::state(network, node, state.ok_or(format!("`{id}` has no such state"))?))
    };
    object(seen)?.into_iter().map(finding).collect()
}

/// Findings out of an object from id to likelihoods
///
/// # Errors
///
/// The first id that is not in the network, or the first list that has not one number for each of its states.
pub fn soft(network: &Network, likelihoods: &Value) -> Result<Vec<Finding>, String> {
    let finding = |(id, entries): (&String, &Value)| {
        let node = find(network, id)?;
        let likelihood = numbers(entries).map_err(|fault| format!("`{id}`: {fault}"))?;
        if likelihood.len() != network.states(node) {
            return Err(format!("`{id}` has {} states, not {}", network.states(node), likelihood.len()));
        }
        Ok(Finding { node, likelihood })
    };
    object(likelihoods)?.into_iter().map(finding).collect()
}

fn add(network: &mut Network, id: &str, node: &Value) -> Result<NodeId, String> {
    let states = node.get("states").map_or(Some(2), Value::as_u64).ok_or("`states` is no number")? as usize;
    let law = law(network, node, states)?;
    network.add(id, states, law).map_err(|fault| fault.to_string())
}

fn law(network: &Network, node: &Value, states: usize) -> Result<Law, String> {
    let parents = parents(network, node)?;
    if let Some(prior) = node.get("prior") {
        let rows = match prior.as_f64() {
            Some(present) => vec![1.0 - present, present],
            None => numbers(prior)?,
        };
        return Ok(Law::Table { parents: Vec::new(), rows });
    }
    if let Some(rows) = node.get("table") {
        return Ok(Law::Table { parents, rows: flat(rows)? });
    }
    let leak = node.get("leak").ok_or("none of `prior`, `table` and `leak` is told")?;
    let (contributions, leak) = match (node.get("strengths"), leak.as_f64()) {
        (Some(strengths), Some(leak)) => {
            let row = |strength: f64| vec![1.0, 0.0, 1.0 - strength, strength];
            (numbers(strengths)?.into_iter().map(row).collect(), vec![1.0 - leak, leak])
        }
        _ => {
            let effects = list(node.get("effects").ok_or("neither `strengths` nor `effects` are told")?)?;
            (effects.iter().map(flat).collect::<Result<Vec<_>, _>>()?, numbers(leak)?)
        }
    };
    if contributions.len() != parents.len() {
        return Err(format!("{} contributions of {} parents", contributions.len(), parents.len()));
    }
    let path = |(parent, rows)| Path { parents: vec![parent], rows };
    let leak = Path { parents: Vec::new(), rows: leak };
    let paths = parents.into_iter().zip(contributions).map(path).chain([leak]).collect();
    Ok(Law::Max { shape: Shape::Ladder { grades: states }, paths })
}

fn parents(network: &Network, node: &Value) -> Result<Vec<NodeId>, String> {
    let Some(parents) = node.get("parents") else {
        return Ok(Vec::new());
    };
    list(parents)?.iter().map(|id| find(network, id.as_str().ok_or("a parent is no id")?)).collect()
}

fn find(network: &Network, id: &str) -> Result<NodeId, String> {
    network.find(id).ok_or(format!("there is no node `{id}` so far"))
}

/// Members of an object, none where nothing is told
fn object(value: &Value) -> Result<Vec<(&String, &Value)>, String> {
    if value.is_null() {
        return Ok(Vec::new());
    }
    Ok(value.as_object().ok_or(format!("{value} is no object"))?.iter().collect())
}

fn list(value: &Value) -> Result<&Vec<Value>, String> {
    value.as_array().ok_or(format!("{value} is no list"))
}

fn numbers(value: &Value) -> Result<Vec<f64>, String> {
    list(value)?.iter().map(|number| number.as_f64().ok_or(format!("{number} is no number"))).collect()
}

/// Rows one after another
fn flat(rows: &Value) -> Result<Vec<f64>, String> {
    Ok(list(rows)?.iter().map(numbers).collect::<Result<Vec<_>, _>>()?.concat())
}
