//! `pinboss plan CASE`: the work plan.

use super::Format;
use super::budget::BudgetArgs;
use super::prices::PricesArgs;
use super::session::{self, Choice};
use super::shell::{self, Exit, Run};
use crate::plan::Plan;
use crate::plan::prices::{HORIZON, Terms};
use crate::plan::swing::Swing;
use crate::problem::Problems;
use crate::report::{self, tell};
use serde::Serialize;

/// Most hours ahead that can be asked for
const MOST: f64 = 20_000.0;

/// What work to do, in which visits, what it costs and saves, what may run on and what to watch
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    choice: Choice,
    #[command(flatten)]
    budget: BudgetArgs,
    #[command(flatten)]
    prices: PricesArgs,
    /// Working hours ahead to plan for: what comes to its figure by then is planned, and its visit may lie up to 500 h later
    #[arg(long, value_name = "HOURS", default_value_t = HORIZON, value_parser = hours, allow_negative_numbers = true)]
    horizon: f64,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

/// The answer as JSON
#[derive(Serialize)]
struct Answer<'a> {
    case: &'a str,
    machine: &'a str,
    rules_digest: &'a str,
    case_digest: &'a str,
    #[serde(flatten)]
    plan: &'a Plan,
    swing: &'a Swing,
    notice: &'static str,
}

pub(super) fn run(args: &Args) -> Run {
    let session = session::open_with_visits(&args.choice, args.format, |_, _| Problems::default())?;
    let priced = args.prices.read(session.model(), args.format)?;
    let terms = Terms { horizon: args.horizon, ..priced.terms };
    let session = session.within(args.budget.budget()).priced(terms);
    let asked = &session.consultation;
    let plan = asked.plan().map_err(|stop| session.stopped(&stop, args.format))?;
    let swing = asked.swing().map_err(|stop| session.stopped(&stop, args.format))?;
    let inspection = asked.inspection();
    let (machine, title) = (&inspection.machine.tag.value, &inspection.title.value);
    match args.format {
        Format::Json => shell::answer(&report::json(&Answer {
            case: title,
            machine,
            rules_digest: &session.rules_digest,
            case_digest: &session.case_digest,
            plan,
            swing: &swing,
            notice: report::record::diagnosis::NOTICE,
        })?)?,
        Format::Text => shell::show(&tell::plan(plan, &swing, &format!("{machine}: {title}")))?,
    }
    Ok(Exit::Done)
}

fn hours(words: &str) -> Result<f64, String> {
    match words.parse::<f64>() {
        Ok(hours) if (0.0..=MOST).contains(&hours) => Ok(hours),
        _ => Err(format!("give working hours from 0 to {MOST}, such as 1000")),
    }
}
