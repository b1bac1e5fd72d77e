//! The keys that a case file and a price file take, level by level: one list for the reader and for whatever describes
//! the file.

/// The outermost keys
pub const WHOLE: [&str; 10] =
    ["case", "machine", "parts", "visit", "seen", "in_question", "earlier", "photos", "truth", "expect"];
/// Keys under `machine`
pub const MACHINE: [&str; 6] = ["tag", "hours", "meter", "size", "sizes", "facts"];
/// Keys of a measure under `sizes`
pub const SIZES: [&str; 2] = ["new", "limit"];
/// The key of a limit that holds where no other does
pub const ELSE: &str = "else";
/// Keys under `meter`
pub const METER: [&str; 2] = ["changed_at", "from"];
/// Keys of an item of `parts`
pub const PARTS: [&str; 4] = ["part", "at", "on", "turned"];
/// The word for a part that was never turned
pub const NEVER: &str = "never";
/// Keys under `visit`
pub const VISIT: [&str; 4] = ["on", "by", "place", "state"];
/// Keys of a place under `seen`
pub const SEEN: [&str; 5] = ["looked", "found", "read", "not_possible", "photos"];
/// Keys of a finding that is more than a grade, without what is counted
pub const FOUND: [&str; 3] = ["saw", "sure", "of"];
/// Keys of a reading that is more than its value
pub const READ: [&str; 3] = ["value", "values", "void"];
/// Keys under `truth`
pub const TRUTH: [&str; 2] = ["present", "absent"];
/// Keys under `expect`
pub const EXPECT: [&str; 7] = ["first", "over", "under", "next", "unexplained", "held", "weight"];
/// The outermost keys of a price file
pub const PRICES: [&str; 4] = ["currency", "labour", "standing", "remedies"];
/// Keys under `standing` of a price file
pub const STANDING: [&str; 2] = ["visit", "hour"];
