//! Wear over visits: rates and hours left by hand, what belongs to a part, slips of reading, and what holds for any history.

#![cfg(test)]

mod any_history;
mod by_hand;
mod lines;
mod outdated;
mod parts;
mod program;
mod slips;

#[path = "../support/setting.rs"]
#[expect(dead_code, reason = "support is shared; the chances of causes are asked for elsewhere")]
mod setting;

mod visits;
