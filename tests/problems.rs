//! What is told about a problem: its entry with examples that are run, and its form for code hosts.

mod examples;
mod other_end;
mod sarif;
mod terminal;
