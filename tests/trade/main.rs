//! What the shipped rules say of machines, held against facts of the trade and against strip-down.

#![cfg(test)]

mod bench;
mod cases;
mod cautions;
mod discriminations;
mod published;
mod readings;
mod shipped;
mod simulated;
