//! Where the causes that strip-down showed stand among all causes.

use super::claim::{By, Claim, Claimed};
use super::judge::Answers;
use crate::ground::HiddenAt;
use crate::reason::Ranked;

/// Places that are still among the first
pub const AMONG: usize = 3;

/// Place of each true cause among all causes, from 1 for the likeliest, in the order of the truth; none for a cause that
/// the given facts rule out
pub fn places(claims: &[Claimed], answers: &Answers) -> Vec<Option<usize>> {
    let true_causes = claims.iter().filter(|own| own.by == By::Truth).filter_map(|own| match &own.claim {
        Claim::Above(one, _) => Some(one),
        _ => None,
    });
    let place = |one: &HiddenAt| {
        let is_it = |own: &Ranked| own.hidden == one.hidden && own.place == one.place;
        answers.causes.iter().position(is_it).map(|number| number + 1)
    };
    true_causes.map(place).collect()
}

/// How often a true cause stood first, over many cases
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Cases that have a true cause
    pub cases: usize,
    /// Of these, cases whose likeliest cause is a true one
    pub first: usize,
    /// Of these, cases with a true one among the first [`AMONG`]
    pub among: usize,
}

impl Tally {
    /// Counts a case in by the places of its true causes; one without any changes nothing
    pub fn add(&mut self, places: &[Option<usize>]) {
        // else: it is ruled out, and so behind all
        let Some(best) = places.iter().map(|place| place.unwrap_or(usize::MAX)).min() else { return };
        self.cases += 1;
        self.first += usize::from(best == 1);
        self.among += usize::from(best <= AMONG);
    }
}
