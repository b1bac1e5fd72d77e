//! `pinboss batch`: cases by the line, for the pipes of a cluster.

mod escapes;
mod input;
mod progress;
mod resume;
mod weigh;

use super::budget::BudgetArgs;
use super::rulebook;
use super::save::{unwritable, would_be_lost};
use super::shell::{self, Exit, Run};
use super::stream::{self, Threads};
use crate::infer::engines::Engines;
use crate::problem::Problems;
use crate::report::record::batch::Asked;
use crate::source::Sources;
use input::Item;
use progress::Progress;
use std::fs::File;
use std::io::{self, BufWriter, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use weigh::{Weighed, Weigher};

/// Faulty cases told in full on standard error; more are only counted there
const MOST_IN_FULL: u64 = 20;

/// Weigh many cases: one line of JSON in, one line of JSON out, on all cores, in the same order
///
/// A case is one line: what a case file says, as a JSON object. A line with nothing but space on it is passed over. A
/// faulty line gives a line that says what is wrong with it, and the rest is still done; the run then ends with 1, or with
/// 70 where a fault of the program itself cost a line its answer.
/// Nothing is kept between lines, and never more than some of them is in memory.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// File with a case on each line, a case file (`.yaml`), or a folder of case files; without it, or with `-`, standard
    /// input
    #[arg(value_name = "FILE|DIR")]
    from: Option<PathBuf>,
    /// Folder with `.rules` files to use in place of those built into the program
    #[arg(long, value_name = "DIR")]
    rules: Option<PathBuf>,
    /// Tell causes at least this likely, such as `5%` or `0.05`; `0` tells all of them
    #[arg(long, value_name = "P", default_value = "1%", value_parser = share)]
    over: f64,
    /// Tell causes whole, with reasons and remedies, as `diagnose --format json` does
    #[arg(long)]
    reasons: bool,
    /// Tell what to look at next, as `diagnose --format json` does
    #[arg(long)]
    next: bool,
    /// File to write in place of standard output
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// File that an earlier run with the same call wrote, perhaps not to its end: what it holds whole is kept, and the
    /// rest of the input, which must be given from its beginning again, is added. A file that is not there is begun
    #[arg(long, value_name = "FILE", conflicts_with = "output")]
    resume: Option<PathBuf>,
    #[command(flatten)]
    budget: BudgetArgs,
    #[command(flatten)]
    threads: Threads,
    /// Show how far the run is, also when standard error is no terminal
    #[arg(long)]
    progress: bool,
}

/// A probability from 0 to 1, or in per cent
fn share(text: &str) -> Result<f64, String> {
    let (figure, whole) = text.trim().strip_suffix('%').map_or((text, 1.0), |figure| (figure, 100.0));
    let share = figure.trim().parse::<f64>().map(|figure| figure / whole);
    share
        .ok()
        .filter(|share| (0.0..=1.0).contains(share))
        .ok_or_else(|| "write a share from 0 to 1, or from 0% to 100%".to_owned())
}

pub(super) fn run(args: &Args) -> Run {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(args.rules.as_deref(), &mut sources);
    let mut problems = Problems::default();
    let from = args.from.as_deref().filter(|path| *path != Path::new("-"));
    let items = input::open(from, &mut sources, &mut problems);
    if rulebook.problems.any_error() {
        problems.append(rulebook.problems);
    }
    let Some(items) = items.filter(|_| !problems.any_error()) else {
        shell::tell(&problems, &sources)?;
        return Ok(Exit::FaultyInput);
    };
    let to = args.output.as_deref().or(args.resume.as_deref());
    if let Some(why) = to.and_then(|path| would_be_lost(path, from)) {
        return Err(shell::refuse(&why));
    }
    let asked =
        Asked { over: args.over, reasons: args.reasons, next: args.next, budget: args.budget.seconds() };
    let weigher =
        Weigher { model: rulebook.model, rules_digest: rulebook.digest, asked, engines: Engines::default() };
    match (&args.output, &args.resume) {
        (Some(path), _) => {
            let file = File::create(path).map_err(|fault| unwritable(path, &fault))?;
            weigh_all(args, &weigher, items, Count::default(), BufWriter::new(file))
        }
        (None, Some(path)) => {
            let mut file = resume::open(path).map_err(|fault| unwritable(path, &fault))?;
            let mut items = items.peekable();
            let kept = resume::kept(&file, path, &mut items, &weigher)?;
            file.set_len(kept.bytes)?;
            file.seek(SeekFrom::End(0))?;
            weigh_all(args, &weigher, items, kept.count, BufWriter::new(file))
        }
        (None, None) => {
            weigh_all(args, &weigher, items, Count::default(), BufWriter::new(io::stdout().lock()))
        }
    }
}

/// Cases so far, and those of them without an answer
#[derive(Clone, Copy, Debug, Default)]
struct Count {
    cases: u64,
    faulty: u64,
}

/// Weighs what is left of the input and writes the results, behind those that there are
fn weigh_all(
    args: &Args,
    weigher: &Weigher,
    items: impl Iterator<Item = io::Result<Item>>,
    before: Count,
    mut out: impl Write,
) -> Run {
    let mut count = before;
    let mut ended = Exit::FaultyInput;
    let mut progress = Progress::new(args.progress, before.cases);
    stream::in_order(
        items,
        args.threads,
        Item::bytes,
        |item| weigher.weigh(&item),
        |chunk| {
            for weighed in chunk {
                let Weighed { line, faulty, fault, problems, sources } = weighed?;
                out.write_all(line.as_bytes())?;
                count.cases += 1;
                count.faulty += u64::from(faulty);
                let in_full = count.faulty - before.faulty <= MOST_IN_FULL;
                if let Some(fault) = fault {
                    ended = Exit::FaultyProgram;
                    if in_full {
                        progress.beside(|| shell::at_fault(&fault));
                    }
                }
                if !problems.is_empty() && in_full {
                    progress.beside(|| shell::tell(&problems, &sources))?;
                }
            }
            progress.reached(count.cases)?;
            out.flush()
        },
    )?;
    progress.done();
    if count.faulty == 0 {
        return Ok(Exit::Done);
    }
    shell::say(&format!(
        "{} of {} cases could not be weighed; each has a line among the results that says why\n",
        count.faulty, count.cases
    ))?;
    Ok(ended)
}
