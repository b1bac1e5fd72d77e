//! The weight of the evidence, what would have been but for a cause, and fair wear told from misuse.

#![cfg(test)]

mod fair_wear;
mod outside;
#[path = "../support/setting.rs"]
mod setting;
mod twin;
mod weight;
