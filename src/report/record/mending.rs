//! What is done about a cause or a state, as it is told.

use crate::ground::Ground;
use crate::model::{Hidden, Model};
use crate::place::Place;
use serde::Serialize;

/// What is done about something
#[derive(Clone, Debug, Serialize)]
pub struct Remedy {
    /// Name of the remedy
    pub id: String,
    /// What to do
    pub label: String,
    /// Labour, hours
    pub hours: f64,
    /// Money, in the units of the rules
    #[serde(skip_serializing_if = "Option::is_none")]
    pub costs: Option<f64>,
    /// Due within so many working hours
    #[serde(skip_serializing_if = "Option::is_none")]
    pub within: Option<f64>,
    /// What happens if nothing is done
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left: Option<String>,
    /// What to beware of
    pub cautions: Vec<String>,
}

/// What is done about a cause or condition at a place of this machine
pub fn remedies(model: &Model, ground: &Ground, hidden: Hidden, place: &Place) -> Vec<Remedy> {
    ground
        .remedies(model, hidden, place)
        .map(|remedy| Remedy {
            id: remedy.common.name.clone(),
            label: remedy.common.label.clone(),
            hours: remedy.hours,
            costs: remedy.costs,
            within: remedy.within,
            left: remedy.left.as_ref().map(|(text, _)| text.clone()),
            cautions: remedy.cautions.clone(),
        })
        .collect()
}
