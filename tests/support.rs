//! What tests of several subjects share.

pub mod network_file;
pub mod program;
pub mod rules;
pub mod setting;
pub mod shipped;
