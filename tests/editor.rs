//! What an editor is told about rule files: as plain functions, and over the protocol.

mod addresses;
mod any_edits;
mod completing;
mod faults;
mod marked;
mod meaning;
mod naming;
mod position;
mod renaming;
mod talk;
mod talking;
