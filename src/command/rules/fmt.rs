//! `pinboss rules fmt`: rule files in their one layout.

use crate::command::files::{self, Sort};
use crate::command::save;
use crate::command::shell::{self, Exit, Run};
use crate::problem::Problems;
use crate::source::{SourceId, Sources};
use crate::syntax::{self, format, tree};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Lay out rule files the one way, in short, words aligned, comments where they were
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Rule files, or folders with `.rules` files
    #[arg(required = true)]
    paths: Vec<PathBuf>,
    /// Write nothing; name the files that are not laid out so, and exit 1 when there are any
    #[arg(long)]
    check: bool,
    /// Write out what is said in short: the basis of a whole file, mirrored lines, multiples of a size class
    #[arg(long)]
    long: bool,
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
    let set = set(&all, &mut sources);
    for (path, id) in &all {
        let laid_out = if args.long { format::long } else { format::format };
        match laid_out(&sources, *id, &set) {
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

/// All files of the folders that some files stand in. What is wrong with those that are not laid out is no matter here.
fn set(all: &[(PathBuf, SourceId)], sources: &mut Sources) -> Vec<tree::File> {
    let mut ids: Vec<SourceId> = all.iter().map(|(_, id)| *id).collect();
    let folders: BTreeSet<&Path> = all.iter().filter_map(|(path, _)| path.parent()).collect();
    for folder in folders {
        let here = folder.as_os_str().is_empty();
        let paths = files::in_folder(if here { Path::new(".") } else { folder }, Sort::Rules);
        // else: a folder that cannot be read was told when its files were named
        for path in paths.unwrap_or_default() {
            let path = path.strip_prefix(".").map_or(path.clone(), Path::to_owned);
            if !all.iter().any(|(known, _)| known.strip_prefix(".").unwrap_or(known) == path) {
                // else: it does not begin with a dot
                ids.push(files::read(&path, sources, &mut Problems::default()));
            }
        }
    }
    ids.into_iter().map(|id| syntax::parse(sources, id).0).collect()
}
