//! `pinboss report CASE -o FILE.html`: one file to print or send; `pinboss report verify FILE.html CASE`.

mod history;
mod photos;
mod verify;

use super::budget::BudgetArgs;
use super::save::{Output, would_be_lost};
use super::session::{self, Choice, Session};
use super::shell::{self, Exit};
use super::whole::whole;
use crate::report::document::{self, Document};
use crate::report::{self, html};
use std::io;
use std::path::PathBuf;

/// One file to print or send: machine and visit, both tracks drawn, wear, causes with reasons, checks, pictures, rules
#[derive(Debug, clap::Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true)]
pub(super) struct Args {
    #[command(subcommand)]
    other: Option<Other>,
    #[command(flatten)]
    choice: Option<Choice>,
    #[command(flatten)]
    budget: BudgetArgs,
    #[command(flatten)]
    output: Output,
    /// Form of the report
    #[arg(long, value_enum, default_value_t)]
    format: Form,
}

#[derive(Debug, clap::Subcommand)]
enum Other {
    Verify(verify::Args),
}

/// The form of a report
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq, clap::ValueEnum)]
enum Form {
    /// A page that stands by itself, to print or send
    #[default]
    Html,
    /// The same for programs
    Json,
}

impl From<Form> for super::Format {
    fn from(form: Form) -> Self {
        match form {
            Form::Html => super::Format::Text,
            Form::Json => super::Format::Json,
        }
    }
}

pub(super) fn run(args: &Args) -> io::Result<Exit> {
    if let Some(Other::Verify(args)) = &args.other {
        return verify::run(args);
    }
    let Some(choice) = &args.choice else {
        return shell::refuse("name a case file");
    };
    let (document, inputs) = match made(choice, args.budget, args.format.into())? {
        Ok(made) => made,
        Err(exit) => return Ok(exit),
    };
    for input in &inputs {
        if let Some(why) = args.output.file().and_then(|file| would_be_lost(file, Some(input))) {
            return shell::refuse(&why);
        }
    }
    let text = match args.format {
        Form::Html => html::html(&document).map_err(io::Error::other)?,
        Form::Json => report::json(&document)?,
    };
    args.output.give(&text, Some(&choice.case))
}

/// The report of a case with the pictures it was made from, or how the run ends without one
fn made(
    choice: &Choice,
    budget: BudgetArgs,
    format: super::Format,
) -> io::Result<Result<(Document, Vec<PathBuf>), Exit>> {
    let Some(session) = session::open(choice, format)? else {
        return Ok(Err(Exit::FaultyInput));
    };
    let (photos, inputs) = match photos::photos(&session, &choice.case) {
        Ok(photos) => photos,
        Err(problems) => {
            session::tell(&problems, &session.sources, format, true)?;
            return Ok(Err(Exit::FaultyInput));
        }
    };
    let Some(history) = history::history(&session, choice, format)? else {
        return Ok(Err(Exit::FaultyInput));
    };
    let diagnosis = match whole(&session, choice, &budget.budget(), format)? {
        Ok(diagnosis) => diagnosis,
        Err(exit) => return Ok(Err(exit)),
    };
    let Session { model, ground, inspection, .. } = &session;
    let made = document::Made {
        model,
        inspection,
        ground,
        asked: format!("--budget {}", budget.seconds()),
        history,
        photos,
    };
    Ok(Ok((document::document(made, diagnosis), inputs)))
}
