//! `pinboss why CASE NAME`: everything for and against one cause, or what explains one finding.

use super::budget::BudgetArgs;
use super::session::{self, Choice};
use super::shell::{self, Exit, Run};
use super::{Format, name};
use crate::model::{Hidden, SymptomId};
use crate::network::NodeId;
use crate::place::Place;
use crate::reason::robust::Effort;
use crate::reason::{Ranked, Stop, Weighing};
use crate::report::record::robust::{self, Robust};
use crate::report::record::{evidence, why};
use crate::report::{self, tell};

/// Places shown when a name is asked about without one
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

pub(super) fn run(args: &Args) -> Run {
    let session = session::open(&args.choice, args.format)?.within(args.budget.budget());
    let asked = name::asked(&session, &args.name.join(" ")).map_err(shell::refuse)?;
    let supposed = args.suppose.as_deref().map(|words| name::supposed(&session, words)).transpose();
    let supposed = supposed.map_err(shell::refuse)?.map(|ground| session.weighing().supposing(ground));
    let weighing = supposed.as_ref().unwrap_or(session.weighing()); // else: nothing is supposed
    let answer = match asked {
        name::Asked::Hidden(hidden, place) => {
            let effort = args.robust.then(|| args.draws.map_or_else(Effort::default, Effort::of));
            causes(weighing, session.weighing(), (hidden, place.as_ref()), effort.as_ref())
        }
        name::Asked::Symptom(symptom, place) => findings(weighing, symptom, place.as_ref()),
    };
    let mut answer = answer.map_err(|stop| session.stopped(&stop, args.format))?;
    if let Some(own) = supposed.as_ref().and_then(|supposed| supposed.ground().observations.last()) {
        answer.supposed = Some(evidence::observation(session.model(), own));
    }
    if answer.causes.is_empty() && answer.findings.is_empty() {
        return Err(shell::refuse(format!(
            "`{}` is not on this machine, or was not seen there",
            args.name.join(" ")
        )));
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

/// What is to be told of a cause or condition; `unsupposed` has the findings of the case alone
fn causes(
    weighing: &Weighing,
    unsupposed: &Weighing,
    (hidden, place): (Hidden, Option<&Place>),
    effort: Option<&Effort>,
) -> Result<why::Why, Stop> {
    let wanted = |one: &Ranked| place.is_none_or(|place| one.place == *place);
    let most = if place.is_some() { usize::MAX } else { MOST_PLACES };
    let (all, found): (&[Ranked], Vec<Ranked>) = match weighing.causes() {
        Ok(all) => (all, weighing.why(hidden)?),
        Err(Stop::TooWide(_)) => {
            let whole = weighing.in_bounds()?;
            let both = whole.causes.iter().chain(&whole.conditions);
            (&[], both.filter(|one| one.hidden == hidden).cloned().collect())
        }
        Err(stop) => return Err(stop),
    };
    let found: Vec<Ranked> = found.into_iter().filter(wanted).take(most).collect();
    let before = match unsupposed.places(hidden) {
        Err(Stop::TooWide(_)) => Vec::new(),
        before => before?,
    };
    let without = |one: &Ranked| before.iter().find(|old| old.place == one.place).map(|old| old.probability);
    let robust = match (hidden, found.first(), effort) {
        (Hidden::Cause(_), Some(first), Some(effort)) => robust(weighing, first.node, all, effort),
        _ => None,
    };
    Ok(why::Why {
        supposed: None,
        robust,
        before: found.iter().filter_map(without).collect(),
        causes: why::causes(weighing.model(), weighing.ground(), &found, all),
        findings: Vec::new(),
    })
}

/// How firm a cause stands; none where the findings are too entangled to be weighed so often
pub(super) fn robust(weighing: &Weighing, cause: NodeId, all: &[Ranked], effort: &Effort) -> Option<Robust> {
    let found = weighing.robust(cause, effort).ok()?;
    robust::robust(weighing.model(), weighing.ground(), &found, all)
}

fn draws(words: &str) -> Result<usize, String> {
    match words.parse::<usize>() {
        Ok(draws) if draws <= MOST_DRAWS => Ok(draws),
        _ => Err(format!("give a whole number from 0 to {MOST_DRAWS}")),
    }
}

fn findings(weighing: &Weighing, symptom: SymptomId, place: Option<&Place>) -> Result<why::Why, Stop> {
    let (model, ground) = (weighing.model(), weighing.ground());
    weighing.causes()?;
    let mut findings = Vec::new();
    for (number, own) in ground.observations.iter().enumerate() {
        if own.symptom == symptom && place.is_none_or(|place| own.place == *place) {
            findings.extend(why::finding(model, ground, &weighing.explain(number)?));
        }
    }
    Ok(why::Why { supposed: None, robust: None, causes: Vec::new(), before: Vec::new(), findings })
}
