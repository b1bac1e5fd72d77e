//! The rule language: what it reads, what that means, and what it says about what it cannot read.

#![expect(clippy::unwrap_used, reason = "a test may fail by panicking")]

mod clauses;
mod example;
mod expressions;
mod heads;
mod layout;
mod said;
mod shown;
mod form_of_clauses;
mod form_of_heads;
