//! How far one error of one reading moves what a plan costs.

use crate::model::subject::{Subject, as_measure};
use crate::units::Unit;
use serde::Serialize;

/// What a plan could cost, were one reading off by one standard error of its gauge
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Swing {
    /// The least that it could cost then, in the money of the plan
    pub lower: f64,
    /// The most
    pub upper: f64,
    /// The reading that makes it dearest; none where none does
    pub dearer: Option<Moved>,
    /// The reading that makes it cheapest; none where none does
    pub cheaper: Option<Moved>,
}

/// A reading that is off, and what the plan costs then
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Moved {
    /// What was read, and where
    #[serde(flatten, serialize_with = "as_measure")]
    pub named: Subject,
    /// What it would have to read, in `unit`
    pub at: f64,
    /// Unit of it
    pub unit: Unit,
    /// What the plan costs then
    pub cost: f64,
}

impl Swing {
    /// Of a plan that costs so much, before any reading is off
    pub fn about(cost: f64) -> Self {
        Swing { lower: cost, upper: cost, dearer: None, cheaper: None }
    }

    /// Takes in what it costs with one reading off
    pub fn take(&mut self, moved: Moved) {
        if moved.cost > self.upper {
            self.upper = moved.cost;
            self.dearer = Some(moved);
        } else if moved.cost < self.lower {
            self.lower = moved.cost;
            self.cheaper = Some(moved);
        }
    }
}
