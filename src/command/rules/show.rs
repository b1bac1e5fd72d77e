//! `pinboss rules show NAME`: one block of the rules as the program understood it, in sentences with counts.

use super::bench;
use super::folder::Folder;
use crate::case::Inspection;
use crate::command::Format;
use crate::command::cases;
use crate::command::files::{self, Sort};
use crate::command::name::no_such;
use crate::command::rulebook::{self, Rulebook};
use crate::command::shell::{self, Exit, Run};
use crate::ground;
use crate::infer::TooWide;
use crate::machine::Machine;
use crate::model::named::names;
use crate::problem::Problems;
use crate::reason::Weighing;
use crate::reason::standing::{Block, Standing, standing};
use crate::report;
use crate::report::rules::{problems, shown};
use crate::source::Sources;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Tell what the rules say of a name in sentences with counts, and how often it is so by all the rules together
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// A name from the rules: a cause, condition, symptom, fact, measure, check, remedy, part, state, kind, size or `scale`
    name: String,
    #[command(flatten)]
    folder: Folder,
    /// Reckon for the machine of this case: its facts, hours and parts; without it, a machine of which nothing is told
    #[arg(long, value_name = "CASE")]
    machine: Option<PathBuf>,
    /// Folder of cases that are searched for the name; without it, `cases` if there is one
    #[arg(long, value_name = "DIR")]
    cases: Option<PathBuf>,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

pub(super) fn run(args: &Args) -> Run {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(args.folder.path(), &mut sources);
    let mut said = Problems::default();
    let machine = bench::machine(&rulebook, args.machine.as_deref(), &mut sources, &mut said);
    let faulty = rulebook.problems.any_error() || said.any_error();
    let Some(machine) = machine.filter(|_| !faulty) else {
        said.append(rulebook.problems);
        match args.format {
            Format::Json => shell::answer(&problems::json(&said, &sources)?)?,
            Format::Text => shell::tell(&said, &sources)?,
        }
        return Ok(Exit::FaultyInput);
    };
    let model = &rulebook.model;
    let Some(mut shown) = shown::shown(model, &args.name) else {
        return Err(shell::refuse(no_such(&args.name, names(model))));
    };
    shown.declare(model, &sources);
    if let Some(block) = shown::block(model, &args.name) {
        let words = bench::words(model, args.machine.as_deref(), &machine);
        shown.stands(model, block, stand(&rulebook, machine, block), words);
    }
    let mut left_out = Problems::default();
    shown.touched(&cases(args.cases.as_deref(), &mut sources, &mut left_out));
    match args.format {
        Format::Json => shell::answer(&report::json(&shown)?)?,
        Format::Text => shell::show(&shown::text(&shown))?,
    }
    shell::tell(&left_out, &sources)?;
    Ok(if left_out.any_error() { Exit::FaultyInput } else { Exit::Done })
}

fn stand(rulebook: &Rulebook, machine: Machine, block: Block) -> Result<Standing, TooWide> {
    let ground = ground::empty(&rulebook.model, machine);
    standing(&Weighing::new(Arc::clone(&rulebook.model), ground), block)
}

/// The cases of a folder with their file names; of the folder `cases` when none is named, if there is one
fn cases(folder: Option<&Path>, sources: &mut Sources, said: &mut Problems) -> Vec<(String, Inspection)> {
    let paths = match folder {
        Some(folder) => files::folder(folder, Sort::Cases, sources, said),
        // else: there is no such folder here
        None => files::in_folder(Path::new("cases"), Sort::Cases).unwrap_or_default(),
    };
    let mut cases = Vec::new();
    for path in paths {
        let id = files::read(&path, sources, said);
        let inspection = cases::read(sources, id, said);
        let name = files::bare(Path::new(sources.name(id))).to_string_lossy().into_owned();
        cases.extend(inspection.map(|inspection| (name, inspection)));
    }
    cases
}
