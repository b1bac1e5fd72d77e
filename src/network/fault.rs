//! Reasons for which a network refuses a node

use std::fmt;

/// Why [`add`](crate::network::Network::add) refused a node
#[derive(Clone, PartialEq, Debug)]
pub enum Fault {
    /// The node has no state at all, or more than fit in memory
    States {
        /// Number of states asked for
        states: usize,
    },
    /// The shape of a noisy-MAX node has another number of states than the node
    Shape {
        /// Number of states of the node
        states: usize,
        /// Number of states of the shape
        shape: usize,
    },
    /// A parent is not in the network yet, which also is how a loop is kept out
    UnknownParent {
        /// Index of the parent asked for
        parent: usize,
    },
    /// One table names the same parent twice
    RepeatedParent {
        /// Index of the parent
        parent: usize,
    },
    /// A table has not one entry for each parent configuration and state
    Length {
        /// Number of entries given
        given: usize,
        /// Number of entries needed, the largest `usize` when it does not fit
        needed: usize,
    },
    /// An entry is not a probability
    Entry {
        /// Place of the entry in the table
        place: usize,
        /// Its value
        value: f64,
    },
    /// A row does not add up to 1 within 1e-9
    RowSum {
        /// Number of the row, counted from 0
        row: usize,
        /// What it adds up to
        sum: f64,
    },
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::States { states } => write!(out, "a node cannot have {states} states"),
            Fault::Shape { states, shape } => {
                write!(out, "the shape has {shape} states, the node {states}")
            }
            Fault::UnknownParent { parent } => write!(out, "there is no node {parent} yet"),
            Fault::RepeatedParent { parent } => write!(out, "node {parent} is a parent twice"),
            Fault::Length { given, needed } => {
                write!(out, "the table has {given} entries instead of {needed}")
            }
            Fault::Entry { place, value } => {
                write!(out, "entry {place} is {value}, not a probability")
            }
            Fault::RowSum { row, sum } => write!(out, "row {row} adds up to {sum} instead of 1"),
        }
    }
}

impl std::error::Error for Fault {}
