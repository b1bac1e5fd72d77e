//! What can be put in question: damage that is seen on the machine, not what papers or people say of it.

use super::{Damage, parties};
use crate::ground::{Ground, Origin, find_hidden, find_symptom};
use crate::model::{Hidden, Model, SymptomId};
use crate::place::Place;

/// A symptom that no check shows on the machine itself: a log, a job sheet, what somebody says
pub fn is_hearsay(model: &Model, symptom: SymptomId) -> bool {
    let mut shown = model.checks.iter().filter(|check| check.shows.contains(&symptom)).peekable();
    shown.peek().is_some() && shown.all(|check| check.is_of_records())
}

/// The places that a symptom or condition has on this machine, in their order
pub fn places(model: &Model, ground: &Ground, name: &str) -> Vec<Place> {
    let (symptom, hidden) = (find_symptom(model, name), find_hidden(model, name));
    let is_it = |origin: &&Origin| match origin {
        Origin::Symptom(id, _) => Some(*id) == symptom,
        Origin::Condition(id, _) => Some(Hidden::Condition(*id)) == hidden,
        Origin::Fact(..) | Origin::Cause(..) | Origin::Shared(..) => false,
    };
    ground.origins.iter().filter(is_it).map(Origin::place).collect()
}

/// The first damage found that somebody may ask about: seen at a place of its own, and such that a cause which counts
/// against somebody can have brought it about
pub fn likely(model: &Model, ground: &Ground) -> Option<(String, Place)> {
    let asked = |(number, own): (usize, &crate::ground::Observation)| {
        let damage = Damage { node: own.node, grade: None, observation: Some(number) };
        let counts = || {
            parties(model, ground, std::slice::from_ref(&damage)).iter().any(|party| !party.causes.is_empty())
        };
        let is_damage = own.grade != 0 && own.place != Place::Machine && !is_hearsay(model, own.symptom);
        (is_damage && counts()).then(|| (model[own.symptom].effect.common.name.clone(), own.place.clone()))
    };
    ground.observations.iter().enumerate().find_map(asked)
}
