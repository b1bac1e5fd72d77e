//! The weight of the evidence, what would have been but for a cause, and fair wear told from misuse.

mod fair_wear;
mod hangs;
mod outside;
mod program;
mod twin;
mod weight;
