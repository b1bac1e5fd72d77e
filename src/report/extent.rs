//! How much is told: every threshold and every most, in one table with its reason.
//!
//! What a record holds is all there is; this says which of it is put before a reader, and how far it goes into it. A record
//! carries the answer (`told`), so that a program that reads JSON shows the same as the text without thresholds of its own.

use crate::reason::SPOKEN_FOR;

/// What is told at length in one place and in brief in another
#[derive(Clone, Copy, Debug)]
pub struct Extent {
    /// Checks to do next
    pub checks: usize,
}

/// On a screen, where the next visit is prepared: as many checks as one visit takes
pub const SHORT: Extent = Extent { checks: 5 };
/// On a page that is taken along, and where checks are all that is asked for
pub const FULL: Extent = Extent { checks: 10 };

/// Causes under this are not told one by one: one in twenty is little to go by
pub const CAUSE_FROM: f64 = 0.05;
/// Causes told one by one at the most: a screen or two
pub const MOST_CAUSES: usize = 8;
/// Distance of bounds over which they say nothing
pub const OPEN_FROM: f64 = 0.98;
/// Probability from which what mends it is told, and from which a cause is told wherever it came from: under it nobody
/// takes a spanner in hand
pub const MEND_FROM: f64 = 0.3;
/// Probability from which a cause stands among what is said in short
pub const IN_SHORT_FROM: f64 = 0.3;
/// Probability from which two causes are probably both there
pub const BOTH_FROM: f64 = 0.5;

/// Steps told of each cause: those after it move little
pub const MOST_STEPS: usize = 6;
/// Decibans under which a step ends no row of steps: it moves odds by less than a quarter
pub const STEP_FROM: f64 = 1.0;
/// Steps told of what led a tried case astray
pub const MOST_STEPS_ASTRAY: usize = 3;
/// Decibans under which such a step is not told: its author looks for small ones too
pub const STEP_ASTRAY_FROM: f64 = 0.5;

/// Probability from which a rival of a cause is worth naming
pub const RIVAL_FROM: f64 = 0.03;
/// Rivals named of a cause
pub const MOST_RIVALS: usize = 3;

/// Conditions told from this probability on, and ahead of causes none of which comes to it: what is rather there than not
pub const CONDITION_FROM: f64 = 0.5;
/// Conditions told from this probability on although nothing seen speaks for them
pub const CERTAIN_FROM: f64 = 0.8;

/// Outcomes told of each check, besides that all is normal
pub const MOST_OUTCOMES: usize = 2;
/// Causes told that an outcome moves
pub const MOST_SHIFTS: usize = 2;

/// Figures of the rules told one by one that would change the order of causes
pub const MOST_TURNS: usize = 5;

/// Points by which the worst part must be worse than the whole to be held up against it
pub const FAR_WORSE: f64 = 15.0;
/// Parts named as the next to end, of each side
pub const MOST_ENDS: usize = 3;
/// Curves of a document: those of the parts most worn
pub const MOST_CURVES: usize = 8;

/// Jobs told in the short form of a plan
pub const MOST_JOBS: usize = 6;
/// Chance under which a look is told to come before the work: it is rather not there
pub const LOOK_FIRST_UNDER: f64 = 0.5;
/// Parts told that may run on
pub const MOST_RUNNING: usize = 12;

/// Findings told that would overturn a ratio
pub const MOST_OVERTURNS: usize = 4;
/// Figures of the rules told that a ratio hangs on
pub const MOST_FIGURES: usize = 3;
/// Rules named that a ratio hangs on
pub const MOST_NAMED: usize = 4;
/// Checks told that would settle a ratio
pub const MOST_SETTLING: usize = 4;
/// Outcomes told of each of them
pub const MOST_RATIOS: usize = 2;
/// Decibans from which what the smaller findings add is told: under it they would be told as none
pub const OTHERS_FROM: f64 = 0.05;
/// Signs told of how usual they are, besides the damage in question
pub const MOST_USUAL: usize = 5;
/// Standard deviations from which wear goes past what hours and ground let expect
pub const EXCESS_FROM: f64 = 2.0;

/// Causes told of one case that other rules moved
pub const MOST_MOVES: usize = 6;

/// Bounds that leave all open
pub fn says_nothing(lower: f64, upper: f64) -> bool {
    upper - lower > OPEN_FROM
}

/// A cause is told one by one: not what stands where it stood before anything was seen, unless that is high
pub fn tells_cause(prior: f64, lower: f64, upper: f64) -> bool {
    let moved = upper >= MEND_FROM || upper > SPOKEN_FOR * prior;
    upper >= CAUSE_FROM && moved && !says_nothing(lower, upper)
}

/// A condition is told: a likely one that what was found made likelier, or an all but certain one
pub fn tells_condition(prior: f64, lower: f64, upper: f64) -> bool {
    lower >= CONDITION_FROM && (upper > SPOKEN_FOR * prior || lower >= CERTAIN_FROM)
}
