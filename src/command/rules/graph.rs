//! `pinboss rules graph`: what brings about what, as a picture or for programs that draw graphs.

use super::folder::Folder;
use crate::command::Format;
use crate::command::name::no_such;
use crate::command::rulebook;
use crate::command::save::Output;
use crate::command::session::{self, Choice};
use crate::command::shell::{self, Exit, Halt, Run};
use crate::model::Model;
use crate::report::draw::graph::{self, Graph, dot, svg};
use crate::report::rules::shown;
use crate::source::Sources;
use clap::ValueEnum;
use std::path::PathBuf;

/// Draw what brings about what: all rules, what lies around one name, or one case with what was seen and what is probable
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    folder: Folder,
    /// Draw only what lies above and below this cause, condition, symptom or fact
    #[arg(long, value_name = "NAME")]
    around: Option<String>,
    /// How far above and below
    #[arg(long, default_value_t = 2, requires = "around")]
    steps: usize,
    /// Draw the machine of this case: without `--around`, what was found out of order and all that it hangs on
    #[arg(long, value_name = "CASE")]
    case: Option<PathBuf>,
    /// Form to write
    #[arg(long, value_enum, default_value_t)]
    to: To,
    #[command(flatten)]
    output: Output,
}

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum To {
    /// The DOT language, for any program that lays graphs out
    Dot,
    /// A picture, to be looked at or printed
    #[default]
    Svg,
}

pub(super) fn run(args: &Args) -> Run {
    let graph = match &args.case {
        Some(case) => of_case(args, case.clone())?,
        None => of_rules(args)?,
    };
    let text = match args.to {
        To::Dot => dot::dot(&graph),
        To::Svg => svg::svg(&graph),
    };
    args.output.give(&text, args.case.as_deref())
}

fn of_rules(args: &Args) -> Run<Graph> {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(args.folder.path(), &mut sources);
    if rulebook.problems.any_error() {
        shell::tell(&rulebook.problems, &sources)?;
        return Err(Halt::Reported(Exit::FaultyInput));
    }
    around(args, &rulebook.model, graph::of_rules(&rulebook.model), |graph| graph)
}

fn of_case(args: &Args, case: PathBuf) -> Run<Graph> {
    let choice = Choice { case, rules: args.folder.path().map(ToOwned::to_owned) };
    let session = session::open(&choice, Format::Text)?;
    let shares = session.weighing().everywhere().map_err(|stop| session.stopped(&stop, Format::Text))?;
    let inspection = session.inspection();
    let title = format!("{}: {}", inspection.machine.tag.value, inspection.title.value);
    let graph = graph::of_case(session.model(), session.ground(), &shares, &title);
    around(args, session.model(), graph, |graph| graph.behind_the_findings())
}

/// What lies around the name asked for, or without one what is drawn otherwise
fn around(args: &Args, model: &Model, graph: Graph, otherwise: impl Fn(Graph) -> Graph) -> Run<Graph> {
    let Some(name) = &args.around else {
        return Ok(otherwise(graph));
    };
    if shown::block(model, name).is_none() {
        let known = graph.nodes.iter().map(|node| node.name.as_str());
        return Err(shell::refuse(no_such(name, known)));
    }
    Ok(graph.around(name, args.steps))
}
