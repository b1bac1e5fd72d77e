//! `pinboss report verify FILE.html CASE`: whether a report belongs to a case and to the rules, and is as it was made.

use super::super::budget::{self, BudgetArgs};
use super::super::prices::PricesArgs;
use super::super::session::Choice;
use super::super::shell::{self, Exit, Run};
use super::super::stream::Threads;
use super::super::{Format, files};
use super::Extent;
use crate::report::form::html;
use crate::report::form::verified::{self, Verdict};
use clap::Parser;
use std::io;
use std::path::PathBuf;

/// Say whether a report belongs to a case and to these rules, and is as it was made
///
/// The report is made anew with the options that it names itself, and every byte is compared.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The report, an HTML file that `pinboss report` made
    report: PathBuf,
    #[command(flatten)]
    choice: Choice,
    #[command(flatten)]
    given: Given,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

/// What the report must have been made with, where that is asked for; what is left out is taken as the report names it
#[derive(Debug, clap::Args)]
struct Given {
    /// The damage in question that it must have been made with; may be given several times
    #[arg(long, value_name = "DAMAGE")]
    about: Vec<String>,
    /// The draws that it must have been made with
    #[arg(long, value_name = "N")]
    draws: Option<u32>,
    /// The seconds that it must have been allowed
    #[arg(long, value_name = "SECONDS", value_parser = budget::seconds)]
    budget: Option<f64>,
    #[command(flatten)]
    prices: PricesArgs,
    #[command(flatten)]
    threads: Threads,
}

/// The options that a report names, read as a call would be, with the same bounds; of its prices it knows the digest alone
#[derive(Debug, Parser)]
#[command(no_binary_name = true, disable_help_flag = true)]
struct Named {
    #[command(flatten)]
    extent: Extent,
}

impl Named {
    /// What a report says that it was made with
    ///
    /// # Errors
    /// When it is no call.
    fn read(asked: &str) -> Result<Self, clap::Error> {
        let pieces = asked.split('"').enumerate();
        let words = pieces.flat_map(|(number, piece)| {
            let quoted = number % 2 == 1;
            if quoted { vec![piece] } else { piece.split_whitespace().collect() }
        });
        Named::try_parse_from(words)
    }
}

pub(super) fn run(args: &Args) -> Run {
    let name = args.report.display();
    let page = match files::whole(&args.report) {
        Ok(page) => page,
        Err(why) => {
            shell::say(&format!("pinboss: the report `{name}` cannot be read: {why}\n"))?;
            return Ok(Exit::FaultyInput);
        }
    };
    let asked = verified::asked(&page).unwrap_or_default(); // else: the page names no call
    // What cannot be read is compared all the same, and found to be no call that `report` writes.
    let named = Named::read(&asked).or_else(|_| Named::read("")).map_err(io::Error::other)?;
    if let (Some(digest), None) = (named.extent.prices.file(), args.given.prices.file()) {
        return Err(shell::refuse(format!(
            "the report `{name}` was made with prices, and it names no more of them than their digest {}: give their file, \
             as in `--prices prices.yaml`",
            digest.display()
        )));
    }
    let extent = extent(named, &args.given);
    let (document, _) = super::made(&args.choice, &extent, args.format)?;
    let made = html::html(&document).map_err(io::Error::other)?;
    let verdict: Verdict = verified::verdict(&page, &made, &html::marks(&document));
    match args.format {
        Format::Json => shell::answer(&crate::report::json(&verdict)?)?,
        Format::Text => shell::show(&verified::text(&verdict))?,
    }
    Ok(if verdict.belongs { Exit::Done } else { Exit::FaultyInput })
}

/// What the report is made anew with: what was given, else what it names
fn extent(named: Named, given: &Given) -> Extent {
    let mut extent = named.extent;
    if !given.about.is_empty() {
        extent.question.about.clone_from(&given.about);
    }
    extent.question.draws = given.draws.unwrap_or(extent.question.draws); // else: as the report names them
    extent.budget = given.budget.map_or(extent.budget, BudgetArgs::of);
    extent.prices = given.prices.clone();
    extent.threads = given.threads;
    extent
}
