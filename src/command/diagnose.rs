//! `pinboss diagnose CASE`: the main job.

use super::Format;
use super::budget::BudgetArgs;
use super::session::{self, Choice};
use super::shell::{self, Exit, width};
use super::whole::whole;
use crate::plan::prices::Terms;
use crate::report::{self, tell};
use std::io;

/// Weigh what was seen and read: probable causes with reasons, next checks, wear
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    choice: Choice,
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
    let report = match whole(&session, &args.choice, &args.budget.budget(), &Terms::default(), args.format)? {
        Ok(report) => report,
        Err(exit) => return Ok(exit),
    };
    match args.format {
        Format::Json => shell::answer(&report::json(&report)?)?,
        Format::Text => shell::answer(&tell::diagnosis(&report, width()))?,
    }
    Ok(Exit::Done)
}
