//! The field of a cause: the rivals it stands against.
//!
//! A rival is a cause that could have brought about some of the abnormal findings that this cause could have brought about. The
//! same cause at another place is no rival.

use super::reweighing::Reweighing;
use crate::ground::{Ground, Origin};
use crate::infer::TooWide;
use crate::invariant::Hold;
use crate::network::NodeId;
use std::collections::BTreeSet;

/// Most rivals that are followed; one so far behind that eight stand before it does not come first within a step
const MOST_RIVALS: usize = 8;

/// A cause and its rivals, with their probabilities under the strengths as they are
pub(super) struct Field {
    pub(super) cause: NodeId,
    pub(super) probability: f64,
    /// Rivals, likeliest first
    pub(super) others: Vec<NodeId>,
    /// Their probabilities
    pub(super) against: Vec<f64>,
    /// Number of the cause among all, and those of its rivals
    pub(super) number: usize,
    pub(super) numbers: Vec<usize>,
}

impl Field {
    /// Whether the cause is as likely as any of its rivals
    pub(super) fn leads(&self) -> bool {
        self.against.first().is_none_or(|first| self.probability >= *first)
    }

    /// How many of the rivals, likeliest first, it can change places with: any of them where it leads, for the first to pass it
    /// takes the lead; else only the one that leads, for the lead is what is asked about
    pub(super) fn compared(&self) -> usize {
        if self.leads() { self.others.len() } else { self.others.len().min(1) }
    }

    /// How much more probable the cause is than the likeliest rival that it is compared with, given the probabilities of all
    /// causes, and which rival that is
    pub(super) fn ahead(&self, all: &[f64]) -> Option<(f64, usize)> {
        let own = of(all, self.number);
        let rivals = self.numbers.iter().take(self.compared()).enumerate();
        let ahead = rivals.map(|(rival, number)| (own - of(all, *number), rival));
        ahead.min_by(|a, b| a.0.total_cmp(&b.0))
    }
}

/// The probability of a cause, by its number among all that are asked about
pub(super) fn of(all: &[f64], number: usize) -> f64 {
    *all.get(number).hold("every cause that is asked about has a probability")
}

/// The field of a cause of the machine
pub(super) fn field(
    ground: &Ground,
    reweighing: &mut Reweighing<'_>,
    cause: NodeId,
) -> Result<Field, TooWide> {
    let all = reweighing.weigh()?;
    let mut rivals = BTreeSet::new();
    for own in ground.observations.iter().filter(|own| own.grade != 0) {
        let above = ground.network.ancestors(&[own.node]);
        if above.binary_search(&cause).is_ok() {
            rivals.extend(above);
        }
    }
    let sort = |node: NodeId| match ground.origin(node) {
        Some(Origin::Cause(id, _)) => Some(*id),
        _ => None,
    };
    let causes = reweighing.causes.iter().enumerate();
    let mut numbers: Vec<usize> = causes
        .filter(|(_, node)| sort(**node) != sort(cause) && rivals.contains(node))
        .map(|(number, _)| number)
        .collect();
    numbers.sort_by(|a, b| of(&all, *b).total_cmp(&of(&all, *a)));
    numbers.truncate(MOST_RIVALS);
    let number = reweighing.causes.iter().position(|node| *node == cause);
    let number = number.hold("all causes of the machine are asked about");
    let node =
        |number: &usize| *reweighing.causes.get(*number).hold("a number of a cause is that of its node");
    Ok(Field {
        cause,
        probability: of(&all, number),
        others: numbers.iter().map(node).collect(),
        against: numbers.iter().map(|number| of(&all, *number)).collect(),
        number,
        numbers,
    })
}
