//! `pinboss rules balance`: what a set of rules implies before anything is seen.

use super::bench;
use super::folder::Folder;
use crate::command::shell::{self, Exit, Run};
use crate::command::{Format, rulebook};
use crate::ground;
use crate::problem::Problems;
use crate::reason::Weighing;
use crate::reason::balance::balance;
use crate::report;
use crate::report::rules::problems;
use crate::source::Sources;
use std::path::PathBuf;
use std::sync::Arc;

/// Tell how many causes the rules expect, how often each symptom shows, and how often sound machines are blamed
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    folder: Folder,
    /// Take the machine of this case: its facts, hours and parts; without it, a machine of which nothing is told
    #[arg(long, value_name = "CASE")]
    machine: Option<PathBuf>,
    /// Sound machines to draw
    #[arg(long, default_value_t = 1000)]
    draws: u32,
    /// Seed of the draws
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

pub(super) fn run(args: &Args) -> Run {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(args.folder.path(), &mut sources);
    let mut said = Problems::default();
    let machine = bench::machine(&rulebook, args.machine.as_deref(), &mut sources, &mut said);
    said.append(rulebook.problems);
    let Some(machine) = machine.filter(|_| !said.any_error()) else {
        match args.format {
            Format::Json => shell::answer(&problems::json(&said, &sources)?)?,
            Format::Text => shell::tell(&said, &sources)?,
        }
        return Ok(Exit::FaultyInput);
    };
    let words = bench::words(&rulebook.model, args.machine.as_deref(), &machine);
    let ground = ground::empty(&rulebook.model, machine);
    let weighing = Weighing::new(Arc::clone(&rulebook.model), ground);
    let found = balance(&weighing, args.draws, args.seed).map_err(|width| {
        shell::refuse(format!("these rules are too entangled to be weighed exactly: {width}"))
    })?;
    shell::tell(&report::rules::balance::doubts(&rulebook.model, &found), &sources)?;
    let balance = report::rules::balance::balance(&rulebook.model, words, &found);
    match args.format {
        Format::Json => shell::answer(&report::json(&balance)?)?,
        Format::Text => shell::show(&report::rules::balance::text(&balance))?,
    }
    Ok(Exit::Done)
}
