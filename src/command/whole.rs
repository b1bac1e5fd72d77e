//! The whole diagnosis of a case, with wear and work plan: what `diagnose` tells and `report` lays out.

use super::Format;
use super::session::Session;
use super::shell::Run;
use crate::report::record::diagnosis::{Report, from_weighing};

/// The report of all that is weighed; why there is none has been told then, and the run ends
pub(super) fn whole(session: &Session, format: Format) -> Run<Report> {
    let asked = &session.consultation;
    let stopped = |stop| session.stopped(&stop, format);
    Ok(from_weighing::report(&from_weighing::Made {
        model: asked.model(),
        inspection: asked.inspection(),
        ground: asked.ground(),
        diagnosis: asked.weighing().diagnosis().map_err(stopped)?,
        next: asked.next().ok(),
        worn: asked.worn(),
        overall: asked.overall(),
        contradictions: asked.contradictions(),
        advice: asked.advice(),
        plan: asked.plan().map_err(stopped)?,
        rules_digest: &session.rules_digest,
        case_digest: &session.case_digest,
    }))
}
