//! All tests of the program in one target, so that the library is linked to them once: `cargo test language::` runs one
//! subject.

#![cfg(test)]

mod assess;
mod bad_input;
mod batch;
mod case_reading;
mod cli;
mod editor;
mod export;
mod handbook;
mod house;
mod inference;
mod invariant;
mod json;
mod language;
mod outside;
mod plan;
mod problems;
mod reasons;
mod report;
mod schema;
mod support;
mod trade;
mod trials;
mod wear;
