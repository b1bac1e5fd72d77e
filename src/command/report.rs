//! `pinboss report CASE -o FILE.html`: one file to print or send; `pinboss report verify FILE.html CASE`.

mod history;
mod photos;
mod verify;

use super::assess::{Question, assessed};
use super::budget::BudgetArgs;
use super::prices::PricesArgs;
use super::save::{Output, would_be_lost};
use super::session::{self, Choice, Session};
use super::shell::{self, Exit};
use super::stream::Threads;
use super::whole::whole;
use super::why;
use crate::infer::Limits;
use crate::reason;
use crate::reason::robust::Effort;
use crate::report;
use crate::report::form::html;
use crate::report::record::assess;
use crate::report::record::document::{self, Document};
use crate::report::record::robust::Robust;
use std::io;
use std::path::PathBuf;

/// How many times the figures of the rules are drawn anew to tell how firm the leading cause stands: enough for a share to
/// a few per cent, and quick
const DRAWS: usize = 200;

/// One file to print or send: machine and visit, both tracks drawn, wear, causes with reasons, checks, pictures, rules
#[derive(Debug, clap::Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true)]
pub(super) struct Args {
    #[command(subcommand)]
    other: Option<Other>,
    #[command(flatten)]
    choice: Option<Choice>,
    #[command(flatten)]
    extent: Extent,
    #[command(flatten)]
    output: Output,
    /// Form of the report
    #[arg(long, value_enum, default_value_t)]
    format: Form,
}

/// What a report holds beyond what the case says; `verify` reads it back from the page
#[derive(Debug, clap::Args)]
struct Extent {
    #[command(flatten)]
    question: Question,
    #[command(flatten)]
    prices: PricesArgs,
    #[command(flatten)]
    threads: Threads,
    #[command(flatten)]
    budget: BudgetArgs,
}

impl Extent {
    /// Every option that changes what the report says, as a call would give it
    fn asked(&self, assessed: bool, prices: Option<&str>) -> String {
        let Question { about, draws } = &self.question;
        let mut asked = format!("--budget {}", self.budget.seconds());
        for damage in about {
            asked.push_str(&format!(" --about \"{damage}\""));
        }
        if assessed {
            asked.push_str(&format!(" --draws {draws}"));
        }
        if let Some(digest) = prices {
            asked.push_str(&format!(" --prices {digest}"));
        }
        asked
    }
}

#[derive(Debug, clap::Subcommand)]
enum Other {
    Verify(verify::Args),
}

/// The form of a report
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq, clap::ValueEnum)]
enum Form {
    /// A page that stands by itself, to print or send
    #[default]
    Html,
    /// The same for programs
    Json,
}

impl From<Form> for super::Format {
    fn from(form: Form) -> Self {
        match form {
            Form::Html => super::Format::Text,
            Form::Json => super::Format::Json,
        }
    }
}

pub(super) fn run(args: &Args) -> io::Result<Exit> {
    if let Some(Other::Verify(args)) = &args.other {
        return verify::run(args);
    }
    let Some(choice) = &args.choice else {
        return shell::refuse("name a case file");
    };
    let (document, inputs) = match made(choice, &args.extent, args.format.into())? {
        Ok(made) => made,
        Err(exit) => return Ok(exit),
    };
    for input in &inputs {
        if let Some(why) = args.output.file().and_then(|file| would_be_lost(file, Some(input))) {
            return shell::refuse(&why);
        }
    }
    let text = match args.format {
        Form::Html => html::html(&document).map_err(io::Error::other)?,
        Form::Json => report::json(&document)?,
    };
    args.output.give(&text, Some(&choice.case))
}

/// The report of a case with the pictures it was made from, or how the run ends without one
fn made(
    choice: &Choice,
    extent: &Extent,
    format: super::Format,
) -> io::Result<Result<(Document, Vec<PathBuf>), Exit>> {
    let mut pictures = Vec::new();
    let session = session::open_with(choice, format, |model, inspection| {
        let (taken, problems) = photos::taken(model, inspection, &choice.case);
        pictures = taken;
        problems
    })?;
    let Some(session) = session else {
        return Ok(Err(Exit::FaultyInput));
    };
    let photos = photos::photos(&session, &pictures);
    let inputs = pictures.into_iter().map(|picture| picture.path);
    let Some(history) = history::history(&session, choice, format)? else {
        return Ok(Err(Exit::FaultyInput));
    };
    let Some(priced) = extent.prices.read(&session.model, format)? else {
        return Ok(Err(Exit::FaultyInput));
    };
    let inputs = inputs.chain(extent.prices.file().map(PathBuf::from)).collect();
    let diagnosis = match whole(&session, choice, &extent.budget.budget(), &priced.terms, format)? {
        Ok(diagnosis) => diagnosis,
        Err(exit) => return Ok(Err(exit)),
    };
    let assessment = match assessment(&session, extent, format)? {
        Ok(assessment) => assessment,
        Err(exit) => return Ok(Err(exit)),
    };
    let Session { model, ground, inspection, .. } = &session;
    let made = document::Made {
        model,
        inspection,
        ground,
        asked: extent.asked(assessment.is_some(), priced.digest.as_deref()),
        history,
        robust: leading(&session),
        assessment,
        photos,
    };
    Ok(Ok((document::document(made, diagnosis), inputs)))
}

/// What weighs for and against each party, where the case or the call puts damage in question
fn assessment(
    session: &Session,
    extent: &Extent,
    format: super::Format,
) -> io::Result<Result<Option<assess::Report>, Exit>> {
    let question = &extent.question;
    if question.about.is_empty() && session.inspection.in_question.is_empty() {
        return Ok(Ok(None));
    }
    let made = assessed(session, question, None, (extent.threads, extent.budget), format)?;
    Ok(made.map(Some))
}

/// How firm the leading cause stands; none where no cause is likely enough to be given reasons, or the findings are too
/// entangled to be weighed so often
fn leading(session: &Session) -> Option<Robust> {
    let all = reason::rank(&session.model, &session.ground, &Limits::default()).ok()?;
    let first = all.first().filter(|first| first.probability >= reason::WORTH_REASONS)?;
    why::robust(session, &session.ground, first.node, &all, &Effort { draws: DRAWS, ..Effort::default() })
}
