//! The uncertainty run: the inspection weighed under strengths drawn around their values.

use super::field::{Field, of};
use super::reweighing::Reweighing;
use crate::infer::TooWide;
use crate::infer::draw::Dice;
use crate::model::Model;
use crate::reason::strengths::moved;
use serde::Serialize;

/// Entries of tables that may be passed where nobody says how many draws he wants, some seconds' work
const MOST_WORK: usize = 1 << 27;

/// How many draws, and from which seed
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub struct Effort {
    /// Number of draws
    pub draws: usize,
    /// Seed that fixes them; draw number k is the same however many there are
    pub seed: u64,
    /// Fewer are drawn where so many would pass more entries of tables than this
    pub most_work: usize,
}

impl Default for Effort {
    fn default() -> Self {
        Effort { draws: 1000, seed: 1, most_work: MOST_WORK }
    }
}

impl Effort {
    /// So many draws, however long they take
    pub fn of(draws: usize) -> Self {
        Effort { draws, most_work: usize::MAX, ..Effort::default() }
    }
}

/// What a cause was under strengths drawn around their values, as [`moved`] draws them
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Draws {
    /// Number of draws
    pub draws: usize,
    /// More were wanted, but each takes long here
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub cut: bool,
    /// Seed that fixes them
    pub seed: u64,
    /// Share of them in which the cause is the likeliest of its field
    pub leads: f64,
    /// Share of them in which it is the likeliest of all causes
    pub first: f64,
    /// Probability that a twentieth of the draws stay under
    pub low: f64,
    /// Probability that half of them stay under
    pub middle: f64,
    /// Probability that a twentieth go over
    pub high: f64,
}

pub(super) fn draws(
    model: &Model,
    reweighing: &mut Reweighing<'_>,
    field: &Field,
    effort: &Effort,
) -> Result<Draws, TooWide> {
    let bearing = reweighing.bearing.clone();
    let (mut leads, mut first) = (0_usize, 0_usize);
    let mut own = Vec::with_capacity(effort.draws);
    let allowed = effort.draws.min(effort.most_work / reweighing.circuit()?.total().max(1));
    for number in 0..allowed {
        reweighing.take(&moved(model, &mut Dice::numbered(effort.seed, number as u64)), &bearing);
        let all = reweighing.weigh()?;
        let chance = of(&all, field.number);
        leads += usize::from(field.numbers.iter().all(|number| of(&all, *number) <= chance));
        first += usize::from(all.iter().all(|other| *other <= chance));
        own.push(chance);
    }
    own.sort_by(f64::total_cmp);
    let share = |count: usize| count as f64 / own.len().max(1) as f64;
    Ok(Draws {
        draws: own.len(),
        cut: allowed < effort.draws,
        seed: effort.seed,
        leads: share(leads),
        first: share(first),
        low: quantile(&own, 0.05),
        middle: quantile(&own, 0.5),
        high: quantile(&own, 0.95),
    })
}

/// The least value that a share of all does not go over; 0 of none
fn quantile(sorted: &[f64], share: f64) -> f64 {
    let rank = libm::ceil(share * sorted.len() as f64) as usize;
    sorted.get(rank.saturating_sub(1)).copied().unwrap_or(0.0) // else: as said above
}
