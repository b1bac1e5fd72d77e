//! `pinboss rules check`: everything wrong or doubtful in a set of rules.

use super::folder::Folder;
use crate::command::rulebook;
use crate::command::shell::{self, Exit, Run};
use crate::model::Model;
use crate::report::form::sarif;
use crate::report::rules::problems;
use crate::source::Sources;
use clap::ValueEnum;

/// Read a folder of rules and say everything that is wrong or doubtful in it
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    folder: Folder,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Form,
}

/// The form in which problems are told
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq, ValueEnum)]
enum Form {
    /// For people
    #[default]
    Text,
    /// For programs
    Json,
    /// For code hosts and editors: SARIF 2.1.0
    Sarif,
}

pub(super) fn run(args: &Args) -> Run {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(args.folder.path(), &mut sources);
    match args.format {
        Form::Json => shell::answer(&problems::json(&rulebook.problems, &sources)?)?,
        Form::Sarif => shell::answer(&sarif::sarif(&rulebook.problems, &sources)?)?,
        Form::Text => {
            shell::tell(&rulebook.problems, &sources)?;
            if !rulebook.problems.any_error() {
                shell::answer(&format!("{} {}", args.folder.whose(), counts(&rulebook.model)))?;
            }
        }
    }
    Ok(if rulebook.problems.any_error() { Exit::FaultyInput } else { Exit::Done })
}

/// What a set of rules holds, to end a sentence with
fn counts(model: &Model) -> String {
    format!(
        "hold together: {} causes, {} conditions, {} symptoms, {} measures, {} checks, {} remedies, {} facts.\n",
        model.causes.len(),
        model.conditions.len(),
        model.symptoms.len(),
        model.measures.len(),
        model.checks.len(),
        model.remedies.len(),
        model.facts.len()
    )
}
