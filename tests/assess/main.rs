//! The weight of the evidence, what would have been but for a cause, and fair wear told from misuse.

#![cfg(test)]

#[path = "../trade/bench.rs"]
mod bench;
mod fair_wear;
mod outside;
#[path = "../support/setting.rs"]
mod setting;
mod twin;
mod weight;
