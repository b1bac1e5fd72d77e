//! Distributions of several nodes side by side in one list

use crate::invariant::Hold;

/// Posterior of each of some nodes, in their order
#[derive(Clone, Default, PartialEq, Debug)]
pub struct Posteriors {
    /// End of each one's entries
    ends: Vec<usize>,
    entries: Vec<f64>,
}

impl Posteriors {
    /// None yet, with room for some nodes of two states each
    pub(super) fn for_nodes(nodes: usize) -> Self {
        Posteriors { ends: Vec::with_capacity(nodes), entries: Vec::with_capacity(2 * nodes) }
    }

    /// Adds the posterior of the next node
    pub(super) fn push(&mut self, posterior: impl IntoIterator<Item = f64>) {
        self.entries.extend(posterior);
        self.ends.push(self.entries.len());
    }

    /// Adds a share of every entry of the same nodes' other posteriors
    pub(super) fn add(&mut self, others: &Posteriors, share: f64) {
        if self.ends.is_empty() {
            self.ends.clone_from(&others.ends);
            self.entries.resize(others.entries.len(), 0.0);
        }
        self.entries.iter_mut().zip(&others.entries).for_each(|(own, other)| *own += other * share);
    }

    /// Posterior of each node over its states, adding up to 1
    pub fn iter(&self) -> impl Iterator<Item = &[f64]> {
        let starts = std::iter::once(&0).chain(&self.ends);
        starts
            .zip(&self.ends)
            .map(|(&start, &end)| self.entries.get(start..end).hold("the ends are of these entries"))
    }

    /// Number of nodes
    pub fn len(&self) -> usize {
        self.ends.len()
    }

    /// Whether there are none
    pub fn is_empty(&self) -> bool {
        self.ends.is_empty()
    }
}
