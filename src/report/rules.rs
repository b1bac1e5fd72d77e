//! What is told of rules and not of a case: blocks in sentences, names in brief, problems, schemas, networks for other programs.

pub mod balance;
pub mod entry;
pub mod explain;
pub mod export;
mod gate;
pub mod problems;
pub mod schema;
pub mod shown;
pub mod simulated;
pub mod vocabulary;
