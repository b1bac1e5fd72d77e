//! `pinboss rules explain`: what the code of a problem means, with a wrong and a right example.

use crate::command::Format;
use crate::command::shell::{self, Exit, Run};
use crate::problem::code::Code;
use crate::problem::did_you_mean;
use crate::report;
use crate::report::rules::explain;

/// Say what a problem code means, why it matters and what to do, with a wrong and a right example
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// A code such as `unknown-name`; without one, all of them are listed
    code: Option<String>,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

pub(super) fn run(args: &Args) -> Run {
    let Some(slug) = &args.code else {
        let list = explain::list();
        match args.format {
            Format::Json => shell::answer(&report::json(&list)?)?,
            Format::Text => shell::show(&explain::list_text(&list))?,
        }
        return Ok(Exit::Done);
    };
    let Some(code) = Code::find(slug) else {
        let known = Code::ALL.iter().map(|code| code.slug());
        let help = did_you_mean(slug, known, "`pinboss rules explain` lists all codes");
        return Err(shell::refuse(format!("no problem has the code `{slug}`: {help}")));
    };
    let explanation = explain::explanation(code);
    match args.format {
        Format::Json => shell::answer(&report::json(&explanation)?)?,
        Format::Text => shell::show(&explain::text(&explanation))?,
    }
    Ok(Exit::Done)
}
