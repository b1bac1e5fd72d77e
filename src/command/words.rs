//! `pinboss words NAME`: what a name of the rules means and how it is taken.

use super::name::no_such;
use super::shell::{self, Exit, Run};
use super::{Format, rulebook};
use crate::problem::code::Code;
use crate::report;
use crate::report::rules::{entry, problems, vocabulary};
use crate::source::Sources;
use std::path::PathBuf;

/// What a cause, symptom, check, measure, fact or problem code means, and how it is taken
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// A name from the rules, a problem code or a word of the rule language; without one, all names are listed
    name: Option<String>,
    /// Folder with `.rules` files to use in place of those built into the program
    #[arg(long, value_name = "DIR")]
    rules: Option<PathBuf>,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

pub(super) fn run(args: &Args) -> Run {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(args.rules.as_deref(), &mut sources);
    if rulebook.problems.any_error() {
        match args.format {
            Format::Json => shell::answer(&problems::json(&rulebook.problems, &sources)?)?,
            Format::Text => shell::tell(&rulebook.problems, &sources)?,
        }
        return Ok(Exit::FaultyInput);
    }
    let Some(name) = &args.name else {
        let list = entry::list(&rulebook.model);
        match args.format {
            Format::Json => shell::answer(&report::json(&list)?)?,
            Format::Text => shell::show(&entry::list_text(&list))?,
        }
        return Ok(Exit::Done);
    };
    let code = || Code::ALL.iter().find(|code| code.slug() == name).map(|code| entry::of_code(*code));
    let word = || vocabulary::of_word(name);
    if let Some(entry) = entry::entry(&rulebook.model, name).or_else(code).or_else(word) {
        match args.format {
            Format::Json => shell::answer(&report::json(&entry)?)?,
            Format::Text => shell::show(&entry::text(&entry))?,
        }
        return Ok(Exit::Done);
    }
    let known = rulebook.model.blocks().map(|block| block.name.as_str());
    let known = known.chain(Code::ALL.iter().map(|code| code.slug()));
    Err(shell::refuse(no_such(name, known)))
}
