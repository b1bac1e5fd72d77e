//! What came of cases tried against rules, as it is told.

use crate::ground::Ground;
use crate::model::Model;
use crate::network::NodeId;
use crate::report::record::diagnosis::{Cause, from_weighing};
use crate::report::words::{bound, figure, percent, ratio_in_words};
use crate::source::{Sources, Spanned};
use crate::trial;
use crate::trial::claim::{ABSENT_UNDER, By, Claim, Claimed, PRESENT_OVER};
use crate::trial::exercised::{self, Exercised, Sort};
use crate::trial::judge::{Came, Verdict};
use crate::trial::true_cause::Tally;
use serde::Serialize;

/// What came of all cases
#[derive(Debug, Default, Serialize)]
pub struct Trials {
    /// Cases tried, in the order of their files
    pub cases: Vec<Case>,
    /// How many of them hold
    pub hold: usize,
    /// How often a true cause came first
    pub true_causes: TrueCauses,
    /// Files that tell no truth and expect nothing
    pub nothing_claimed: Vec<String>,
    /// Files that could not be tried; what is wrong with them stands among the problems
    pub not_tried: Vec<String>,
    /// How much of the rules the cases exercise, sort by sort
    pub exercised: Vec<Share>,
}

/// How often a true cause came first
#[derive(Debug, Default, Serialize)]
pub struct TrueCauses {
    /// Cases in which strip-down showed a cause
    pub cases: usize,
    /// Of these, cases whose likeliest cause is a true one
    pub first: usize,
    /// Of these, cases with a true one among the first three
    pub among_three: usize,
}

impl From<Tally> for TrueCauses {
    fn from(tally: Tally) -> Self {
        Self { cases: tally.cases, first: tally.first, among_three: tally.among }
    }
}

/// What came of one case
#[derive(Debug, Serialize)]
pub struct Case {
    /// Its file
    pub file: String,
    /// What it is called
    pub title: String,
    /// How many claims it makes
    pub claims: usize,
    /// The claims that do not hold
    pub failures: Vec<Failure>,
}

/// A claim that does not hold
#[derive(Debug, Serialize)]
pub struct Failure {
    /// Line of the file, from 1
    pub line: usize,
    /// Who claims it: `truth` or `expect`
    pub by: &'static str,
    /// The name as the case has it; empty for a claim on the whole
    pub name: String,
    /// What was expected
    pub expected: String,
    /// What came out
    pub came_out: String,
    /// What stands too high or too low, each with its steps
    pub astray: Vec<Astray>,
}

/// A cause or condition that stands too high or too low
#[derive(Debug, Serialize)]
pub struct Astray {
    /// It stands too high, so that what speaks for it led astray; else what speaks against it did
    pub too_high: bool,
    /// What it is, with its steps
    #[serde(flatten)]
    pub cause: Cause,
}

/// How much of one sort of rule the cases exercise
#[derive(Debug, Serialize)]
pub struct Share {
    /// `cause`, `condition`, `symptom`, `check` or `with line`
    pub sort: &'static str,
    /// How many the rules have
    pub rules: usize,
    /// How many of them some case exercises
    pub exercised: usize,
    /// How many of the others have no published source either, and so rest on whoever wrote them
    pub by_author_alone: usize,
    /// The others
    pub not_exercised: Vec<Rule>,
}

/// A rule that no case exercises
#[derive(Debug, Serialize)]
pub struct Rule {
    /// Its name; for a line that of its block
    pub name: String,
    /// Its file
    pub file: String,
    /// Its line, from 1
    pub line: usize,
    /// Whether its block names a published source
    pub sourced: bool,
    /// The line as written; empty for a block
    #[serde(skip_serializing_if = "String::is_empty")]
    pub text: String,
}

/// What came of one case, with names
pub fn case(
    model: &Model,
    ground: &Ground,
    trial: &trial::Trial,
    title: &Spanned<String>,
    sources: &Sources,
) -> Case {
    let failing = trial.claims.iter().zip(&trial.verdicts).filter(|(_, verdict)| !verdict.holds);
    Case {
        file: sources.name(title.at.source).to_owned(),
        title: title.value.clone(),
        claims: trial.claims.len(),
        failures: failing.map(|(own, verdict)| failure(model, ground, own, verdict, sources)).collect(),
    }
}

fn failure(model: &Model, ground: &Ground, own: &Claimed, verdict: &Verdict, sources: &Sources) -> Failure {
    let astray = verdict.astray.iter().map(|astray| Astray {
        too_high: astray.too_high,
        cause: from_weighing::cause(model, ground, &astray.ranked, &[]),
    });
    Failure {
        line: sources.place(own.at).line,
        by: match own.by {
            By::Truth => "truth",
            By::Expect => "expect",
        },
        name: own.name.clone(),
        expected: expected(own),
        came_out: came_out(model, ground, verdict),
        astray: astray.collect(),
    }
}

/// What was expected, in words that go on `expected …`
pub fn expected(own: &Claimed) -> String {
    let name = &own.name;
    match (&own.claim, own.by) {
        (Claim::Above(_, with), By::Truth) if with.len() > 1 => {
            format!("`{name}`, which was there, above all that were not")
        }
        (Claim::Above(..), By::Truth) => format!("`{name}`, which was there, above all others"),
        (Claim::Above(_, with), By::Expect) if with.len() > 1 => {
            format!("`{name}` above all that are not named with it")
        }
        (Claim::Above(..), By::Expect) => format!("`{name}` first"),
        (Claim::Form(_), _) => {
            format!("`{name}` as the likeliest form ({} or more of it)", bound(PRESENT_OVER))
        }
        (Claim::Over(_, most), By::Truth) => format!("`{name}`, which was there, over {}", bound(*most)),
        (Claim::Over(_, most), By::Expect) => format!("`{name}` over {}", bound(*most)),
        (Claim::Under(_, most), By::Truth) => {
            format!("`{name}`, which was not there, under {}", bound(*most))
        }
        (Claim::Under(_, most), By::Expect) => format!("`{name}` under {}", bound(*most)),
        (Claim::Sound, _) => format!("no cause over {}, for none was there", bound(ABSENT_UNDER)),
        (Claim::Next(_, _, 1), _) => format!("`{name}` first among the next checks"),
        (Claim::Next(_, _, most), _) => format!("`{name}` among the first {most} next checks"),
        (Claim::Unexplained(..), _) => format!("the finding `{name}` explained by nothing in the rules"),
        (Claim::Held(..), _) => format!("`{name}` held back"),
        (Claim::Weight(weight), _) => {
            let word = if weight.over { "over" } else { "under" };
            format!("a likelihood ratio {word} {} against the {name}", figure(weight.ratio))
        }
    }
}

fn came_out(model: &Model, ground: &Ground, verdict: &Verdict) -> String {
    match &verdict.came {
        Came::CannotBe => "by the facts told it cannot be on this machine".to_owned(),
        Came::Chance(chance) => percent(*chance),
        Came::Among(chance, Some((node, first))) => {
            format!("{}; `{}` gets {}", percent(*chance), called(model, ground, *node), percent(*first))
        }
        Came::Among(chance, None) => percent(*chance),
        Came::First(node, chance) => format!("`{}` gets {}", called(model, ground, *node), percent(*chance)),
        Came::Number(Some(number)) => format!("it is number {number}"),
        Came::Number(None) => {
            "it is not among them: it is done, cannot be done, or would tell nothing".to_owned()
        }
        Came::So(true) => "it is so".to_owned(),
        Came::So(false) => "it is not so".to_owned(),
        Came::Ratio(Some(ratio)) => format!("it is {}", ratio_in_words(*ratio)),
        Came::Ratio(None) => {
            "nothing that could have brought the damage about counts against that party".to_owned()
        }
    }
}

/// Name and place of a cause or condition as a case writes them
pub fn called(model: &Model, ground: &Ground, node: NodeId) -> String {
    let Some(origin) = ground.origin(node) else { return String::new() };
    let Some(hidden) = origin.as_hidden() else { return String::new() };
    let (name, place) = (&model.common(hidden).name, origin.place());
    if place.side().is_some() { format!("{name} {place}") } else { name.clone() }
}

/// How much of the rules was exercised by all cases together
pub fn shares(model: &Model, done: &Exercised, sources: &Sources) -> Vec<Share> {
    let rules = exercised::rules(model);
    let sorts = [
        (Sort::Cause, "cause"),
        (Sort::Condition, "condition"),
        (Sort::Symptom, "symptom"),
        (Sort::Check, "check"),
        (Sort::Line, "with line"),
    ];
    let share = |(sort, word): (Sort, &'static str)| {
        let own: Vec<_> = rules.iter().filter(|rule| rule.sort == sort).collect();
        let left: Vec<_> = own.iter().filter(|rule| !done.at.contains(&rule.at)).collect();
        let rule = |rule: &exercised::Rule| {
            let place = sources.place(rule.at);
            let text = if sort == Sort::Line { one_line(sources.slice(rule.at)) } else { String::new() };
            Rule { name: rule.name.clone(), file: place.file, line: place.line, sourced: rule.sourced, text }
        };
        Share {
            sort: word,
            rules: own.len(),
            exercised: own.len() - left.len(),
            by_author_alone: left.iter().filter(|rule| !rule.sourced).count(),
            not_exercised: left.into_iter().map(|own| rule(own)).collect(),
        }
    };
    sorts.into_iter().map(share).collect()
}

/// A piece of a rule file in one line, without the sentence beneath it
fn one_line(text: &str) -> String {
    let text = text.split_once('"').map_or(text, |(before, _)| before);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
