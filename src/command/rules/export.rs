//! `pinboss rules export`: the network that the rules make of a case, for other programs.

use crate::command::Format;
use crate::command::save::Output;
use crate::command::session::{self, Choice};
use crate::command::shell::Run;
use crate::network::plain::{MOST_ENTRIES, plain};
use crate::report;
use crate::report::rules::{export, export::bif, export::xmlbif};
use clap::ValueEnum;
use std::io;

/// Write the network that the rules make of the machine of a case, for programs that work with Bayesian networks
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    choice: Choice,
    /// Form to write
    #[arg(long, value_enum)]
    to: To,
    #[command(flatten)]
    output: Output,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum To {
    /// Interchange format for Bayesian networks, version 0.15: the network without the findings
    Bif,
    /// XML interchange format for Bayesian networks, version 0.3: the network without the findings
    Xmlbif,
    /// The network with what was found, as likelihoods
    Json,
}

pub(super) fn run(args: &Args) -> Run {
    let session = session::open(&args.choice, Format::Text)?;
    let (model, ground, inspection) = (session.model(), session.ground(), session.inspection());
    let plain = plain(&ground.network, MOST_ENTRIES).map_err(io::Error::other)?;
    let titles = (inspection.title.value.as_str(), inspection.machine.tag.value.as_str());
    let digests = (session.rules_digest.as_str(), session.case_digest.as_str());
    let export = export::export(model, ground, &plain, titles, digests);
    let text = match args.to {
        To::Bif => bif::bif(&export),
        To::Xmlbif => xmlbif::xmlbif(&export),
        To::Json => report::json(&export)?,
    };
    args.output.give(&text, Some(&args.choice.case))
}
