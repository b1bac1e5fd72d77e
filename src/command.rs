//! The command line: one file a command; the only place that reads files and prints.

mod assess;
mod batch;
mod budget;
mod cases;
mod diagnose;
mod digest;
mod files;
#[cfg(feature = "editor")]
pub mod lsp;
mod name;
mod next;
mod plan;
mod prices;
#[cfg(feature = "page")]
mod report;
mod rulebook;
mod rules;
mod save;
mod session;
mod shell;
pub mod stream;
mod visits;
mod wear;
mod whole;
mod why;
mod words;

use clap::{Parser, Subcommand, ValueEnum};
pub use rulebook::BuiltIn;
pub use shell::{Exit, guarded};

/// Says how worn a crawler tractor's undercarriage is, what made it wear that way, and what to look at next
///
/// Pinboss weighs what was seen and measured; it does not replace the machine's own manual, local codes,
/// or the judgement of a licensed person on the spot. Read every caution before the check it stands at.
#[derive(Debug, Parser)]
#[command(name = "pinboss", version, max_term_width = 100)]
pub struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    Diagnose(diagnose::Args),
    Batch(batch::Args),
    Why(why::Args),
    Next(next::Args),
    Assess(assess::Args),
    Wear(wear::Args),
    Plan(plan::Args),
    #[cfg(feature = "page")]
    Report(report::Args),
    Words(words::Args),
    Rules(rules::Args),
    #[cfg(feature = "editor")]
    Lsp(lsp::Args),
}

/// The form of an answer
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq, ValueEnum)]
enum Format {
    /// For people
    #[default]
    Text,
    /// For programs
    Json,
}

/// Runs the command that was asked for, by the rules of the program unless it names others
pub fn run(arguments: Arguments, built_in: BuiltIn) -> Exit {
    rulebook::build_in(built_in);
    let done = match arguments.command {
        Command::Diagnose(args) => diagnose::run(&args),
        Command::Batch(args) => batch::run(&args),
        Command::Why(args) => why::run(&args),
        Command::Next(args) => next::run(&args),
        Command::Assess(args) => assess::run(&args),
        Command::Wear(args) => wear::run(&args),
        Command::Plan(args) => plan::run(&args),
        #[cfg(feature = "page")]
        Command::Report(args) => report::run(&args),
        Command::Words(args) => words::run(&args),
        Command::Rules(args) => rules::run(args),
        #[cfg(feature = "editor")]
        Command::Lsp(args) => lsp::run(&args).map_err(shell::Halt::from),
    };
    shell::ended(done)
}
