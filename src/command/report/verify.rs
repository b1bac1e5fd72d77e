//! `pinboss report verify FILE.html CASE`: whether a report belongs to a case and to the rules, and is as it was made.

use super::super::session::Choice;
use super::super::shell::{self, Exit};
use super::super::{Format, files};
use crate::report::html;
use crate::report::verified::{self, Verdict};
use std::io;
use std::path::PathBuf;

/// Say whether a report belongs to a case and to these rules, and is as it was made
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The report, an HTML file that `pinboss report` made
    report: PathBuf,
    #[command(flatten)]
    choice: Choice,
    #[command(flatten)]
    extent: super::Extent,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

pub(super) fn run(args: &Args) -> io::Result<Exit> {
    let name = args.report.display();
    let given = match files::whole(&args.report) {
        Ok(given) => given,
        Err(why) => {
            shell::say(&format!("pinboss: the report `{name}` cannot be read: {why}\n"))?;
            return Ok(Exit::FaultyInput);
        }
    };
    let document = match super::made(&args.choice, &args.extent, args.format)? {
        Ok((document, _)) => document,
        Err(exit) => return Ok(exit),
    };
    let made = html::html(&document).map_err(io::Error::other)?;
    let verdict: Verdict = verified::verdict(&given, &made, &html::marks(&document));
    match args.format {
        Format::Json => shell::answer(&crate::report::json(&verdict)?)?,
        Format::Text => shell::answer(&verified::text(&verdict, shell::width()))?,
    }
    Ok(if verdict.belongs { Exit::Done } else { Exit::FaultyInput })
}
