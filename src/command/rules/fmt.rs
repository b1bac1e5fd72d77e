//! `pinboss rules fmt`: rule files in their one layout.

use crate::command::files::{self, Sort};
use crate::command::save;
use crate::command::shell::{self, Exit, Run};
use crate::problem::Problems;
use crate::source::{SourceId, Sources};
use crate::syntax::format::format;
use std::path::PathBuf;

/// Lay out rule files the one way: a clause a line, words aligned, comments where they were
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Rule files, or folders with `.rules` files
    #[arg(required = true)]
    paths: Vec<PathBuf>,
    /// Write nothing; name the files that are not laid out so, and exit 1 when there are any
    #[arg(long)]
    check: bool,
}

pub(super) fn run(args: &Args) -> Run {
    let mut sources = Sources::default();
    let mut problems = Problems::default();
    let mut all: Vec<(PathBuf, SourceId)> = Vec::new();
    for path in &args.paths {
        for path in files::listed(path, Sort::Rules, &mut sources, &mut problems) {
            let id = files::read(&path, &mut sources, &mut problems);
            all.push((path, id));
        }
    }
    let mut other = Vec::new();
    for (path, id) in &all {
        match format(&sources, *id) {
            Ok(laid_out) if laid_out != sources.text(*id) => other.push((path, laid_out)),
            Ok(_) => {}
            Err(said) => problems.append(said),
        }
    }
    shell::tell(&problems, &sources)?;
    for (path, laid_out) in &other {
        if !args.check {
            save::save(path, laid_out)?;
        }
        shell::answer(&format!("{}\n", path.display()))?;
    }
    let faulty = problems.any_error() || (args.check && !other.is_empty());
    Ok(if faulty { Exit::FaultyInput } else { Exit::Done })
}
