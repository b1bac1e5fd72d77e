//! How much a cause's place hangs on the figures of the rules: strengths that would change the order, and draws around them.
//!
//! A cause stands among those that could have brought its signs about: its *field*. P(cause, findings) is linear in a strength
//! that counts at one place of the machine, and its slope comes out of the circuit (`infer::slopes`), so that the strength at
//! which two causes change places is had exactly (Chan and Darwiche 2002, "When do numbers really matter?", Journal of
//! Artificial Intelligence Research 17). One that counts at several places is searched. Either is worked out once more with
//! the strength moved before it is told.
//!
//! A cause is held against those that could have brought the same abnormal findings about, not against all: two causes of
//! different signs may both be certain, and which of them is ahead by a hair says nothing. Its other places are no rivals
//! either.

mod crossing;
mod draws;
mod field;
pub mod halving;
pub mod movable;
pub mod reweighing;
mod scale;
mod strength;

use crate::ground::Ground;
use crate::infer::{Limits, TooWide};
use crate::model::Model;
use crate::network::NodeId;
use reweighing::Reweighing;

pub use crossing::Crossing;
pub use draws::{Draws, Effort};
pub use scale::one_step;
pub use strength::{Block, Line, Strength};

/// How a cause stands when the figures of the rules are moved
#[derive(Clone, Debug)]
pub struct Robust {
    /// The cause
    pub cause: NodeId,
    /// Other causes that could have brought the same abnormal findings about, likeliest first
    pub field: Vec<NodeId>,
    /// The cause is the likeliest of its field
    pub leads: bool,
    /// Strengths each of which alone would give or take the lead within one step of the scale, the least move first
    pub crossings: Vec<Crossing>,
    /// The cause under strengths drawn around their values
    pub draws: Draws,
}

/// How a cause stands when the figures of the rules are moved
///
/// # Errors
/// [`TooWide`] when the findings couple too much to be weighed hundreds of times.
pub(super) fn robust(
    model: &Model,
    ground: &Ground,
    cause: NodeId,
    limits: &Limits,
    effort: &Effort,
) -> Result<Robust, TooWide> {
    let mut reweighing = Reweighing::new(ground, ground.causes().map(|(_, _, node)| node).collect(), limits)?;
    let field = field::field(ground, &mut reweighing, cause)?;
    let crossings = crossing::crossings(model, &mut reweighing, &field)?;
    let draws = draws::draws(model, &mut reweighing, &field, effort)?;
    Ok(Robust { cause, leads: field.leads(), field: field.others, crossings, draws })
}
