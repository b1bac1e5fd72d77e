//! What an editor is told about rule files: as plain functions, and over the protocol.

mod any_edits;
mod completing;
mod marked;
mod meaning;
mod naming;
mod renaming;
mod talk;
mod talking;
