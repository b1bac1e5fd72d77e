//! What is told about a problem: its entry with examples that are run, and its form for code hosts.

mod entries;
mod examples;
mod kept;
mod other_end;
mod sarif;
mod terminal;
