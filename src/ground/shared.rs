//! What the places of one machine have in common: on the share of machines that a block names, what shows without any
//! cause is one draw for all of them, and else each place draws for itself.
//!
//! So a place shows it as often as ever, and the same ordinary sign left and right is no second witness of a rare cause of the
//! whole machine: with a background `q`, a strength `s` and all of it shared the ratio of two signs falls from `s²/q²` to `s²/q`.

use crate::model::{Effect, Extent};
use crate::network::{Law, NodeId, Path};
use crate::place::Place;

/// The draw that places have in common
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Draw {
    /// On what share of machines it counts, from 0 to 1
    share: f64,
    /// How often it comes to each state of the block
    row: Vec<f64>,
}

impl Draw {
    /// The draw of places with these backgrounds; none where there is nothing to share
    ///
    /// A background in which nothing shows takes no part, as where a gate is shut. Where the others differ, as those of an old
    /// and of a young side, they share the least of them.
    pub(super) fn of<'r>(share: f64, backgrounds: impl Iterator<Item = &'r [f64]>) -> Option<Draw> {
        let rows: Vec<&[f64]> =
            backgrounds.filter(|row| row.iter().skip(1).any(|share| *share > 0.0)).collect();
        let mut least = rows.first()?.to_vec();
        for row in &rows {
            least.iter_mut().zip(*row).for_each(|(least, share)| *least = least.min(*share));
        }
        let abnormal: f64 = least.iter().skip(1).sum();
        let normal = 1.0 - abnormal;
        *least.first_mut()? = normal;
        let room = rows.iter().filter_map(|row| Some(row.first()? / normal));
        let share = room.fold(share, f64::min);
        (abnormal > 0.0 && share > 0.0).then_some(Draw { share, row: least })
    }

    /// The law of its node: that each place draws for itself, then every state that all of them come to
    pub(super) fn law(&self) -> Law {
        let rows = std::iter::once(1.0 - self.share).chain(self.row.iter().map(|chance| chance * self.share));
        Law::Table { parents: Vec::new(), rows: rows.collect() }
    }

    /// A place's own background with this draw for its first parent, the others running faster
    pub(super) fn beneath(&self, node: NodeId, own: Path, states: usize) -> Path {
        let mut rows = Vec::new();
        for row in own.rows.chunks(states) {
            if self.is_of(row) { rows.extend(self.rest(row)) } else { rows.extend(row) }
        }
        for state in 0..states {
            for row in own.rows.chunks(states) {
                let drawn = |other: usize| if other == state { 1.0 } else { 0.0 };
                if self.is_of(row) { rows.extend((0..states).map(drawn)) } else { rows.extend(row) }
            }
        }
        Path { parents: std::iter::once(node).chain(own.parents).collect(), rows }
    }

    /// Whether a background has this draw in it
    fn is_of(&self, row: &[f64]) -> bool {
        row.iter().zip(&self.row).skip(1).all(|(all, common)| all >= common)
    }

    /// What a place draws for itself, so that with the draw it comes to its whole background
    fn rest(&self, row: &[f64]) -> Vec<f64> {
        if self.share >= 1.0 {
            return row.to_vec();
        }
        let left: Vec<f64> =
            row.iter().zip(&self.row).map(|(all, common)| (all - self.share * common).max(0.0)).collect();
        let sum: f64 = left.iter().sum();
        left.into_iter().map(|share| share / sum).collect()
    }
}

/// The group that a place goes with: left and right of a machine, or the parts of one row
pub(super) fn group_of(effect: &Effect, place: &Place) -> Option<Place> {
    match effect.common.extent {
        Extent::Machine => None,
        Extent::Side => Some(Place::Machine),
        Extent::Each(_) => place.side().map(Place::Side),
    }
}
