//! The weight of the evidence, what would have been but for a cause, and fair wear told from misuse.

#![cfg(test)]

#[path = "../trade/bench.rs"]
#[expect(dead_code, reason = "what other targets ask of it")]
mod bench;
mod fair_wear;
mod hangs;
mod outside;
mod program;
#[path = "../support/setting.rs"]
#[expect(dead_code, reason = "what other targets ask of it")]
mod setting;
mod twin;
mod weight;
