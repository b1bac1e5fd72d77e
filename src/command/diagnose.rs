//! `pinboss diagnose CASE`: the main job.

use super::budget::BudgetArgs;
use super::session::{self, Choice};
use super::shell::{self, Exit, width};
use super::{Format, session::Session};
use crate::infer::Limits;
use crate::infer::information::Effort;
use crate::plan::{plan, prices::Terms};
use crate::reason;
use crate::reason::next::next_checks;
use crate::report::diagnosis::make;
use crate::report::{self, text};
use crate::wear;
use std::io;

/// Weigh what was seen and read: probable causes with reasons, next checks, wear
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    choice: Choice,
    #[command(flatten)]
    budget: BudgetArgs,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

pub(super) fn run(args: &Args) -> io::Result<Exit> {
    let Some(session) = session::open(&args.choice, args.format)? else {
        return Ok(Exit::FaultyInput);
    };
    let Session { model, ground, inspection, .. } = &session;
    let limits = Limits::default();
    let found = match reason::weigh(model, ground, &limits, &args.budget.budget()) {
        Ok(found) => found,
        Err(stop) => return session::stopped(&session, &stop, args.format),
    };
    let next = next_checks(model, ground, &Limits::often(), &Effort::default()).ok();
    let (machine, readings) = (&ground.machine, &ground.readings);
    let worn = wear::worn(model, machine, readings);
    let terms = Terms::default();
    let plan = plan(model, ground, &found, &worn, &terms);
    let report = make::report(&make::Made {
        model,
        inspection,
        ground,
        diagnosis: &found,
        next: next.as_deref(),
        worn: &worn,
        overall: wear::overall::overall(model, machine, readings, &worn).as_ref(),
        contradictions: &wear::contradiction::contradictions(model, machine, readings, &ground.set_aside),
        advice: &wear::advice::advice(model, machine, readings),
        plan: (&plan, &terms),
        rules_digest: &session.rules_digest,
        case_digest: &session.case_digest,
    });
    match args.format {
        Format::Json => shell::answer(&report::json(&report)?)?,
        Format::Text => shell::answer(&text::diagnosis(&report, width()))?,
    }
    Ok(Exit::Done)
}
