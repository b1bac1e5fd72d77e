//! `pinboss rules schema`: the form of a case file, for editors.

use crate::command::rulebook;
use crate::command::save::Output;
use crate::command::shell::{self, Exit, Run};
use crate::report;
use crate::report::rules::schema;
use crate::source::Sources;
use std::path::PathBuf;

/// Write the JSON Schema of case files, with every name of the rules: an editor completes and checks a case by it
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Folder with `.rules` files to use in place of those built into the program
    #[arg(long, value_name = "DIR")]
    rules: Option<PathBuf>,
    #[command(flatten)]
    output: Output,
}

pub(super) fn run(args: &Args) -> Run {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(args.rules.as_deref(), &mut sources);
    if rulebook.problems.any_error() {
        shell::tell(&rulebook.problems, &sources)?;
        return Ok(Exit::FaultyInput);
    }
    let text = report::json(&schema::schema(&rulebook.model))?;
    args.output.give(&text, None)
}
