//! The work plan: the cheapest visits, what calls for work, the turn, prices, and what no plan may do.

#![cfg(test)]

#[path = "../support/setting.rs"]
#[expect(dead_code, reason = "support is shared; the chances of causes are asked for elsewhere")]
mod setting;

mod prices;
mod shipped;
mod visits;
mod whole;
