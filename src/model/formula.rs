//! Expressions over measures, and the bounds that turn their values into grades.

use super::ids::{MeasureId, PartId};
use crate::place::Side;

/// An expression over measures; lengths in mm, shares as fractions but `worn` in per cent, times in hours
#[derive(Clone, Debug, PartialEq)]
pub enum Formula {
    /// A plain figure
    Figure(f64),
    /// A measure as read or reckoned
    Measure(MeasureId),
    /// Per cent worn
    Worn(MeasureId),
    /// What has gone from the new size, positive for shrinking and growing dimensions alike
    Loss(MeasureId),
    /// The new size
    New(MeasureId),
    /// The size at 100 % worn
    Limit(MeasureId),
    /// Wear per hour over what `life` gives
    Pace(MeasureId),
    /// Hours to 100 %
    Life(MeasureId),
    /// Hours since a part went on
    Hours(PartId),
    /// Hours since a part was turned, or since it went on when it never was
    HoursSinceTurned(PartId),
    /// 1 when a part has been turned, 0 when not
    Turn(PartId),
    /// Several places made one
    Across {
        /// How
        gather: Gather,
        /// What is taken at each place
        of: Box<Formula>,
        /// Which places
        row: Row,
    },
    /// Several figures made one
    Among {
        /// How
        gather: Gather,
        /// The figures, two at least
        of: Vec<Formula>,
    },
    /// Two operands
    Pair(Box<Formula>, Operator, Box<Formula>),
}

/// How two operands become one
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Operator {
    /// Sum
    Plus,
    /// Difference
    Minus,
    /// Product
    Times,
    /// Ratio
    Over,
}

/// How several figures, or those of several places, become one
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Gather {
    /// Their mean
    Mean,
    /// The largest
    Largest,
    /// The smallest
    Smallest,
    /// The largest less the smallest
    Spread,
    /// That of the left less that of the right; of both sides only
    Lead,
}

/// Which places an expression goes across
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Row {
    /// Both sides
    Sides,
    /// All of a numbered part, on the block's side or on both
    All(PartId),
    /// The front half of them
    Front(PartId),
    /// The rear half of them
    Rear(PartId),
}

/// Intervals of a value, one for each grade or choice that has one, in falling or rising order
#[derive(Clone, Debug, PartialEq)]
pub struct Bounds {
    /// Number of the grade, and the least and most value it stands for; open ends are infinite
    pub intervals: Vec<(usize, f64, f64)>,
}

impl Bounds {
    /// The grade whose interval holds a value; a value on a border goes to the grade listed first
    pub fn grade(&self, value: f64) -> Option<usize> {
        self.intervals
            .iter()
            .find(|&&(_, least, most)| least <= value && value <= most)
            .map(|&(grade, _, _)| grade)
    }
}

impl Formula {
    /// Measures that must be read, or have a size, before it has a value
    pub fn measures(&self) -> Vec<MeasureId> {
        match self {
            Formula::Measure(id)
            | Formula::Worn(id)
            | Formula::Loss(id)
            | Formula::New(id)
            | Formula::Limit(id)
            | Formula::Pace(id)
            | Formula::Life(id) => vec![*id],
            Formula::Across { of, .. } => of.measures(),
            Formula::Among { of, .. } => of.iter().flat_map(Formula::measures).collect(),
            Formula::Pair(first, _, second) => {
                let mut measures = first.measures();
                measures.extend(second.measures());
                measures
            }
            Formula::Figure(_) | Formula::Hours(_) | Formula::HoursSinceTurned(_) | Formula::Turn(_) => {
                Vec::new()
            }
        }
    }

    /// Whether it sets the left against the right
    pub fn compares_sides(&self) -> bool {
        match self {
            Formula::Across { gather, of, .. } => *gather == Gather::Lead || of.compares_sides(),
            Formula::Among { of, .. } => of.iter().any(Formula::compares_sides),
            Formula::Pair(first, _, second) => first.compares_sides() || second.compares_sides(),
            _ => false,
        }
    }

    /// Measures whose reading it needs, not only their size or life
    pub fn readings(&self) -> Vec<MeasureId> {
        match self {
            Formula::Measure(id) | Formula::Worn(id) | Formula::Loss(id) | Formula::Pace(id) => {
                vec![*id]
            }
            Formula::Across { of, .. } => of.readings(),
            Formula::Among { of, .. } => of.iter().flat_map(Formula::readings).collect(),
            Formula::Pair(first, _, second) => {
                let mut readings = first.readings();
                readings.extend(second.readings());
                readings
            }
            _ => Vec::new(),
        }
    }

    /// Parts whose hours or turns it asks for, each with whether it asks for the turn
    pub fn served(&self) -> Vec<(PartId, bool)> {
        match self {
            Formula::Hours(part) => vec![(*part, false)],
            Formula::HoursSinceTurned(part) | Formula::Turn(part) => vec![(*part, true)],
            Formula::Across { of, .. } => of.served(),
            Formula::Among { of, .. } => of.iter().flat_map(Formula::served).collect(),
            Formula::Pair(first, _, second) => {
                let mut served = first.served();
                served.extend(second.served());
                served
            }
            _ => Vec::new(),
        }
    }
}

/// Sides that a row spans when a block stands at `side`, or for the machine
pub fn sides_of(side: Option<Side>) -> Vec<Side> {
    side.map_or_else(|| Side::BOTH.to_vec(), |side| vec![side])
}
