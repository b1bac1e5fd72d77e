//! `pinboss diagnose CASE`: the main job.

use super::Format;
use super::budget::BudgetArgs;
use super::session::{self, Choice};
use super::shell::{self, Exit, Run};
use super::whole::whole;
use crate::problem::Problems;
use crate::report::form::markdown::markdown;
use crate::report::{self, tell};
use clap::ValueEnum;

/// Weigh what was seen and read: probable causes with reasons, next checks, wear
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    choice: Choice,
    #[command(flatten)]
    budget: BudgetArgs,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Form,
}

/// The form of an answer
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq, ValueEnum)]
enum Form {
    /// For people
    #[default]
    Text,
    /// For people, with headings and lists that other programs lay out
    Markdown,
    /// For programs
    Json,
}

pub(super) fn run(args: &Args) -> Run {
    let format = if args.format == Form::Json { Format::Json } else { Format::Text };
    let session = session::open_with_visits(&args.choice, format, |_, _| Problems::default())?;
    let report = whole(&session.within(args.budget.budget()), format)?;
    match args.format {
        Form::Json => shell::answer(&report::json(&report)?)?,
        Form::Text => shell::show(&tell::diagnosis(&report))?,
        Form::Markdown => shell::answer(&markdown(tell::diagnosis(&report)))?,
    }
    Ok(Exit::Done)
}
