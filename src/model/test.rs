//! Tests on facts and places: what `where` and `only where` ask.

use super::ids::{FactId, PartId};
use crate::place::Side;

/// Terms that must all hold; empty holds always
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Test {
    /// The terms
    pub terms: Vec<Term>,
}

/// One term of a test
#[derive(Clone, Debug, PartialEq)]
pub enum Term {
    /// A fact is one of these choices
    Fact {
        /// The fact
        fact: FactId,
        /// Numbers of the choices, sorted
        choices: Vec<usize>,
    },
    /// How many of a numbered part a side has
    Count {
        /// The part
        part: PartId,
        /// What is asked of the number
        bound: Bound,
    },
    /// Hours on the machine
    Hours(Bound),
    /// The place lies on this side
    Side(Side),
    /// The place's number along its row is one of these spots, or none of them
    Spot {
        /// The numbered part
        part: PartId,
        /// The spots
        spots: Vec<Spot>,
        /// It must be none of them
        negated: bool,
    },
}

/// Over or under a figure, or equal to one of several
#[derive(Clone, Debug, PartialEq)]
pub enum Bound {
    /// Over it
    Over(f64),
    /// Under it
    Under(f64),
    /// One of them, or none when negated
    OneOf(Vec<f64>, bool),
}

impl Bound {
    /// Whether a figure satisfies it
    pub fn holds(&self, figure: f64) -> bool {
        match self {
            Bound::Over(least) => figure > *least,
            Bound::Under(most) => figure < *most,
            Bound::OneOf(figures, negated) => figures.contains(&figure) != *negated,
        }
    }
}

/// Where along a row
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Spot {
    /// Number 1, nearest the front
    First,
    /// The one nearest the rear
    Last,
    /// The front half; the middle one of an odd number belongs to neither half
    FrontHalf,
    /// The rear half; the middle one of an odd number belongs to neither half
    RearHalf,
}

impl Spot {
    /// Whether number `number` of `count` stands there
    pub fn holds(self, number: u32, count: u32) -> bool {
        match self {
            Spot::First => number == 1,
            Spot::Last => number == count,
            Spot::FrontHalf => 2 * number <= count,
            Spot::RearHalf => 2 * number > count + 1,
        }
    }
}

impl Test {
    /// Both tests together
    pub fn and(&self, other: &Test) -> Test {
        Test { terms: self.terms.iter().chain(&other.terms).cloned().collect() }
    }

    /// The facts it asks about
    pub fn facts(&self) -> impl Iterator<Item = FactId> + '_ {
        self.terms.iter().filter_map(|term| match term {
            Term::Fact { fact, .. } => Some(*fact),
            _ => None,
        })
    }

    /// True when it asks nothing, so that it always holds
    pub fn always(&self) -> bool {
        self.terms.is_empty()
    }
}
