//! Pinboss: from wear signs on a crawler tractor's undercarriage to ranked causes and next checks.
pub mod check;
pub mod command;
pub mod infer;
pub mod model;
pub mod network;
pub mod place;
pub mod problem;
pub mod report;
pub mod source;
pub mod syntax;
pub mod units;
