//! What to mind about a measure once it is read, by the ground and the make of the machine.

use super::Readings;
use super::estimate::Evaluator;
use crate::machine::{Answer, Machine, Supposed};
use crate::model::subject::{Term, as_measure};
use crate::model::{MeasureId, Model};
use crate::place::Place;
use serde::Serialize;

/// A line of advice with the places it is given for
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Advice {
    /// The measure it is about
    #[serde(skip)]
    pub measure: MeasureId,
    /// The same with its words
    #[serde(flatten, serialize_with = "as_measure")]
    pub term: Term,
    /// Where that has a figure and the line holds
    pub places: Vec<Place>,
    /// What to mind
    pub text: String,
}

/// All advice on measures that were read, or reckoned from what was, in the order of the rules. A line that hangs on
/// facts not given is left out.
pub fn advice(model: &Model, machine: &Machine, readings: &Readings) -> Vec<Advice> {
    let evaluator = Evaluator { model, machine, readings };
    let mut given = Vec::new();
    for number in 0..model.measures.len() {
        let id = MeasureId(number);
        let common = &model[id].common;
        let mut places = machine.places(model, common.extent);
        places.retain(|place| evaluator.measure(id, place).is_ok());
        for (text, test) in &model[id].advice {
            let holds = |place: &&Place| machine.holds(model, test, place, &Supposed::new()) == Answer::Yes;
            let places: Vec<Place> = places.iter().filter(holds).cloned().collect();
            if !places.is_empty() {
                given.push(Advice { measure: id, term: model.term(id), places, text: text.clone() });
            }
        }
    }
    given
}
