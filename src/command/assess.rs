//! `pinboss assess CASE`: the weight of the findings for and against what would count against each party.

use super::Format;
use super::budget::BudgetArgs;
use super::name;
use super::session::{self, Choice, Session};
use super::shell::{self, Exit, width};
use super::stream::{self, Threads};
use crate::assess::draws::Drawn;
use crate::assess::scale::LEAST_DRAWS;
use crate::assess::{self, Asked, Damage, Party, Settings};
use crate::ground::Origin;
use crate::infer::Limits;
use crate::model::{Hidden, Model};
use crate::place::Place;
use crate::problem::did_you_mean;
use crate::report::assess::Report;
use crate::report::assess::make::{Made, report};
use crate::report::{self, text};
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

pub(super) fn run(args: &Args) -> io::Result<Exit> {
    let Some(session) = session::open(&args.choice, args.format)? else {
        return Ok(Exit::FaultyInput);
    };
    let party = args.party.as_deref();
    let report = match assessed(&session, &args.question, party, (args.threads, args.budget), args.format)? {
        Ok(report) => report,
        Err(exit) => return Ok(exit),
    };
    match args.format {
        Format::Json => shell::answer(&report::json(&report)?)?,
        Format::Text => shell::answer(&text::assess(&report, width()))?,
    }
    Ok(Exit::Done)
}

/// The assessment of a case, of one party or of all, or how the run ends without one, which has been told then
pub(super) fn assessed(
    session: &Session,
    question: &Question,
    party: Option<&str>,
    (threads, budget): (Threads, BudgetArgs),
    format: Format,
) -> io::Result<Result<Report, Exit>> {
    let Session { model, ground, inspection, .. } = session;
    let asked = damage(session, &question.about).and_then(|damage| {
        let parties = one_of(assess::parties(model, ground, &damage), party)?;
        Ok((damage, parties))
    });
    let (damage, parties) = match asked {
        Ok(asked) => asked,
        Err(words) => return shell::refuse(&words).map(Err),
    };
    let settings = Settings { limits: Limits::default(), budget: budget.budget() };
    let asked = assess::asked(model, ground, &parties, &settings.limits);
    let draws = drawn(session, &asked, question.draws, threads)?;
    let assessment = match assess::assess(model, ground, &damage, &asked, &draws, &settings) {
        Ok(assessment) => assessment,
        Err(stop) => return session::stopped(session, &stop, format).map(Err),
    };
    Ok(Ok(report(&Made {
        model,
        inspection,
        ground,
        assessment: &assessment,
        rules_digest: &session.rules_digest,
        case_digest: &session.case_digest,
    })))
}

/// The damage named in the call, or in the case
///
/// # Errors
/// What is wrong with it, for the person who asked.
fn damage(session: &Session, about: &[String]) -> Result<Vec<Damage>, String> {
    let Session { model, ground, inspection, .. } = session;
    let absent = |name: &str| {
        format!("`{name}` is no symptom or condition on this machine, as told: name the damage and its place")
    };
    if !about.is_empty() {
        let one = |words: &String| {
            let (name, place) = match name::asked(session, words)? {
                name::Asked::Symptom(id, place) => (&model[id].effect.common.name, place),
                name::Asked::Hidden(Hidden::Condition(id), place) => (&model[id].common.name, place),
                name::Asked::Hidden(Hidden::Cause(_), _) => {
                    return Err(format!(
                        "`{words}` is a cause: name the damage that it is said to have done"
                    ));
                }
            };
            let place = place.unwrap_or(Place::Machine);
            assess::damage_at(model, ground, name, None, place).ok_or_else(|| absent(words))
        };
        return about.iter().map(one).collect();
    }
    if inspection.in_question.is_empty() {
        return Err(format!(
            "the case puts no damage in question: write it there, as in `in_question: [{example}]`, \
             or call with `--about \"{example}\"`",
            example = example(model, session)
        ));
    }
    let one = |name| {
        let found = assess::damage(model, ground, name);
        found.ok_or_else(|| absent(&name.name.value))
    };
    inspection.in_question.iter().map(one).collect()
}

/// A finding of the case that could be in question
fn example(model: &Model, session: &Session) -> String {
    let abnormal = session.ground.observations.iter().find(|own| own.grade != 0);
    let node = abnormal.map(|own| own.node).and_then(|node| session.ground.origin(node));
    match node {
        Some(Origin::Symptom(id, Place::Machine)) => model[*id].effect.common.name.clone(),
        Some(Origin::Symptom(id, place)) => format!("{} {place}", model[*id].effect.common.name),
        _ => "bushing_thin left".to_owned(),
    }
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
fn drawn(session: &Session, asked: &[Asked], draws: u32, threads: Threads) -> io::Result<Vec<Vec<Drawn>>> {
    let mut rows = Vec::new();
    let limits = Limits::often();
    stream::in_order(
        (0..u64::from(draws)).map(Ok),
        threads,
        |_| 0,
        |number| assess::draws::draw(&session.model, &session.ground, asked, &limits, number),
        |drawn| {
            rows.extend(drawn.into_iter().flatten());
            Ok(())
        },
    )?;
    Ok(rows)
}
