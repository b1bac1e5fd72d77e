//! Posteriors to what a person can follow: ranked causes, steps for and against, next checks, how well it all fits.

pub mod balance;
mod bounded;
pub mod decibans;
pub mod evidence;
pub mod explain;
pub mod fit;
pub mod link;
pub mod next;
pub mod paths;
mod ranks;
mod rivals;
pub mod robust;
pub mod simulate;
pub mod standing;
pub mod steps;
pub mod strengths;
pub mod unclaimed;
mod weighing;

use crate::infer::TooWide;
use crate::infer::bounds::Interval;
use crate::model::Hidden;
use crate::network::NodeId;
use crate::place::Place;
use crate::reason::steps::Step;

pub use weighing::{Settings, WORTH_REASONS, Weighing};

/// What one inspection says about its machine
#[derive(Clone, Debug)]
pub struct Diagnosis {
    /// All causes that can be on the machine, likeliest first
    pub causes: Vec<Ranked>,
    /// All conditions that can be on the machine, likeliest first
    pub conditions: Vec<Ranked>,
    /// How the findings go together; none past the width up to which that can be told, and there are no reasons either
    pub fit: Option<fit::Fit>,
    /// Natural logarithm of the probability of all findings
    pub log_evidence: Interval,
}

/// Causes and conditions with their probabilities, each likeliest first
#[derive(Clone, Copy, Debug)]
pub struct Ranks<'a> {
    /// All causes that can be on the machine
    pub causes: &'a [Ranked],
    /// All conditions that can be on the machine
    pub conditions: &'a [Ranked],
}

impl<'a> Ranks<'a> {
    /// Causes, then conditions
    pub fn all(self) -> impl Iterator<Item = &'a Ranked> {
        self.causes.iter().chain(self.conditions)
    }
}

impl Diagnosis {
    /// Its causes and conditions
    pub fn ranks(&self) -> Ranks<'_> {
        Ranks { causes: &self.causes, conditions: &self.conditions }
    }

    /// Whether every probability is exact; else each is an interval that is certain to hold it
    pub fn is_exact(&self) -> bool {
        self.ranks().all().all(Ranked::is_exact)
    }
}

/// How many times its prior a probability must be for the findings to speak for it: what stands where it stood is no news
pub const SPOKEN_FOR: f64 = 1.2;

/// How many times its prior odds the odds of something must be for what was seen to call for work on it: one deciban
const CALLS_FROM: f64 = 1.258_925;

/// Whether what was seen speaks enough for something to call for work on it, and not only its age or kind
pub fn is_spoken_for(prior: f64, now: f64) -> bool {
    let odds = |share: f64| share / (1.0 - share).max(f64::MIN_POSITIVE);
    now > 0.0 && odds(now) >= CALLS_FROM * odds(prior)
}

/// A cause or condition with its probability
#[derive(Clone, Debug)]
pub struct Ranked {
    /// What it is
    pub hidden: Hidden,
    /// Where
    pub place: Place,
    /// Its node
    pub node: NodeId,
    /// Probability of being present before anything was seen, given the facts
    pub prior: f64,
    /// Probability of being present given all findings; the middle of `within` where it is not exact, good for nothing
    /// but an order
    pub probability: f64,
    /// What the probability is certain to lie within, a single value where it is exact
    pub within: Interval,
    /// Probability of each of its forms or named grades, the absent or normal one first; on two arms those of one arm and
    /// the other may both be so; empty where nothing is exact
    pub grades: Vec<f64>,
    /// If a cause is present, the probability that it has been at work only lately; none where its rules do not tell that apart
    pub lately: Option<f64>,
    /// Steps from prior to probability; empty for what is not worth them
    pub reasons: Vec<Step>,
}

impl Ranked {
    /// Whether the probability is a single value
    pub fn is_exact(&self) -> bool {
        self.within.lower >= self.within.upper
    }

    /// Whether its bounds leave open which of two is likelier
    pub fn is_open_with(&self, other: &Ranked) -> bool {
        !(self.is_exact() && other.is_exact()) && self.within.overlaps(other.within)
    }
}

/// Why there is no diagnosis
#[derive(Clone, Debug, PartialEq)]
pub enum Stop {
    /// The findings couple too much for exact weighing
    TooWide(TooWide),
    /// These observations, by number, cannot occur together
    Impossible(Vec<usize>),
}

impl From<TooWide> for Stop {
    fn from(width: TooWide) -> Self {
        Stop::TooWide(width)
    }
}
