//! `pinboss report CASE -o FILE.html`: one file to print or send; `pinboss report verify FILE.html CASE`.

mod photos;
mod verify;

use super::assess::{Question, assessed};
use super::budget::BudgetArgs;
use super::prices::PricesArgs;
use super::save::Output;
use super::session::{self, Choice, Session};
use super::shell::{self, Run};
use super::stream::Threads;
use super::visits::Seen;
use super::whole::whole;
use super::why;
use crate::reason;
use crate::reason::robust::Effort;
use crate::report;
use crate::report::form::html;
use crate::report::record::assess;
use crate::report::record::document::{self, Document};
use crate::report::record::robust::Robust;
use crate::report::record::trend::{self, Trend, VisitMade};
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

pub(super) fn run(args: &Args) -> Run {
    if let Some(Other::Verify(args)) = &args.other {
        return verify::run(args);
    }
    let Some(choice) = &args.choice else {
        return Err(shell::refuse("name a case file"));
    };
    args.output.keeps([choice.case.as_path()].into_iter().chain(args.extent.prices.file()))?;
    let (document, pictures) = made(choice, &args.extent, args.format.into())?;
    args.output.keeps(pictures.iter().map(PathBuf::as_path))?;
    let text = match args.format {
        Form::Html => html::html(&document).map_err(io::Error::other)?,
        Form::Json => report::json(&document)?,
    };
    args.output.give(&text, Some(&choice.case))
}

/// The report of a case with its pictures
fn made(choice: &Choice, extent: &Extent, format: super::Format) -> Run<(Document, Vec<PathBuf>)> {
    let mut pictures = Vec::new();
    let session = session::open_with_visits(choice, format, |model, inspection| {
        let (taken, problems) = photos::taken(model, inspection, &choice.case);
        pictures = taken;
        problems
    })?;
    let photos = photos::photos(&session, &pictures);
    let pictures = pictures.into_iter().map(|picture| picture.path).collect();
    let priced = extent.prices.read(session.model(), format)?;
    let session = session.within(extent.budget.budget()).priced(priced.terms);
    let diagnosis = whole(&session, format)?;
    let assessment = assessment(&session, extent, format)?;
    let made = document::Made {
        model: session.model(),
        inspection: session.inspection(),
        ground: session.ground(),
        asked: extent.asked(assessment.is_some(), priced.digest.as_deref()),
        history: history(&session),
        swing: session.consultation.swing().map_err(|stop| session.stopped(&stop, format))?,
        robust: leading(&session),
        assessment,
        photos,
    };
    Ok((document::document(made, diagnosis), pictures))
}

/// The wear of the machine up to this visit
fn history(session: &Session) -> Trend {
    let visits: Vec<VisitMade<'_>> = session.visits.iter().map(Seen::made).collect();
    let plan = session.consultation.plan().ok(); // else: it is told why nothing was weighed
    trend::report(session.model(), &visits, session.consultation.trend(), plan, &session.rules_digest)
}

/// What weighs for and against each party, where the case or the call puts damage in question
fn assessment(session: &Session, extent: &Extent, format: super::Format) -> Run<Option<assess::Report>> {
    let question = &extent.question;
    if question.about.is_empty() && session.inspection().in_question.is_empty() {
        return Ok(None);
    }
    assessed(session, question, None, extent.threads, format).map(Some)
}

/// How firm the leading cause stands; none where no cause is likely enough to be given reasons, or the findings are too
/// entangled to be weighed so often
fn leading(session: &Session) -> Option<Robust> {
    let all = session.weighing().causes().ok()?;
    let first = all.first().filter(|first| first.probability >= reason::WORTH_REASONS)?;
    why::robust(session.weighing(), first.node, all, &Effort { draws: DRAWS, ..Effort::default() })
}
