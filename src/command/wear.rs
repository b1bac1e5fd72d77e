//! `pinboss wear CASE…`: how worn every part is, how fast it wears, and the hours left.

use super::Format;
use super::save::Output;
use super::shell::{self, Run, width};
use super::visits::{self, Seen, Visits};
use crate::consultation::{Consultation, Visit};
use crate::invariant::Hold;
#[cfg(feature = "page")]
use crate::report::form::html;
use crate::report::form::text::text;
use crate::report::record::trend::{self, Trend};
use crate::report::{self, tell};
use clap::ValueEnum;
use std::path::PathBuf;
use std::sync::Arc;

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
    format: Form,
    /// The part to draw, by its measure and place, such as "link_height left"; for `--format svg`
    #[arg(long, value_name = "MEASURE PLACE")]
    of: Option<String>,
    #[command(flatten)]
    output: Output,
}

/// The form of an answer
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq, ValueEnum)]
enum Form {
    /// For people
    #[default]
    Text,
    /// For programs
    Json,
    #[cfg(feature = "page")]
    /// One page with a table and the curves of all parts, to be looked at or printed
    Html,
    /// The curve of one part
    Svg,
}

pub(super) fn run(args: &Args) -> Run {
    let format = if args.format == Form::Json { Format::Json } else { Format::Text };
    let found = visits::open(&args.cases, args.rules.as_deref(), format)?;
    args.output.keeps(found.visits.iter().map(|seen| seen.path.as_path()))?;
    let consultation = consultation(&found);
    let plan = consultation.plan().ok(); // else: the causes are too many to weigh, and only the wear is told
    let visits: Vec<trend::VisitMade<'_>> = found.visits.iter().map(Seen::made).collect();
    let report = trend::report(&found.model, &visits, consultation.trend(), plan, &found.rules_digest);
    let answer = match args.format {
        Form::Json => report::json(&report)?,
        Form::Text => text(&tell::trend(&report), width()),
        #[cfg(feature = "page")]
        Form::Html => html::wear(&report).map_err(std::io::Error::other)?,
        Form::Svg => match drawn(&report, args.of.as_deref()) {
            Ok(picture) => picture,
            Err(words) => return Err(shell::refuse(words)),
        },
    };
    args.output.give(&answer, None)
}

/// The last visit with all before it
fn consultation(found: &Visits) -> Consultation {
    let visits: Vec<Visit> = found.visits.iter().map(|seen| seen.visit.clone()).collect();
    let last = visits.last().hold("a call names a case").clone();
    Consultation::new(Arc::clone(&found.model), last).over(visits)
}

/// The picture of the part asked for, or of the only one
fn drawn(report: &Trend, of: Option<&str>) -> Result<String, String> {
    let curves = trend::curves(report);
    let names: Vec<&str> = curves.iter().map(|(name, _)| name.as_str()).collect();
    let asked = of.map(|of| of.split_whitespace().collect::<Vec<_>>().join(" "));
    match (asked, curves.as_slice()) {
        (None, [(_, only)]) => Ok(only.svg()),
        (None, []) => Err("no part that was read has both a limit and hours to draw it over".to_owned()),
        (None, _) => Err(format!("say with `--of` which part to draw: {}", names.join(", "))),
        (Some(asked), _) => match curves.iter().find(|(name, _)| *name == asked) {
            Some((_, curve)) => Ok(curve.svg()),
            None => Err(format!("nothing that was read is called `{asked}`; there is {}", names.join(", "))),
        },
    }
}
