//! `pinboss rules test`: whether what strip-down showed and instructors expect still comes out of the rules.

use super::since;
use super::tries::{self, Tried};
use crate::command::shell::{self, Exit, Run};
use crate::command::{Format, rulebook};
use crate::problem::Problems;
use crate::report::prose::Prose;
use crate::report::record::since::Since;
use crate::report::record::trial::Trials;
use crate::report::rules::problems;
use crate::report::{self, tell};
use crate::source::Sources;
use crate::trial::Extent;
use serde::Serialize;
use std::path::PathBuf;

/// Try cases against the rules: whether what strip-down showed, and what a case expects, comes out
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Case files, or folders of them
    #[arg(default_value = "cases")]
    cases: Vec<PathBuf>,
    /// Folder with `.rules` files to use in place of those built into the program
    #[arg(long, value_name = "DIR")]
    rules: Option<PathBuf>,
    /// Folder with an older set of rules: tell what differs, what that moved, and which block moved it
    #[arg(long, value_name = "DIR")]
    since: Option<PathBuf>,
    /// List every rule that no case exercises
    #[arg(long)]
    all: bool,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

/// The answer as JSON
#[derive(Serialize)]
struct Answer<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    since: Option<&'a Since>,
    #[serde(flatten)]
    trials: &'a Trials,
}

pub(super) fn run(args: &Args) -> Run {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(args.rules.as_deref(), &mut sources);
    if rulebook.problems.any_error() {
        return faulty(&rulebook.problems, &sources, args.format);
    }
    let old = args.since.as_ref().map(|folder| rulebook::load(Some(folder), &mut sources));
    if let Some(old) = old.as_ref().filter(|old| old.problems.any_error()) {
        return faulty(&old.problems, &sources, args.format);
    }
    let model = &rulebook.model;
    let mut said = Problems::default();
    let (cases, unread) = tries::read(&args.cases, &mut sources, &mut said);
    let extent = if args.since.is_some() { Extent::Next } else { Extent::Claims };
    let tried: Vec<Option<Tried>> =
        cases.iter().map(|case| tries::one(model, case, extent, &mut said)).collect();
    let trials = tries::trials(model, &cases, &tried, unread, &sources);
    let since = old.as_ref().map(|old| since::since(old, &rulebook, &cases, &tried, extent, &sources));
    shell::tell(&said, &sources)?;
    match args.format {
        Format::Json => shell::answer(&report::json(&Answer { since: since.as_ref(), trials: &trials })?)?,
        Format::Text => {
            let mut prose = since.as_ref().map_or_else(Prose::new, tell::since);
            if since.is_some() {
                prose.gap();
            }
            shell::show(&prose.then(tell::trial(&trials, args.all)))?;
        }
    }
    let all_hold = trials.hold == trials.cases.len() && !said.any_error();
    Ok(if all_hold { Exit::Done } else { Exit::FaultyInput })
}

/// Rules that do not hold together: nothing can be tried by them
fn faulty(said: &Problems, sources: &Sources, format: Format) -> Run {
    match format {
        Format::Json => shell::answer(&problems::json(said, sources)?)?,
        Format::Text => shell::tell(said, sources)?,
    }
    Ok(Exit::FaultyInput)
}
