//! The smallest set of findings that hardly go together: less likely together than apart by a factor, and no cause makes up for it.

use crate::infer::beliefs::Beliefs;
use crate::infer::chosen;
use crate::network::NodeId;
use crate::reason::evidence::Evidence;
use crate::reason::fit::conflict;
use fixedbitset::FixedBitSet;
use std::f64::consts::LOG2_10;

/// Bits of conflict from which findings hardly go together: a tenth as likely as if they had nothing to do with each other
pub const HARDLY: f64 = LOG2_10;
/// Largest sets that are all tried before findings are left out of the whole one by one
const MOST_TRIED: usize = 3;
/// Entries of tables that may be passed in the search, about a quarter of a second's work
const MOST_WORK: usize = 1 << 26;

/// Findings that hardly go together
#[derive(Clone, Debug, PartialEq)]
pub struct Hardly {
    /// Numbers of the observations, in order; without any one of them the rest do not conflict so much
    pub observations: Vec<usize>,
    /// Their own conflict, bits
    pub conflict: f64,
    /// Every smaller set with an abnormal finding was tried, so that none is smaller; else only none of these can be left out
    pub smallest: bool,
}

/// The smallest set with a conflict over [`HARDLY`] that no cause explains, the worst of several; none where there is none, or
/// none was found within the work allowed.
///
/// A cause explains a conflict when its probability, given the set, has grown by as much: what came together is then
/// a rare case and no contradiction (Jensen, Chamberlain, Nordahl and Jensen 1990). Only sets with an abnormal finding are
/// tried, since normal ones hardly ever speak against each other.
pub fn hardly(evidence: &Evidence, abnormal: &FixedBitSet, hidden: &[NodeId]) -> Option<Hardly> {
    let count = evidence.findings();
    let singly: Vec<f64> = (0..count).map(|one| log_evidence(evidence, &[one])).collect();
    let search = Search { evidence, singly, hidden, count };
    let mut allowed = MOST_WORK / search.evidence.size().max(1);
    for size in 2..=MOST_TRIED {
        let sets = sets(count, size, abnormal, allowed)?;
        allowed -= sets.len();
        let mut worst: Option<(f64, Vec<usize>)> = None;
        for set in sets {
            let conflict = search.conflict(&set);
            let is_worse = worst.as_ref().is_none_or(|(most, _)| conflict > *most);
            if conflict > HARDLY && is_worse && !search.is_explained(&set, conflict) {
                worst = Some((conflict, set));
            }
        }
        if let Some((conflict, observations)) = worst {
            return Some(Hardly { observations, conflict, smallest: true });
        }
    }
    search.thinned()
}

/// Sets of some size with an abnormal finding in each, in order; none where there are more than `most`
fn sets(count: usize, size: usize, abnormal: &FixedBitSet, most: usize) -> Option<Vec<Vec<usize>>> {
    let mut all: Vec<Vec<usize>> = vec![Vec::new()];
    for place in 0..size {
        let mut longer = Vec::new();
        for set in &all {
            let seen = set.iter().any(|one| abnormal.contains(*one));
            for next in set.last().map_or(0, |last| last + 1)..count {
                if place + 1 < size || seen || abnormal.contains(next) {
                    longer.push(set.iter().copied().chain([next]).collect());
                }
            }
            if longer.len() > most {
                return None;
            }
        }
        all = longer;
    }
    Some(all)
}

fn log_evidence(evidence: &Evidence, members: &[usize]) -> f64 {
    evidence.log_evidence(&chosen::only(evidence.findings(), members))
}

struct Search<'w, 'h> {
    evidence: &'w Evidence,
    /// Logarithm of the probability of each finding by itself
    singly: Vec<f64>,
    hidden: &'h [NodeId],
    count: usize,
}

impl Search<'_, '_> {
    /// Conflict of some findings, bits
    fn conflict(&self, members: &[usize]) -> f64 {
        let singly: f64 = members.iter().filter_map(|member| self.singly.get(*member)).sum();
        conflict(singly, log_evidence(self.evidence, members))
    }

    /// Whether some cause or condition has grown so much likelier that with it in hand they do not conflict
    fn is_explained(&self, members: &[usize], conflict: f64) -> bool {
        let before = self.evidence.none();
        let after = self.evidence.given(&chosen::only(self.count, members));
        let present = |beliefs: &Beliefs, node: NodeId| {
            beliefs.marginal(node).map(|states| states.iter().skip(1).sum::<f64>())
        };
        let grown = self.hidden.iter().filter_map(|&node| {
            let (before, after) = (present(&before, node)?, present(&after, node)?);
            (before > 0.0 && after > 0.0).then(|| libm::log2(after / before))
        });
        grown.fold(0.0, f64::max) >= conflict
    }

    /// All findings, less each one in turn without which the rest still conflict as much
    fn thinned(&self) -> Option<Hardly> {
        let mut kept: Vec<usize> = (0..self.count).collect();
        if self.conflict(&kept) <= HARDLY {
            return None;
        }
        for number in 0..self.count {
            let fewer: Vec<usize> = kept.iter().copied().filter(|other| *other != number).collect();
            if self.conflict(&fewer) > HARDLY {
                kept = fewer;
            }
        }
        let conflict = self.conflict(&kept);
        let smallest = kept.len() <= MOST_TRIED + 1;
        (!self.is_explained(&kept, conflict)).then_some(Hardly { observations: kept, conflict, smallest })
    }
}
