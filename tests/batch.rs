//! Cases by the line: one result for each, the same bytes whatever the threads, and nothing lost when a run is cut.

mod answers;
mod bench;
mod faulty;
mod resumed;
