//! The weight of evidence, and the words that an open scale has for it.

use crate::infer::bounds::Interval;
use crate::reason::decibans::ratio;
use serde::Serialize;

/// The scale that the words are taken from
pub const SCALE: &str = "the verbal scale for likelihood ratios in ENFSI Guideline for Evaluative Reporting in Forensic Science (2015)";

/// Likelihood ratio past which none is shown while an estimate carries it
pub const MOST_BY_ESTIMATE: f64 = 10_000.0;
/// The same in decibans
const MOST_DECIBANS: f64 = 40.0;
/// Draws under which nothing is said of a range: of fewer, a twentieth is no more than a handful
pub const LEAST_DRAWS: usize = 100;
/// Share of the draws on either side of the range that is shown
const TAIL: f64 = 0.05;

/// How strongly findings support one statement rather than the other: the steps of the ENFSI scale of 2015 (borders from
/// memory: 1, 2, 10, 100, 1,000, 10,000, 1,000,000). From 1 to 2 the scale has no word, so that neither is said to be
/// supported.
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Strength {
    /// Ratio under 2
    None,
    /// 2 to 10
    Weak,
    /// 10 to 100
    Moderate,
    /// 100 to 1,000
    ModeratelyStrong,
    /// 1,000 to 10,000
    Strong,
    /// 10,000 to 1,000,000
    VeryStrong,
    /// 1,000,000 and more
    ExtremelyStrong,
}

impl Strength {
    /// The step of a ratio, of which 1 / ratio has the same; a border belongs to the stronger word
    pub fn of(ratio: f64) -> Strength {
        let ratio = if ratio < 1.0 { 1.0 / ratio } else { ratio };
        match ratio {
            ratio if ratio >= 1e6 => Strength::ExtremelyStrong,
            ratio if ratio >= 1e4 => Strength::VeryStrong,
            ratio if ratio >= 1e3 => Strength::Strong,
            ratio if ratio >= 1e2 => Strength::ModeratelyStrong,
            ratio if ratio >= 10.0 => Strength::Moderate,
            ratio if ratio >= 2.0 => Strength::Weak,
            _ => Strength::None,
        }
    }

    /// The scale's own word
    pub fn word(self) -> &'static str {
        match self {
            Strength::None => "no support",
            Strength::Weak => "weak support",
            Strength::Moderate => "moderate support",
            Strength::ModeratelyStrong => "moderately strong support",
            Strength::Strong => "strong support",
            Strength::VeryStrong => "very strong support",
            Strength::ExtremelyStrong => "extremely strong support",
        }
    }
}

/// Which statement findings support, and how strongly
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub struct Support {
    /// The step of the scale
    pub strength: Strength,
    /// The first statement is supported rather than the second
    pub first: bool,
}

impl Support {
    /// What a ratio in decibans supports
    pub fn of(decibans: f64) -> Support {
        Support { strength: Strength::of(ratio(decibans)), first: decibans >= 0.0 }
    }

    /// What is supported at every ratio of a range: that of the end nearer 1, and nothing where 1 lies within
    pub fn throughout(range: (f64, f64)) -> Support {
        match range {
            (low, _) if low > 0.0 => Support::of(low),
            (_, high) if high < 0.0 => Support::of(high),
            _ => Support::of(0.0),
        }
    }
}

/// Weight of what was found
#[derive(Clone, Debug, PartialEq)]
pub enum Weight {
    /// Known exactly, given the rules
    Exact(Exact),
    /// Only bounds are known, in decibans, for the findings are too entangled; no range and no word goes with them
    Within(Interval),
    /// Too entangled even for bounds
    Unknown,
}

/// An exact weight, and how far it hangs on the strengths of the rules
#[derive(Clone, Debug, PartialEq)]
pub struct Exact {
    /// The figure, its range and what it supports, as they may be shown
    pub held: Held,
    /// 10 log10 of the likelihood ratio as reckoned, which the steps add up to
    pub reckoned: f64,
    /// Draws that could be weighed
    pub draws: usize,
    /// Names of the blocks whose figures are estimates and carry it
    pub estimates: Vec<String>,
    /// From each starting opinion, of 1 to 99 %, to where the findings take it
    pub curve: Vec<Opinion>,
}

/// A figure as it may be shown: no further from 0 than 40 decibans while an estimate carries it
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// 10 log10 of a likelihood ratio
    pub decibans: f64,
    /// 5 and 95 % of the draws, in decibans, widened to hold the figure itself; none by fewer draws than [`LEAST_DRAWS`]
    pub range: Option<(f64, f64)>,
    /// What is supported throughout the range; none without a range, for a word goes by nothing else
    pub support: Option<Support>,
    /// The figure, or an end of its range, goes further than may be shown
    pub capped: bool,
    /// So does the whole range: `support` is the least that holds, and more is not shown
    pub at_least: bool,
}

impl Held {
    /// A figure with those that came of draws, all in decibans; `estimated` when an estimate carries it
    pub fn new(decibans: f64, draws: &[f64], estimated: bool) -> Held {
        let most = if estimated { MOST_DECIBANS } else { f64::INFINITY };
        let drawn = range(draws).map(|(low, high)| (low.min(decibans), high.max(decibans)));
        let is_past = |decibans: f64| decibans.abs() >= most;
        let capped = |decibans: f64| decibans.clamp(-most, most);
        let (low, high) = drawn.unwrap_or((decibans, decibans)); // else: nothing was drawn
        let least = if low * high > 0.0 { low.abs().min(high.abs()) } else { 0.0 };
        let support = drawn.map(Support::throughout).map(|support| match is_past(least) {
            true => Support { strength: support.strength.min(Strength::Strong), ..support },
            false => support,
        });
        Held {
            decibans: capped(decibans),
            range: drawn.map(|(low, high)| (capped(low), capped(high))),
            support,
            capped: is_past(low) || is_past(high),
            at_least: support.is_some() && is_past(least),
        }
    }
}

/// An opinion before and after the findings: probabilities of the first statement
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Opinion {
    /// Before
    pub from: f64,
    /// After
    pub to: f64,
    /// After, at the lower and at the upper end of the range
    pub between: [f64; 2],
}

impl Weight {
    /// A weight in decibans with those that came of draws
    pub fn exact(decibans: f64, draws: &[f64], estimates: Vec<String>) -> Weight {
        let held = Held::new(decibans, draws, !estimates.is_empty());
        let (low, high) = held.range.unwrap_or((held.decibans, held.decibans)); // else: nothing was drawn
        let curve = (1..100).map(|percent| {
            let from = f64::from(percent) / 100.0;
            Opinion { from, to: after(from, held.decibans), between: [after(from, low), after(from, high)] }
        });
        Weight::Exact(Exact {
            held,
            reckoned: decibans,
            draws: draws.len(),
            estimates,
            curve: curve.collect(),
        })
    }

    /// Where it stands among others: the figure, or the lower bound; 0 where nothing is known
    pub fn decibans(&self) -> f64 {
        match self {
            Weight::Exact(exact) => exact.held.decibans,
            Weight::Within(bounds) if bounds.lower.is_finite() => bounds.lower,
            Weight::Within(_) | Weight::Unknown => 0.0,
        }
    }

    /// A weight of which only bounds are known
    pub fn within(bounds: Option<Interval>) -> Weight {
        bounds.map_or(Weight::Unknown, Weight::Within)
    }
}

/// Where a weight in decibans takes an opinion: odds after are odds before times the likelihood ratio
pub fn after(opinion: f64, decibans: f64) -> f64 {
    let odds = opinion / (1.0 - opinion) * ratio(decibans);
    if odds.is_finite() { odds / (1.0 + odds) } else { 1.0 }
}

/// The draws that leave a twentieth below and above; none of too few
fn range(draws: &[f64]) -> Option<(f64, f64)> {
    if draws.len() < LEAST_DRAWS {
        return None;
    }
    let mut sorted = draws.to_vec();
    sorted.sort_by(f64::total_cmp);
    let most = sorted.len().checked_sub(1)?;
    let at = |share: f64| sorted.get((share * most as f64).round() as usize).copied();
    Some((at(TAIL)?, at(1.0 - TAIL)?))
}
