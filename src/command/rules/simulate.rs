//! `pinboss rules simulate`: machines drawn from the rules, as case files.

use super::folder::Folder;
use crate::command::rulebook;
use crate::command::shell::{self, Exit, Run};
use crate::command::stream::{self, Threads};
use crate::model::Model;
use crate::reason::simulate::simulate;
use crate::report;
use crate::source::Sources;
use clap::ValueEnum;
use std::io::{self, BufWriter, Write};

/// Draw invented machines from the rules: what is wrong with each, and an inspection of it, as case files
///
/// Facts, causes, conditions and signs are drawn by the shares of the rules; hours, how much is told and which checks are
/// done are our own invention. A sign is noted as seen, also where it could be read with an instrument. The causes drawn
/// stand under `truth`; of the others, those that could have brought about what was noted are named absent.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    folder: Folder,
    /// Seed of the draws: the same seed gives the same machines
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Machines to draw
    #[arg(long, default_value_t = 1)]
    count: u64,
    /// Number of the first of them; machine 7 of a seed is the same whether the run begins with 1 or with 7
    #[arg(long, default_value_t = 1)]
    first: u64,
    /// Form of a case
    #[arg(long, value_enum, default_value_t)]
    format: Form,
    #[command(flatten)]
    threads: Threads,
}

/// The form of a case
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq, ValueEnum)]
enum Form {
    /// One line each, as `pinboss batch` takes them
    #[default]
    Json,
    /// One document each, as a person writes them
    Yaml,
}

pub(super) fn run(args: &Args) -> Run {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(args.folder.path(), &mut sources);
    if rulebook.problems.any_error() {
        shell::tell(&rulebook.problems, &sources)?;
        return Ok(Exit::FaultyInput);
    }
    let Some(end) = args.first.checked_add(args.count) else {
        return Err(shell::refuse("there are no machines with numbers that high: give a smaller `--first`"));
    };
    let mut out = BufWriter::new(io::stdout().lock());
    let draw = |number| drawn(&rulebook.model, args, number);
    stream::in_order(
        (args.first..end).map(Ok),
        args.threads,
        |_| 0,
        draw,
        |cases| cases.into_iter().try_for_each(|case| out.write_all(case?.as_bytes())),
    )?;
    out.flush()?;
    Ok(Exit::Done)
}

fn drawn(model: &Model, args: &Args, number: u64) -> io::Result<String> {
    let case = report::rules::simulated::case(model, &simulate(model, args.seed, number), args.seed, number);
    match args.format {
        Form::Json => Ok(report::json_line(&case)?),
        Form::Yaml => case.document().map_err(io::Error::other),
    }
}
