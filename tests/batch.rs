//! Cases by the line: one result for each, the same bytes whatever the threads, and nothing lost when a run is cut.

mod answers;
mod bench;
mod digests;
mod escapes;
mod faulty;
mod long_lines;
mod resumed;
mod stream;
