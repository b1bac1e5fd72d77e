//! The rule language: what it reads, and what it says about what it cannot read.

mod example;
