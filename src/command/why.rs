//! `pinboss why CASE NAME`: everything for and against one cause, or what explains one finding.

use super::budget::BudgetArgs;
use super::session::{self, Choice, Session};
use super::shell::{self, Exit, width};
use super::{Format, name};
use crate::ground::Ground;
use crate::infer::Limits;
use crate::infer::bounds::Budget;
use crate::model::SymptomId;
use crate::place::Place;
use crate::reason::explain::explain;
use crate::reason::{self, Ranked, Stop};
use crate::report::{self, text, told, why};
use std::io;

/// Places told when a name is asked about without one
const MOST_PLACES: usize = 2;

/// Everything for and against one cause or condition, or what explains one finding
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    choice: Choice,
    /// A cause, a condition or a symptom, with its place if wanted: `idler_out_of_line left`
    #[arg(required = true, num_args = 1..)]
    name: Vec<String>,
    /// Suppose a finding on top of the others: `"flange_worn right=inboard"`
    #[arg(long = "if", value_name = "FINDING=GRADE")]
    suppose: Option<String>,
    #[command(flatten)]
    budget: BudgetArgs,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

pub(super) fn run(args: &Args) -> io::Result<Exit> {
    let Some(session) = session::open(&args.choice, args.format)? else {
        return Ok(Exit::FaultyInput);
    };
    let asked = match name::asked(&session, &args.name.join(" ")) {
        Ok(asked) => asked,
        Err(words) => return shell::refuse(&words),
    };
    let supposed = match args.suppose.as_deref().map(|words| name::supposed(&session, words)).transpose() {
        Ok(supposed) => supposed,
        Err(words) => return shell::refuse(&words),
    };
    let ground = supposed.as_ref().unwrap_or(&session.ground);
    let answer = match asked {
        name::Asked::Hidden(hidden, place) => {
            causes(&session, ground, hidden, place.as_ref(), &args.budget.budget())
        }
        name::Asked::Symptom(symptom, place) => findings(&session, ground, symptom, place.as_ref()),
    };
    let mut answer = match answer {
        Ok(answer) => answer,
        Err(stop) => return session::stopped(&session, &stop, args.format),
    };
    if let Some(own) = supposed.as_ref().and_then(|ground| ground.observations.last()) {
        answer.supposed = Some(told::observation(&session.model, own));
    }
    if answer.causes.is_empty() && answer.findings.is_empty() {
        return shell::refuse(&format!(
            "`{}` is not on this machine, or was not seen there",
            args.name.join(" ")
        ));
    }
    match args.format {
        Format::Json => shell::answer(&report::json(&answer)?)?,
        Format::Text => shell::answer(&text::why(&answer, width()))?,
    }
    Ok(Exit::Done)
}

fn causes(
    session: &Session,
    ground: &Ground,
    hidden: crate::model::Hidden,
    place: Option<&Place>,
    budget: &Budget,
) -> Result<why::Why, Stop> {
    let limits = Limits::default();
    let wanted = |one: &Ranked| place.is_none_or(|place| one.place == *place);
    let most = if place.is_some() { usize::MAX } else { MOST_PLACES };
    let (all, found) = match reason::rank(&session.model, ground, &limits) {
        Ok(all) => (all, reason::why(&session.model, ground, &limits, hidden)?),
        Err(Stop::TooWide(_)) => {
            let whole = reason::bounded::bounded(ground, budget)?;
            let both = whole.causes.into_iter().chain(whole.conditions);
            (Vec::new(), both.filter(|one| one.hidden == hidden).collect())
        }
        Err(stop) => return Err(stop),
    };
    let found: Vec<Ranked> = found.into_iter().filter(wanted).take(most).collect();
    let before = match reason::why(&session.model, &session.ground, &limits, hidden) {
        Err(Stop::TooWide(_)) => Vec::new(),
        before => before?,
    };
    let without = |one: &Ranked| before.iter().find(|old| old.place == one.place).map(|old| old.probability);
    Ok(why::Why {
        supposed: None,
        before: found.iter().filter_map(without).collect(),
        causes: why::causes(&session.model, ground, &found, &all),
        findings: Vec::new(),
    })
}

fn findings(
    session: &Session,
    ground: &Ground,
    symptom: SymptomId,
    place: Option<&Place>,
) -> Result<why::Why, Stop> {
    let limits = Limits::default();
    let all = reason::rank(&session.model, ground, &limits)?;
    let mut findings = Vec::new();
    for (number, own) in ground.observations.iter().enumerate() {
        if own.symptom == symptom && place.is_none_or(|place| own.place == *place) {
            let explanation = explain(&session.model, ground, &limits, &all, number)?;
            findings.extend(why::finding(&session.model, ground, &explanation));
        }
    }
    Ok(why::Why { supposed: None, causes: Vec::new(), before: Vec::new(), findings })
}
