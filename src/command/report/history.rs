//! The wear of the machine up to this visit: by the case alone, or by the earlier visits that it names as well.

use super::super::Format;
use super::super::session::{Choice, Session};
use super::super::visits::{self, Seen};
use crate::command::files;
use crate::report::record::trend::{self, Trend, VisitMade};
use crate::wear::history::Visit;
use crate::wear::trend::trend as reckon;
use std::io;

/// The wear over all visits; none when one of the earlier ones is faulty, which has been told then
pub(super) fn history(session: &Session, choice: &Choice, format: Format) -> io::Result<Option<Trend>> {
    let Session { model, inspection, ground, case_digest, rules_digest, .. } = session;
    if inspection.earlier.is_empty() {
        let file = files::bare(&choice.case).to_string_lossy();
        let made = VisitMade { file: &file, digest: case_digest, inspection, ground };
        let visit = Visit { machine: &ground.machine, readings: &ground.readings };
        return Ok(Some(trend::report(model, &[made], &reckon(model, &[visit]), rules_digest)));
    }
    let cases = std::slice::from_ref(&choice.case);
    let Some(found) = visits::open(cases, choice.rules.as_deref(), format)? else {
        return Ok(None);
    };
    let read: Vec<Visit<'_>> = found.visits.iter().map(Seen::read).collect();
    let made: Vec<VisitMade<'_>> = found
        .visits
        .iter()
        .map(|seen| VisitMade {
            file: &seen.file,
            digest: &seen.digest,
            inspection: &seen.inspection,
            ground: &seen.ground,
        })
        .collect();
    Ok(Some(trend::report(model, &made, &reckon(model, &read), rules_digest)))
}
