//! Names that any program takes: letters, digits and underscores, a letter first, each given out once.

use std::collections::BTreeSet;

/// What the name of an auxiliary node begins with, and no other name does
pub const AUXILIARY: &str = "auxiliary_";
/// What is put before a name that would not begin with a letter, or would look like an auxiliary node's
const PREFIX: &str = "n_";

/// Names given out so far
#[derive(Clone, Debug, Default)]
pub struct Names {
    taken: BTreeSet<String>,
}

impl Names {
    /// A name as near to the true one as can be; a number behind it tells it from an earlier one that came out alike
    pub fn real(&mut self, name: &str) -> String {
        let safe = safe(name);
        let plain =
            safe.starts_with(|first: char| first.is_ascii_alphabetic()) && !safe.starts_with(AUXILIARY);
        self.free(if plain { safe } else { format!("{PREFIX}{safe}") })
    }

    /// The name of an auxiliary node, by its number among those that help the node called `of`
    pub fn auxiliary(&mut self, of: &str, number: usize) -> String {
        self.free(format!("{AUXILIARY}{number}_of_{}", safe(of)))
    }

    fn free(&mut self, wanted: String) -> String {
        let mut name = wanted.clone();
        let mut number = 2_usize;
        while !self.taken.insert(name.clone()) {
            name = format!("{wanted}_{number}");
            number += 1;
        }
        name
    }
}

/// The name with an underscore for whatever is no ASCII letter, digit or underscore
pub fn safe(name: &str) -> String {
    name.chars().map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '_' }).collect()
}
