//! `pinboss next CASE`: what to look at next.

use super::Format;
use super::session::{self, Choice};
use super::shell::{self, Exit, Run};
use crate::plan::standstill::Standstill;
use crate::report::extent::FULL;
use crate::report::record::evidence;
use crate::report::{self, tell};
use serde::Serialize;

/// What to look at next, in order, with what each outcome would do
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    choice: Choice,
    /// Tell every check that would tell something, not only the first ten
    #[arg(long)]
    all: bool,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

/// The answer as JSON
#[derive(Serialize)]
struct Answer {
    next_checks: Vec<evidence::NextCheck>,
    stands: Option<Standstill>,
}

pub(super) fn run(args: &Args) -> Run {
    let session = session::open(&args.choice, args.format)?;
    let (model, ground) = (session.model(), session.ground());
    let next = session.consultation.next().map_err(|stop| session.stopped(&stop, args.format))?;
    let checks: Vec<evidence::NextCheck> =
        next.checks.iter().map(|check| evidence::next_check(model, ground, check)).collect();
    let most = if args.all { checks.len() } else { FULL.checks };
    match args.format {
        Format::Json => {
            let next_checks = checks.into_iter().take(most).collect();
            shell::answer(&report::json(&Answer { next_checks, stands: next.stands.clone() })?)?;
        }
        Format::Text => shell::show(&tell::next_checks(&checks, next.stands.as_ref(), most))?,
    }
    Ok(Exit::Done)
}
