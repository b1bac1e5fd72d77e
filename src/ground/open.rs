//! The open facts that tests hang on at a place, and every way they may turn out.

use super::record::Origin;
use crate::machine::{Machine, Supposed};
use crate::model::test::Test;
use crate::model::{FactId, Model};
use crate::network::NodeId;
use crate::place::{Place, Side};
use std::collections::BTreeMap;

/// Open facts on which tests hang at a place, with their nodes and numbers of choices
pub(super) struct Open {
    keys: Vec<(FactId, Option<Side>)>,
    pub(super) nodes: Vec<NodeId>,
    sizes: Vec<usize>,
}

impl Open {
    /// The open facts of some tests
    pub(super) fn of<'t>(
        model: &Model,
        machine: &Machine,
        nodes: &BTreeMap<Origin, NodeId>,
        tests: impl IntoIterator<Item = &'t Test>,
        place: &Place,
    ) -> Open {
        let mut open = Open { keys: Vec::new(), nodes: Vec::new(), sizes: Vec::new() };
        for fact in tests.into_iter().flat_map(Test::facts) {
            let key = Machine::key(model, fact, place);
            if !machine.is_open(&key) || open.keys.contains(&key) {
                continue;
            }
            if let Some(node) = nodes.get(&Origin::Fact(key.0, key.1)) {
                open.keys.push(key);
                open.nodes.push(*node);
                open.sizes.push(model[fact].choices.len());
            }
        }
        open
    }

    /// Every combination of choices, the last fact running fastest
    pub(super) fn combinations(&self) -> Vec<Supposed> {
        let mut all = vec![Supposed::new()];
        for (key, &size) in self.keys.iter().zip(&self.sizes) {
            all = all
                .into_iter()
                .flat_map(|supposed| {
                    (0..size).map(move |choice| {
                        let mut next = supposed.clone();
                        next.insert(*key, choice);
                        next
                    })
                })
                .collect();
        }
        all
    }
}
