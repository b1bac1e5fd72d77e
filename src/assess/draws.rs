//! How far a weight hangs on the strengths of the rules: the same findings weighed by rules whose strengths are drawn anew.

use super::Party;
use super::odds::Odds;
use crate::ground::{self, Ground};
use crate::infer::Limits;
use crate::infer::draw::Dice;
use crate::infer::engine::Engine;
use crate::model::Model;
use crate::reason::strengths::moved;
use std::sync::Arc;

/// Seed of the draws, so that the same case gives the same range
pub const SEED: u64 = 1;

/// Likelihood ratio in decibans for each party, by draw number `number` of the strengths; none where the findings are too
/// entangled, or cannot occur together by these strengths.
///
/// What was read weighs the same under all strengths, and no strength becomes 0 or 100 %, so that the network of a draw has
/// the nodes of the one at hand.
pub fn draw(
    model: &Model,
    ground: &Ground,
    parties: &[Party],
    limits: &Limits,
    number: u64,
) -> Option<Vec<f64>> {
    let model = moved(model, &mut Dice::numbered(SEED, number));
    let mut drawn = ground.clone();
    drawn.network = ground::empty(&model, ground.machine.clone()).network;
    let engine = Engine::new(Arc::clone(&drawn.network));
    let ratio = |party: &Party| {
        if party.causes.is_empty() {
            return Some(0.0);
        }
        let ratio = Odds::new(&engine, &drawn, party.causes.clone(), limits).ok()?.ratio();
        ratio.is_finite().then_some(ratio)
    };
    parties.iter().map(ratio).collect()
}
