//! `pinboss rules …`: what whoever writes rules needs.

mod balance;
mod bench;
mod check;
mod explain;
mod export;
mod fmt;
mod folder;
#[cfg(feature = "graph")]
mod graph;
mod schema;
mod show;
mod simulate;
mod since;
mod test;
mod tries;
mod unpack;

use super::shell::Run;
use clap::Subcommand;

/// For whoever writes rules
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    Check(check::Args),
    Explain(explain::Args),
    Balance(balance::Args),
    Export(export::Args),
    Fmt(fmt::Args),
    Show(show::Args),
    #[cfg(feature = "graph")]
    Graph(graph::Args),
    Test(test::Args),
    Schema(schema::Args),
    Simulate(simulate::Args),
    Unpack(unpack::Args),
}

pub(super) fn run(args: Args) -> Run {
    match args.command {
        Command::Check(args) => check::run(&args),
        Command::Explain(args) => explain::run(&args),
        Command::Balance(args) => balance::run(&args),
        Command::Export(args) => export::run(&args),
        Command::Fmt(args) => fmt::run(&args),
        Command::Show(args) => show::run(&args),
        #[cfg(feature = "graph")]
        Command::Graph(args) => graph::run(&args),
        Command::Test(args) => test::run(&args),
        Command::Schema(args) => schema::run(&args),
        Command::Simulate(args) => simulate::run(&args),
        Command::Unpack(args) => unpack::run(&args),
    }
}
