//! The whole diagnosis of a case, with wear and work plan: what `diagnose` tells and `report` lays out.

use super::Format;
use super::session::{self, Choice, Session};
use super::shell::Exit;
use super::visits::{self, Seen};
use crate::infer::Limits;
use crate::infer::bounds::Budget;
use crate::infer::information::Effort;
use crate::plan::{plan, prices::Terms};
use crate::reason;
use crate::reason::next::next_checks;
use crate::report::record::diagnosis::{Report, make};
use crate::wear::history::Visit;
use crate::wear::trend::worn_over;
use crate::wear::{self, Worn};
use std::io;

/// The report of all that is weighed, with work priced by `terms`, or how the run ends without one, which has been told then
pub(super) fn whole(
    session: &Session,
    choice: &Choice,
    budget: &Budget,
    terms: &Terms,
    format: Format,
) -> io::Result<Result<Report, Exit>> {
    let Session { model, ground, inspection, .. } = session;
    let found = match reason::weigh(model, ground, &Limits::default(), budget) {
        Ok(found) => found,
        Err(stop) => return session::stopped(session, &stop, format).map(Err),
    };
    let Some(worn) = worn(session, choice, format)? else {
        return Ok(Err(Exit::FaultyInput));
    };
    let next = next_checks(model, ground, &Limits::often(), &Effort::default()).ok();
    let (machine, readings) = (&ground.machine, &ground.readings);
    Ok(Ok(make::report(&make::Made {
        model,
        inspection,
        ground,
        diagnosis: &found,
        next: next.as_deref(),
        worn: &worn,
        overall: wear::overall::overall(model, machine, readings, &worn).as_ref(),
        contradictions: &wear::contradiction::contradictions(model, machine, readings, &ground.set_aside),
        advice: &wear::advice::advice(model, machine, readings),
        plan: (&plan(model, ground, &found, &worn, terms), terms),
        rules_digest: &session.rules_digest,
        case_digest: &session.case_digest,
    })))
}

/// How worn everything is that was read, by earlier visits too where the case names some; none where one of them is
/// faulty, which has been told then
pub(super) fn worn(session: &Session, choice: &Choice, format: Format) -> io::Result<Option<Vec<Worn>>> {
    let Session { model, ground, inspection, .. } = session;
    if inspection.earlier.is_empty() {
        return Ok(Some(wear::worn(model, &ground.machine, &ground.readings)));
    }
    let found = visits::open(std::slice::from_ref(&choice.case), choice.rules.as_deref(), format)?;
    Ok(found.map(|found| {
        let read: Vec<Visit<'_>> = found.visits.iter().map(Seen::read).collect();
        worn_over(&found.model, &read)
    }))
}
