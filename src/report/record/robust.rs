//! How much a cause's place hangs on the figures of the rules, as it is told.

use crate::ground::{Ground, Origin};
use crate::model::Model;
use crate::network::NodeId;
use crate::reason::Ranked;
use crate::reason::robust::{self, Draws};
use crate::report::record::diagnosis::Rival;
use crate::report::rules::shown::Figure;
use serde::Serialize;

/// How a cause stands when the figures of the rules are moved
#[derive(Debug, Serialize)]
pub struct Robust {
    /// The cause
    #[serde(flatten)]
    pub cause: Rival,
    /// It is the likeliest of those that could have brought its signs about
    pub leads: bool,
    /// The others of these that it was held against, likeliest first
    pub field: Vec<Rival>,
    /// Figures of the rules each of which alone would change that within one step of the scale, the least move first
    #[serde(rename = "turns")]
    pub crossings: Vec<Crossing>,
    /// The cause under figures drawn around their values
    pub draws: Draws,
}

/// A figure of the rules that would change the order
#[derive(Debug, Serialize)]
pub struct Crossing {
    /// The figure as it is
    #[serde(flatten)]
    pub figure: Figure,
    /// The figure at which the two change places
    pub at: f64,
    /// The other
    pub rival: Rival,
    /// How likely both are then
    pub probability: f64,
    /// At how many places of the machine the figure counts among what was found
    pub places: usize,
}

/// How a cause stands, with names put to it; `all` holds the causes with their probabilities
pub fn robust(model: &Model, ground: &Ground, robust: &robust::Robust, all: &[Ranked]) -> Option<Robust> {
    let named = |node: NodeId| named(model, ground, node, all);
    Some(Robust {
        cause: named(robust.cause)?,
        leads: robust.leads,
        field: robust.field.iter().filter_map(|node| named(*node)).collect(),
        crossings: robust
            .crossings
            .iter()
            .filter_map(|turn| {
                Some(Crossing {
                    figure: Figure::of(model, turn.strength),
                    at: turn.at,
                    rival: named(turn.rival)?,
                    probability: turn.probability,
                    places: turn.places,
                })
            })
            .collect(),
        draws: robust.draws,
    })
}

fn named(model: &Model, ground: &Ground, node: NodeId, all: &[Ranked]) -> Option<Rival> {
    let Some(Origin::Cause(id, place)) = ground.origin(node) else {
        return None;
    };
    Some(Rival {
        named: model.subject(*id, place),
        probability: all.iter().find(|one| one.node == node)?.probability,
    })
}
