//! Everything a reader of an assessment may be told: the one report that its text and JSON are made from.

pub mod from_assessment;

use crate::assess::expected;
use crate::assess::scale::{MOST_BY_ESTIMATE, Opinion};
use crate::report::record::evidence;
use crate::report::rules::shown::Figure;
use serde::Serialize;

/// What an assessment is not
pub const NOT: &str = "This is no opinion on liability, on law or on who was at fault, and no verdict. The ratio says how much more \
probable the findings are if the one statement is true than if the other is. It does not say how probable a statement \
is: that depends as well on what was held before the findings, and to take the one for the other is known as the \
prosecutor's fallacy. That a cause counts against somebody by these rules says whose business it mostly is, not what \
he was bound to do. Wear that is gradual and even is what work does to steel, and is never by itself misuse. The rules \
are common practice and estimates; the ratio is only as good as they are, as the findings, and as the list of causes. \
It is for the expert instructed in the matter, who has seen the machine and its own manual, and is licensed where that \
is asked for, to say what follows.";

/// A whole assessment
#[derive(Debug, Serialize)]
pub struct Report {
    /// What the case is called
    pub case: String,
    /// What its people call the machine
    pub machine: String,
    /// Hours on the meter
    pub hours: Option<f64>,
    /// Digest of the rules used
    pub rules_digest: String,
    /// Digest of the case file
    pub case_digest: String,
    /// The damage in question
    pub in_question: Vec<Sign>,
    /// What is said of each party that some cause counts against, the one against whom the findings weigh most first
    pub against: Vec<PartyOpinion>,
    /// Parties against whom nothing counts that could have brought this damage about
    pub nothing_against: Vec<String>,
    /// What hours and ground let expect of what was read
    pub worn: Vec<expected::Worn>,
    /// How usual the signs are where nobody did anything wrong, the damage in question first
    pub usual: Vec<Usual>,
    /// Where the words for a ratio come from
    pub scale: &'static str,
    /// What it is not
    pub this_is_not: &'static str,
}

/// A symptom or condition at a place, at a grade
#[derive(Clone, Debug, Serialize)]
pub struct Sign {
    /// Its name in the rules
    pub finding: String,
    /// Where
    pub place: String,
    /// Its label
    pub label: String,
    /// The grade named or found; none where it was neither
    #[serde(skip_serializing_if = "Option::is_none")]
    pub grade: Option<String>,
    /// The grade is the normal one, so that there is no damage
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub normal: bool,
}

/// What is said of one party
#[derive(Debug, Serialize)]
pub struct PartyOpinion {
    /// Who it is
    pub party: String,
    /// The first statement, in full
    pub first: String,
    /// The second statement, in full
    pub second: String,
    /// The causes of both
    pub causes: Vec<Cause>,
    /// Probability of the first statement before anything was found, by the rules and the facts told; the ratio is free of
    /// it
    #[serde(skip_serializing_if = "Option::is_none")]
    pub before: Option<f64>,
    /// Weight of the findings
    pub weight: Weight,
    /// Findings that carry it, step by step
    pub carried_by: Vec<Carried>,
    /// Of these, how many lead: the greatest, told one by one
    pub leading: usize,
    /// What the others add together, in decibans
    pub others: f64,
    /// For each damage in question the chance that it would have been less without the causes
    pub but_for: Vec<ButFor>,
    /// Single findings that would overturn it
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overturned_by: Option<Overturns>,
    /// What to look at that would settle it, in order; none where the findings are too entangled to rank it
    #[serde(skip_serializing_if = "Option::is_none")]
    pub settled_by: Option<Vec<Settling>>,
    /// Figures of the rules that the ratio hangs on most, the furthest reach first; none where the findings are too entangled
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hangs_on: Option<Vec<HangsOn>>,
}

/// A figure of the rules, and the ratio with it moved alone by a step of the scale
#[derive(Debug, Serialize)]
pub struct HangsOn {
    /// The figure as it is
    #[serde(flatten)]
    pub figure: Figure,
    /// A step down
    pub down: Then,
    /// A step up
    pub up: Then,
    /// The figure within these at which the findings support neither statement
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turns_at: Option<f64>,
    /// At how many places of the machine it counts among what was found
    pub places: usize,
}

/// A ratio that would come out
#[derive(Debug, Serialize)]
pub struct Then {
    /// With the figure at this
    pub share: f64,
    /// The ratio, told no further than the ratio itself may be
    pub ratio: f64,
    /// It goes further than is told
    pub capped: bool,
}

/// A cause of the statements, at all its places
#[derive(Debug, Serialize)]
pub struct Cause {
    /// Its name in the rules
    pub id: String,
    /// Its label
    pub label: String,
    /// Its places
    pub places: Vec<String>,
    /// The kind in plain words
    pub kind_label: String,
}

/// Weight of all findings together
#[derive(Debug, Serialize)]
pub struct Weight {
    /// The ratio is exact by these rules; else only bounds are known
    pub exact: bool,
    /// P(findings | first statement) / P(findings | second statement), no further from 1 than 10,000 while an estimate
    /// carries it
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ratio: Option<f64>,
    /// 10 log10 of it
    #[serde(skip_serializing_if = "Option::is_none")]
    pub decibans: Option<f64>,
    /// 5 and 95 % of the ratios with the strengths of the rules drawn anew
    #[serde(skip_serializing_if = "Option::is_none")]
    pub range: Option<[f64; 2]>,
    /// Draws behind the range
    pub draws: usize,
    /// What the ratio is certain to lie between where it is not exact; none for an end that is open
    #[serde(skip_serializing_if = "Option::is_none")]
    pub between: Option<[Option<f64>; 2]>,
    /// The ratio, or an end of its range, goes further than is told
    pub capped: bool,
    /// Why
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capped_because: Option<&'static str>,
    /// 10 log10 of the ratio as reckoned, which the steps add up to; past what is told where the ratio is capped
    #[serde(skip_serializing_if = "Option::is_none")]
    pub steps_come_to: Option<f64>,
    /// Blocks of the rules whose figures are estimates and carry it
    pub estimates: Vec<String>,
    /// The scale's word for the end of the range nearer 1; none without a range
    #[serde(skip_serializing_if = "Option::is_none")]
    pub word: Option<&'static str>,
    /// The whole range goes further than is told, so that the word is the least that holds
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub at_least: bool,
    /// The statement that is supported: `first`, `second` or `neither`; none without a range
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supports: Option<&'static str>,
    /// From each starting opinion, of 1 to 99 %, to where the findings take it
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub curve: Vec<Opinion>,
}

/// Why a ratio is held at 10,000
pub const CAPPED: &str = "they hang on figures that nobody has published";

/// A ratio, and whether it stands where no more is told
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stands {
    /// It is the figure itself
    There,
    /// It is 10,000 or more
    OrMore,
    /// It is 1 in 10,000 or less
    OrLess,
}

impl Stands {
    /// The words behind what is told of it
    pub fn open(self) -> &'static str {
        match self {
            Stands::There => "",
            Stands::OrMore => " or more",
            Stands::OrLess => " or less",
        }
    }
}

impl Weight {
    /// How one of the ratios told of this weight stands to what may be told
    pub fn stands(&self, ratio: f64) -> Stands {
        match ratio {
            ratio if !self.capped || ratio.is_nan() => Stands::There,
            ratio if ratio >= MOST_BY_ESTIMATE => Stands::OrMore,
            ratio if ratio <= 1.0 / MOST_BY_ESTIMATE => Stands::OrLess,
            _ => Stands::There,
        }
    }
}

/// One step of what carries the weight
#[derive(Debug, Serialize)]
pub struct Carried {
    /// The finding that speaks loudest in it
    #[serde(flatten)]
    pub finding: evidence::Finding,
    /// Findings taken in together with it
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub together_with: Vec<evidence::Finding>,
    /// What it adds to the weight, after the steps before
    pub decibans: f64,
    /// The same as a factor of the ratio
    pub factor: f64,
    /// The rules' own sentences, from a cause of the first statement to the finding
    pub because: String,
    /// A cause of the first statement brings it about; else it bears on them through their rivals
    pub direct: bool,
    /// The rival through which it bears most on them, with its place
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rival: Option<Cause>,
    /// Small remainders told together
    pub rest: bool,
}

/// What would have been without the causes
#[derive(Debug, Serialize)]
pub struct ButFor {
    /// The damage
    #[serde(flatten)]
    pub sign: Sign,
    /// Nobody looked at it: what follows holds if it is there
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub if_there: bool,
    /// Probability, given the findings, that it would have been less; none where they are too entangled
    pub chance: Option<f64>,
    /// Probability that it would have been of another sort, neither less nor more
    #[serde(skip_serializing_if = "Option::is_none")]
    pub other: Option<f64>,
}

/// Single findings that would overturn a weight if they were wrong: lead to a weaker word of the scale or to the other
/// statement, by the same rule as the weight itself
#[derive(Debug, Serialize)]
pub struct Overturns {
    /// Those that would; none where neither statement is supported
    pub by: Vec<Overturn>,
    /// Where there is none, the one that comes nearest
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nearest: Option<Overturn>,
    /// Other grades were tried too; else findings were only left out
    pub other_grades: bool,
}

/// A finding taken otherwise
#[derive(Debug, Serialize)]
pub struct Overturn {
    /// The finding as it is
    #[serde(flatten)]
    pub finding: evidence::Finding,
    /// The grade it is taken to be; none when it is left out
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taken_as: Option<String>,
    /// The ratio then, with the same bound as the weight's own
    pub ratio: f64,
    /// It goes further than is told
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub capped: bool,
    /// 5 and 95 % of that ratio by the same draws; none without draws
    #[serde(skip_serializing_if = "Option::is_none")]
    pub range: Option<[f64; 2]>,
    /// The word for the end of that range nearer 1; none without draws
    #[serde(skip_serializing_if = "Option::is_none")]
    pub word: Option<&'static str>,
    /// The statement that is supported then: `first`, `second` or `neither`; none without draws
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supports: Option<&'static str>,
    /// The ratio goes to the other side of 1
    pub crosses: bool,
}

/// A check with what it would do to the ratio
#[derive(Debug, Serialize)]
pub struct Settling {
    /// The check; its bits are those of the first statement
    #[serde(flatten)]
    pub check: evidence::NextCheck,
    /// What can come out
    pub ratios: Vec<Ratio>,
}

/// One thing that can come out, and the ratio then
#[derive(Debug, Serialize)]
pub struct Ratio {
    /// What shows; none when all is normal
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sign: Option<Sign>,
    /// Its chance
    pub chance: f64,
    /// The ratio of all findings then, with the same bound as the weight's own
    pub ratio: f64,
    /// It goes further than is told
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub capped: bool,
}

/// How usual a sign is where nobody did anything wrong
#[derive(Debug, Serialize)]
pub struct Usual {
    /// The sign
    #[serde(flatten)]
    pub sign: Sign,
    /// It is the damage in question
    pub in_question: bool,
    /// There is a worse grade, which is counted with it
    pub or_worse: bool,
    /// Probability of this grade or worse, given the facts and hours and no cause that counts against anybody
    pub chance: f64,
}
