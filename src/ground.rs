//! Rules and one inspection to a network with findings, and for every node where it came from.

mod bind;
mod factor;
mod findings;
mod grounded;
mod likelihood;
pub mod mended;
mod misfit;
mod names;
mod near;
mod nodes;
mod open;
mod paths;
mod reading;
mod record;
mod several;
mod shared;
mod sizes;
mod slip;
mod stray;

pub use bind::reckoned;
pub use grounded::{Ground, empty};
pub use likelihood::likelihood;
pub use names::{HiddenAt, find_hidden, find_symptom, hidden_at};
pub use reading::reread;
pub use record::{Clash, EffectId, Held, HeldWhat, How, Misfit, Observation, Origin};
pub use several::Outlier;

use crate::case::Inspection;
use crate::model::Model;
use crate::problem::Problems;

/// The network of a machine with what was found on it.
///
/// Nothing may be computed from it while the problems hold an error.
pub fn ground(model: &Model, inspection: &Inspection) -> (Ground, Problems) {
    let mut problems = Problems::default();
    let machine = bind::bind(model, inspection, &mut problems);
    let mut ground = empty(model, machine);
    findings::find(model, inspection, &mut ground, &mut problems);
    names::check(model, inspection, &ground, &mut problems);
    (ground, problems)
}
