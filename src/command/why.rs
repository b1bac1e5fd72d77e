//! `pinboss why CASE NAME`: everything for and against one cause, or what explains one finding.

use super::budget::BudgetArgs;
use super::session::{self, Choice, Session};
use super::shell::{self, Exit};
use super::{Format, name};
use crate::ground::Ground;
use crate::infer::Limits;
use crate::infer::bounds::Budget;
use crate::model::{Hidden, SymptomId};
use crate::network::NodeId;
use crate::place::Place;
use crate::reason::explain::explain;
use crate::reason::robust::Effort;
use crate::reason::{self, Ranked, Stop};
use crate::report::record::robust::{Robust, robust as told_robust};
use crate::report::record::{told, why};
use crate::report::{self, tell};
use std::io;

/// Places told when a name is asked about without one
const MOST_PLACES: usize = 2;
/// Most draws that can be asked for
const MOST_DRAWS: usize = 100_000;

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
    /// Tell, too, how firm the likeliest place stands: which figures of the rules would change the order of causes, and
    /// what comes out when all of them are drawn anew
    #[arg(long)]
    robust: bool,
    /// How many times they are drawn, however long that takes; 1000 when not said, fewer where each takes long
    #[arg(long, value_name = "N", requires = "robust", value_parser = draws)]
    draws: Option<usize>,
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
    let ground = supposed.as_ref().unwrap_or(&session.ground); // else: nothing is supposed
    let answer = match asked {
        name::Asked::Hidden(hidden, place) => {
            let effort = args.robust.then(|| args.draws.map_or_else(Effort::default, Effort::of));
            causes(&session, ground, (hidden, place.as_ref()), &args.budget.budget(), effort.as_ref())
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
    if args.robust && answer.robust.is_none() {
        shell::say(
            "pinboss: how firm that is can be told of a cause, and where its signs are not too entangled\n",
        )?;
    }
    match args.format {
        Format::Json => shell::answer(&report::json(&answer)?)?,
        Format::Text => shell::show(&tell::why(&answer))?,
    }
    Ok(Exit::Done)
}

fn causes(
    session: &Session,
    ground: &Ground,
    (hidden, place): (Hidden, Option<&Place>),
    budget: &Budget,
    effort: Option<&Effort>,
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
    let robust = match (hidden, found.first(), effort) {
        (Hidden::Cause(_), Some(first), Some(effort)) => robust(session, ground, first.node, &all, effort),
        _ => None,
    };
    Ok(why::Why {
        supposed: None,
        robust,
        before: found.iter().filter_map(without).collect(),
        causes: why::causes(&session.model, ground, &found, &all),
        findings: Vec::new(),
    })
}

/// How firm a cause stands; none where the findings are too entangled to be weighed so often
pub(super) fn robust(
    session: &Session,
    ground: &Ground,
    cause: NodeId,
    all: &[Ranked],
    effort: &Effort,
) -> Option<Robust> {
    let found = reason::robust::robust(&session.model, ground, cause, effort).ok()?;
    told_robust(&session.model, ground, &found, all)
}

fn draws(words: &str) -> Result<usize, String> {
    match words.parse::<usize>() {
        Ok(draws) if draws <= MOST_DRAWS => Ok(draws),
        _ => Err(format!("give a whole number from 0 to {MOST_DRAWS}")),
    }
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
    Ok(why::Why { supposed: None, robust: None, causes: Vec::new(), before: Vec::new(), findings })
}
