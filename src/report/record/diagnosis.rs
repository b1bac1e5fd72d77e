//! Everything a reader of a diagnosis may be told: the one report that text and JSON are made from.

pub mod from_weighing;

use crate::ground::{Held, Misfit, Outlier};
use crate::invariant::Hold;
use crate::model::subject::Subject;
use crate::plan::record::Plan;
use crate::plan::standstill::Standstill;
use crate::report::extent::{CONDITION_FROM, MOST_STEPS, STEP_FROM};
use crate::report::record::chance::Chance;
use crate::report::record::evidence::{self, Finding};
use crate::report::record::hours_left::HoursLeft;
use crate::report::record::mending::Remedy;
use crate::report::words::percent;
use crate::wear::advice::Advice;
use crate::wear::contradiction::Contradiction;
use crate::wear::overall::Overall;
use serde::Serialize;

/// What stands at the foot of every report
pub const NOTICE: &str = "This weighs what was seen and read by rules of common practice and estimates; it is no substitute for \
the machine's own manual, local codes, or the judgement of a licensed person on the spot. Block or crib whatever is \
raised, lower the implements, stop the engine and take the key before hands go near track, adjuster or spring.";

/// A whole diagnosis
#[derive(Debug, Serialize)]
pub struct Report {
    /// What the case is called
    pub case: String,
    /// What its people call the machine
    pub machine: String,
    /// Hours on the meter
    pub hours: Option<f64>,
    /// Size class
    pub size: Option<String>,
    /// Digest of the rules used
    pub rules_digest: String,
    /// Digest of the case file
    pub case_digest: String,
    /// Observations that are not normal
    pub abnormal: usize,
    /// Observations that are normal
    pub normal: usize,
    /// All causes, likeliest first
    pub causes: Vec<Cause>,
    /// All conditions, likeliest first
    pub conditions: Vec<Condition>,
    /// Checks in the order in which to do them
    pub next_checks: Vec<evidence::NextCheck>,
    /// Why the machine must stand, where it must, and what is not listed for that
    pub stands: Option<Standstill>,
    /// What to do, and when
    pub plan: Plan,
    /// How worn what was read is
    pub wear: Vec<Wear>,
    /// One figure for all of it, beside the worst part; none when nothing was read that is renewed at a cost
    pub overall: Option<Overall>,
    /// Readings that cannot all be right
    pub contradictions: Vec<Contradiction>,
    /// What to mind about what was read
    pub advice: Vec<Advice>,
    /// One of several values read at a place that lies far from the others
    pub outliers: Vec<Outlier>,
    /// Signs of trouble that no likely cause accounts for, with what they call for
    pub unclaimed: Vec<Unclaimed>,
    /// The size class, where its sizes are not those of the machine
    pub misfit: Option<Misfit>,
    /// What does not count, and why
    pub held: Vec<Held>,
    /// Readings that say otherwise than the eye
    pub clashes: Vec<Clash>,
    /// Findings that nothing in the rules explains
    pub unexplained: Vec<Unexplained>,
    /// The smallest set of findings that hardly go together, and that no cause explains
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hardly_together: Option<Hardly>,
    /// The findings are too entangled to rank the next checks, and perhaps for reasons and exact figures
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub entangled: bool,
    /// Facts that nobody told and that would untangle them
    #[serde(rename = "untold", skip_serializing_if = "Vec::is_empty")]
    pub not_given: Vec<Subject>,
    /// Natural logarithm of the probability of all findings; none where it is not exact
    pub log_evidence: Option<f64>,
    /// What it lies between where it is not exact
    #[serde(skip_serializing_if = "Option::is_none")]
    pub log_evidence_between: Option<[f64; 2]>,
    /// Conflict of the findings, bits; none where nothing is exact
    pub conflict: Option<f64>,
    /// What to beware of, and to whom all this defers
    pub notice: &'static str,
}

/// A cause with its reasons
#[derive(Debug, Serialize)]
pub struct Cause {
    /// Its name in the rules
    pub id: String,
    /// Where
    pub place: String,
    /// Its label
    pub label: String,
    /// Its kind
    pub kind: String,
    /// The kind in plain words
    pub kind_label: String,
    /// Against whom it counts
    pub against: String,
    /// Probability before anything was seen
    pub prior: f64,
    /// Probability given all findings
    #[serde(flatten)]
    pub chance: Chance,
    /// Its bounds overlap those of the next cause, so that the order of the two is not settled
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub order_open: bool,
    /// It is shown one by one, with its reasons; only the diagnosis says so
    #[serde(rename = "told", skip_serializing_if = "std::ops::Not::not")]
    pub shown: bool,
    /// Its likeliest form, where it has several
    #[serde(skip_serializing_if = "Option::is_none")]
    pub form: Option<Form>,
    /// If it is there, the probability that it has been at work only lately; none where the rules do not tell that apart
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lately: Option<f64>,
    /// Steps from prior to probability
    pub reasons: Vec<Reason>,
    /// Other causes that would bring its main finding about
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub rivals: Vec<Rival>,
    /// What is done about it
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub remedies: Vec<Remedy>,
}

impl Report {
    /// The causes shown one by one, with their reasons
    pub fn shown_causes(&self) -> impl Iterator<Item = &Cause> {
        self.causes.iter().filter(|cause| cause.shown)
    }

    /// The conditions shown to the reader
    pub fn shown_conditions(&self) -> impl Iterator<Item = &Condition> {
        self.conditions.iter().filter(|condition| condition.shown)
    }

    /// Whether a state answers better than its causes: it is rather there than not, and no cause is
    pub fn state_answers(&self) -> bool {
        let likely = |chance: &Chance| chance.lower >= CONDITION_FROM;
        self.shown_conditions().any(|own| likely(&own.chance))
            && !self.causes.iter().any(|own| likely(&own.chance))
    }
}

impl Cause {
    /// The steps shown of it: the first ones, in the order in which they were taken in, so that each begins where the one
    /// before it ended; up to the last that is worth telling
    pub fn shown_steps(&self) -> &[Reason] {
        let moves = |reason: &Reason| percent(reason.from) != percent(reason.to);
        let telling = |reason: &Reason| !reason.rest && reason.decibans.abs() >= STEP_FROM && moves(reason);
        let first = self.reasons.get(..MOST_STEPS).unwrap_or(&self.reasons); // else: there are no more
        let count = first.iter().rposition(telling).map_or(0, |last| last + 1);
        first.get(..count).hold("the last one told is one of them")
    }
}

/// A form of a cause with its probability
#[derive(Debug, Serialize)]
pub struct Form {
    /// Name of the form
    pub name: String,
    /// Its probability
    pub probability: f64,
}

/// A cause that would explain the same
#[derive(Debug, Serialize)]
pub struct Rival {
    /// What it is, and where
    #[serde(flatten)]
    pub named: Subject,
    /// Its probability
    pub probability: f64,
}

/// A condition with its probability
#[derive(Debug, Serialize)]
pub struct Condition {
    /// Its name in the rules
    pub id: String,
    /// Where
    pub place: String,
    /// Its label
    pub label: String,
    /// Probability of not being normal, before anything was seen
    pub prior: f64,
    /// The same given all findings
    #[serde(flatten)]
    pub chance: Chance,
    /// It is shown to the reader
    #[serde(rename = "told", skip_serializing_if = "std::ops::Not::not")]
    pub shown: bool,
    /// Probability of each grade
    pub grades: Vec<Form>,
    /// What is done about it
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub remedies: Vec<Remedy>,
}

/// One step of the reasons
#[derive(Debug, Serialize)]
pub struct Reason {
    /// The finding that speaks loudest in it
    #[serde(flatten)]
    pub finding: Finding,
    /// Findings taken in together with it
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub together_with: Vec<Finding>,
    /// Change of the odds when taken in after the steps before
    pub decibans: f64,
    /// Had it been the only finding
    pub alone: f64,
    /// What would be lost without it
    pub left_out: f64,
    /// Probability before the step
    pub from: f64,
    /// Probability after it
    pub to: f64,
    /// The rule's own sentences, from the cause to the finding
    pub because: String,
    /// Labels of the conditions between
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub by_way_of: Vec<String>,
    /// The cause brings the finding about; else the finding bears on it through its rivals
    pub direct: bool,
    /// The rivals moved most, down by what speaks for the cause and up by what speaks against it
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub rivals: Vec<evidence::Then>,
    /// Small remainders told together
    pub rest: bool,
}

/// How worn a part is
#[derive(Clone, Debug, Serialize)]
pub struct Wear {
    /// The measure
    pub measure: String,
    /// Where
    pub place: String,
    /// Its label
    pub label: String,
    /// What was read, in `unit`
    pub read: f64,
    /// Unit it is shown in
    pub unit: String,
    /// Per cent worn
    pub percent: f64,
    /// Standard error of the per cent
    pub sigma: f64,
    /// Half of what nine of ten such readings lie within
    pub give_or_take: f64,
    /// Hours to 100 %
    pub left: Option<HoursLeft>,
    /// What the hours are reckoned from: `own pace` or `usual life`
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hours_by: Option<&'static str>,
}

/// A reading that says otherwise than the eye
#[derive(Debug, Serialize)]
pub struct Clash {
    /// The symptom
    pub finding: String,
    /// Where
    pub place: String,
    /// Its label
    pub label: String,
    /// Grade seen
    pub seen: String,
    /// Grade read, which counts
    pub read: String,
}

/// Findings that hardly go together
#[derive(Debug, Serialize)]
pub struct Hardly {
    /// The findings; without any one of them the rest do not conflict so much
    pub findings: Vec<Finding>,
    /// Their conflict, bits: 1 for half as likely together as if they had nothing to do with each other
    pub conflict: f64,
    /// No smaller set conflicts so much
    pub smallest: bool,
}

/// A sign of trouble that no likely cause accounts for
#[derive(Debug, Serialize)]
pub struct Unclaimed {
    /// The finding
    #[serde(flatten)]
    pub finding: Finding,
    /// What the plan does about it: labels of its work
    pub work: Vec<String>,
    /// Label of the look that is best at finding its cause
    pub look: Option<String>,
}

/// A finding that nothing in the rules explains
#[derive(Debug, Serialize)]
pub struct Unexplained {
    /// The finding
    #[serde(flatten)]
    pub finding: Finding,
    /// Probability that no cause or condition of the rules brought it about
    pub probability: f64,
}
