//! The range of a weight: the same findings weighed by rules whose strengths are drawn at random around their values.
//!
//! Only strengths are drawn. The network is built anew for each draw; what a reading says of its grade stays as it is. The word
//! of the scale goes by that end of the range which is nearer to a ratio of 1; what would overturn a weight is judged by the
//! same draws.

use super::odds::Odds;
use super::overturn::taken;
use super::{Asked, Party};
use crate::ground::{self, Ground};
use crate::infer::Limits;
use crate::infer::draw::Dice;
use crate::model::Model;
use crate::reason::strengths::moved;
use crate::reason::{Settings, Weighing};

/// Seed of the draws, so that the same case gives the same range
pub const SEED: u64 = 1;

/// What one draw says of one party, in decibans
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawn {
    /// The likelihood ratio of all findings
    pub decibans: f64,
    /// The same with one finding taken otherwise, for each supposition in its order
    pub supposed: Vec<f64>,
}

/// The weight for each party by draw number `number` of the strengths; none where the findings are too entangled, or cannot
/// occur together by these strengths.
///
/// What was read weighs the same under all strengths, and no strength becomes 0 or 100 %, so that the network of a draw has
/// the nodes of the one at hand.
pub fn draw(
    model: &Model,
    ground: &Ground,
    asked: &[Asked],
    limits: &Limits,
    number: u64,
) -> Option<Vec<Drawn>> {
    let model = moved(model, &mut Dice::numbered(SEED, number));
    let mut drawn = ground.clone();
    drawn.network = ground::empty(&model, ground.machine.clone()).network;
    let settings = Settings { limits: limits.clone(), ..Settings::default() };
    let weighing = Weighing::new(model, drawn).within(settings);
    let weighed = |asked: &Asked| {
        let Asked { party: Party { causes, .. }, supposed } = asked;
        if causes.is_empty() {
            return Some(Drawn::default());
        }
        let mut odds = Odds::new(&weighing, causes.clone()).ok()?;
        let decibans = odds.ratio();
        let list = supposed.iter().flat_map(|own| &own.list);
        let supposed = list
            .map(|own| taken(weighing.model(), weighing.ground(), &mut odds, own.observation, own.change));
        let weighed = Drawn { decibans, supposed: supposed.collect::<Option<_>>()? };
        let finite = decibans.is_finite() && weighed.supposed.iter().all(|own| own.is_finite());
        finite.then_some(weighed)
    };
    asked.iter().map(weighed).collect()
}
