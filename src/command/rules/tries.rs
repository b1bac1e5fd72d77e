//! Case files read and tried against a set of rules, each for itself: what is wrong with one keeps none of the others back.

use crate::case::Inspection;
use crate::command::cases;
use crate::command::files::{self, Sort};
use crate::command::session;
use crate::ground;
use crate::model::Model;
use crate::problem::Problems;
use crate::reason::Weighing;
use crate::report::record::{self, trial::Trials};
use crate::source::{SourceId, Sources};
use crate::trial::exercised::Exercised;
use crate::trial::true_cause::Tally;
use crate::trial::{self, Extent, Trial};
use std::path::PathBuf;
use std::sync::Arc;

/// A case as written, and where
pub(super) struct Written {
    pub(super) id: SourceId,
    pub(super) inspection: Inspection,
}

/// A case tried against rules
pub(super) struct Tried {
    pub(super) weighing: Weighing,
    pub(super) trial: Trial,
}

/// Reads the cases of some files and folders: in the order given, folders by name of file; those that cannot be read
/// come back by their names
pub(super) fn read(
    paths: &[PathBuf],
    sources: &mut Sources,
    problems: &mut Problems,
) -> (Vec<Written>, Vec<String>) {
    let (mut cases, mut unread) = (Vec::new(), Vec::new());
    let mut all = Vec::new();
    for path in paths {
        all.extend(files::listed(path, Sort::Cases, sources, problems));
    }
    for path in all {
        let mut own = Problems::default();
        let id = files::read(&path, sources, &mut own);
        let inspection = if own.any_error() { None } else { cases::read(sources, id, &mut own) };
        match inspection.filter(|_| !own.any_error()) {
            Some(inspection) => cases.push(Written { id, inspection }),
            None => unread.push(sources.name(id).to_owned()),
        }
        problems.append(own);
    }
    (cases, unread)
}

/// Tries one case; none, and what is wrong with it told, when it cannot be held against these rules
pub(super) fn one(
    model: &Arc<Model>,
    case: &Written,
    extent: Extent,
    problems: &mut Problems,
) -> Option<Tried> {
    let (ground, said) = ground::ground(model, &case.inspection);
    let faulty = said.any_error();
    problems.append(said);
    if faulty {
        return None;
    }
    let weighing = Weighing::new(Arc::clone(model), ground).within(trial::settings());
    match trial::run(&weighing, &case.inspection, extent) {
        Ok(trial) => Some(Tried { weighing, trial }),
        Err(stop) => {
            problems.push(session::unweighed(model, weighing.ground(), case.inspection.title.at, &stop));
            None
        }
    }
}

/// What came of all cases, in the words of the report; `tried` is as long as `cases`
pub(super) fn trials(
    model: &Model,
    cases: &[Written],
    tried: &[Option<Tried>],
    unread: Vec<String>,
    sources: &Sources,
) -> Trials {
    let mut trials = Trials { not_tried: unread, ..Trials::default() };
    let mut exercised = Exercised::default();
    let mut tally = Tally::default();
    for (case, tried) in cases.iter().zip(tried) {
        let file = sources.name(case.id).to_owned();
        match tried {
            None => trials.not_tried.push(file),
            Some(tried) if tried.trial.claims.is_empty() => trials.nothing_claimed.push(file),
            Some(tried) => {
                exercised.at.extend(tried.trial.exercised.at.iter().copied());
                let (ground, trial) = (tried.weighing.ground(), &tried.trial);
                tally.add(&trial.places);
                trials.cases.push(record::trial::case(model, ground, trial, &case.inspection.title, sources));
            }
        }
    }
    trials.hold = trials.cases.iter().filter(|case| case.failures.is_empty()).count();
    trials.true_causes = tally.into();
    trials.exercised = record::trial::shares(model, &exercised, sources);
    trials
}
