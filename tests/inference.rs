//! Inference held against going through all states, and against its own definitions.

mod against_enumeration;
mod bounding;
mod building;
mod drawing;
mod engine;
mod extremes;
mod information;
mod layered_networks;
mod order;
pub mod random_networks;
mod shapes;
mod slopes;
mod width;
