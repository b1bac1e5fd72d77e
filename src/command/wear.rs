//! `pinboss wear CASE…`: how worn every part is, how fast it wears, and the hours left.

use super::Format;
use super::shell::{self, Exit, width};
use super::visits::{self, Seen};
use crate::report::{self, text, trend};
use crate::wear::history::Visit;
use crate::wear::trend::trend as reckon;
use std::io;
use std::path::PathBuf;

/// How worn every part is that was read, how fast it wears, and how many hours are left
///
/// Readings of several visits are taken together: those of the cases named here, and of those that they name as
/// `earlier`. Hours count on each part from when it went on.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Case files: visits to one machine, in any order
    #[arg(required = true, value_name = "CASE")]
    cases: Vec<PathBuf>,
    /// Folder with `.rules` files to use in place of those built into the program
    #[arg(long, value_name = "DIR")]
    rules: Option<PathBuf>,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

pub(super) fn run(args: &Args) -> io::Result<Exit> {
    let Some(found) = visits::open(&args.cases, args.rules.as_deref(), args.format)? else {
        return Ok(Exit::FaultyInput);
    };
    let read: Vec<Visit<'_>> = found.visits.iter().map(Seen::read).collect();
    let visits: Vec<trend::VisitMade<'_>> = found
        .visits
        .iter()
        .map(|seen| trend::VisitMade {
            file: &seen.file,
            digest: &seen.digest,
            inspection: &seen.inspection,
            ground: &seen.ground,
        })
        .collect();
    let report = trend::report(&found.model, &visits, &reckon(&found.model, &read), &found.rules_digest);
    match args.format {
        Format::Json => shell::answer(&report::json(&report)?)?,
        Format::Text => shell::answer(&text::trend(&report, width()))?,
    }
    Ok(Exit::Done)
}
