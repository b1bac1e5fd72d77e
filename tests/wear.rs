//! Wear over visits: rates and hours left by hand, what belongs to a part, slips of reading, and what holds for any history.

mod any_history;
mod by_hand;
mod lines;
mod normal;
mod outdated;
mod own_sizes;
mod parts;
mod program;
mod sample;
mod slips;
mod table;
mod visits;
