//! `pinboss next CASE`: what to look at next.

use super::Format;
use super::session::{self, Choice};
use super::shell::{self, Exit};
use crate::infer::Limits;
use crate::infer::information::Effort;
use crate::reason;
use crate::reason::next::next_checks;
use crate::report::extent::FULL;
use crate::report::record::told;
use crate::report::{self, tell};
use serde::Serialize;
use std::io;

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
    next_checks: Vec<told::NextCheck>,
}

pub(super) fn run(args: &Args) -> io::Result<Exit> {
    let Some(session) = session::open(&args.choice, args.format)? else {
        return Ok(Exit::FaultyInput);
    };
    let limits = Limits::often();
    let checks = reason::rank(&session.model, &session.ground, &limits)
        .and_then(|_| Ok(next_checks(&session.model, &session.ground, &limits, &Effort::default())?));
    let checks = match checks {
        Ok(checks) => checks,
        Err(stop) => return session::stopped(&session, &stop, args.format),
    };
    let checks: Vec<told::NextCheck> =
        checks.iter().map(|check| told::next_check(&session.model, &session.ground, check)).collect();
    let most = if args.all { checks.len() } else { FULL.checks };
    match args.format {
        Format::Json => {
            let next_checks = checks.into_iter().take(most).collect();
            shell::answer(&report::json(&Answer { next_checks })?)?;
        }
        Format::Text => shell::show(&tell::next_checks(&checks, most))?,
    }
    Ok(Exit::Done)
}
