//! Which of the findings count: sets of their places in the list that was compiled.

use fixedbitset::FixedBitSet;

/// All of so many findings
pub fn all(count: usize) -> FixedBitSet {
    let mut all = none(count);
    all.insert_range(..);
    all
}

/// None of so many findings
pub fn none(count: usize) -> FixedBitSet {
    FixedBitSet::with_capacity(count)
}

/// Some of so many findings
pub fn only(count: usize, members: &[usize]) -> FixedBitSet {
    with(&none(count), members)
}

/// All but one of so many findings
pub fn all_but(count: usize, number: usize) -> FixedBitSet {
    without(&all(count), &[number])
}

/// Some findings more
pub fn with(chosen: &FixedBitSet, members: &[usize]) -> FixedBitSet {
    let mut more = chosen.clone();
    more.extend(members.iter().copied());
    more
}

/// Some findings fewer
pub fn without(chosen: &FixedBitSet, members: &[usize]) -> FixedBitSet {
    let mut fewer = chosen.clone();
    members.iter().for_each(|member| fewer.remove(*member));
    fewer
}
