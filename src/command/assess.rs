//! `pinboss assess CASE`: the weight of the findings for and against what would count against each party.

mod question;

use super::Format;
use super::budget::BudgetArgs;
use super::session::{self, Choice, Session};
use super::shell::{self, Exit, Run};
use super::stream::{self, Threads};
use crate::assess::draws::Drawn;
use crate::assess::scale::LEAST_DRAWS;
use crate::assess::{self, Asked, Party};
use crate::ground::Ground;
use crate::infer::Limits;
use crate::model::Model;
use crate::problem::did_you_mean;
use crate::report::record::assess::Report;
use crate::report::record::assess::from_assessment::{Made, report};
use crate::report::{self, tell};
use std::io;

/// Weigh fair wear against misuse, party by party: for whoever must judge, never a verdict
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    choice: Choice,
    #[command(flatten)]
    question: Question,
    /// Only what weighs for and against one party: operator, owner, fitter, maker or site
    #[arg(long, value_name = "WHO")]
    party: Option<String>,
    #[command(flatten)]
    threads: Threads,
    #[command(flatten)]
    budget: BudgetArgs,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

/// What is asked of an assessment, wherever it is told
#[derive(Debug, clap::Args)]
pub(super) struct Question {
    /// The damage in question, in place of what the case says under `in_question`: `"bushing_thin left"`; may be
    /// given several times
    #[arg(long, value_name = "DAMAGE")]
    pub about: Vec<String>,
    /// How often the strengths of the rules are drawn anew for the range of the ratio and the word that goes by it: 100
    /// or more; 0 for neither
    #[arg(long, value_name = "N", default_value_t = 400, value_parser = draws)]
    pub draws: u32,
}

/// Most draws that can be asked for
const MOST_DRAWS: u32 = 100_000;

fn draws(words: &str) -> Result<u32, String> {
    let least = LEAST_DRAWS as u32;
    match words.parse::<u32>() {
        Ok(0) => Ok(0),
        Ok(draws) if draws < least => Err(format!(
            "too few for a range: a twentieth on either side is left out, so give {least} to {MOST_DRAWS}, or 0 for no \
             range and no word"
        )),
        Ok(draws) if draws <= MOST_DRAWS => Ok(draws),
        _ => Err(format!("give {least} to {MOST_DRAWS}, or 0 for no range and no word")),
    }
}

pub(super) fn run(args: &Args) -> Run {
    let session = session::open(&args.choice, args.format)?.within(args.budget.budget());
    let report = assessed(&session, &args.question, args.party.as_deref(), args.threads, args.format)?;
    match args.format {
        Format::Json => shell::answer(&report::json(&report)?)?,
        Format::Text => shell::show(&tell::assess(&report))?,
    }
    Ok(Exit::Done)
}

/// The assessment of a case, of one party or of all; why there is none has been told then, and the run ends
pub(super) fn assessed(
    session: &Session,
    question: &Question,
    party: Option<&str>,
    threads: Threads,
    format: Format,
) -> Run<Report> {
    let (model, ground, weighing) = (session.model(), session.ground(), session.weighing());
    let asked = question::damage(session, &question.about).and_then(|damage| {
        let parties = one_of(assess::parties(model, ground, &damage), party)?;
        Ok((damage, parties))
    });
    let (damage, parties) = asked.map_err(shell::refuse)?;
    let asked = assess::asked(weighing, &parties);
    let draws = drawn((model, ground), &asked, question.draws, threads)?;
    let assessment = assess::assess(weighing, &damage, &asked, &draws);
    let assessment = assessment.map_err(|stop| session.stopped(&stop, format))?;
    Ok(report(&Made {
        model,
        inspection: session.inspection(),
        ground,
        assessment: &assessment,
        rules_digest: &session.rules_digest,
        case_digest: &session.case_digest,
    }))
}

/// One of the parties, or all of them
///
/// # Errors
/// That the rules know no such party.
fn one_of(parties: Vec<Party>, wanted: Option<&str>) -> Result<Vec<Party>, String> {
    let Some(wanted) = wanted else { return Ok(parties) };
    let known: Vec<String> = parties.iter().map(|party| party.name.clone()).collect();
    let found: Vec<Party> = parties.into_iter().filter(|party| party.name == wanted).collect();
    if found.is_empty() {
        let all = format!("causes count against {}", known.join(", "));
        let help = did_you_mean(wanted, known.iter().map(String::as_str), &all);
        return Err(format!("by these rules nothing counts against `{wanted}`: {help}"));
    }
    Ok(found)
}

/// Likelihood ratios with the strengths of the rules drawn anew, on all cores
fn drawn(
    (model, ground): (&Model, &Ground),
    asked: &[Asked],
    draws: u32,
    threads: Threads,
) -> io::Result<Vec<Vec<Drawn>>> {
    let mut rows = Vec::new();
    let limits = Limits::often();
    stream::in_order(
        (0..u64::from(draws)).map(Ok),
        threads,
        |_| 0,
        |number| assess::draws::draw(model, ground, asked, &limits, number),
        |drawn| {
            rows.extend(drawn.into_iter().flatten());
            Ok(())
        },
    )?;
    Ok(rows)
}
