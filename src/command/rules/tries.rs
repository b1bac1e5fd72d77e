//! Case files read and tried against a set of rules, each for itself: what is wrong with one keeps none of the others back.

use crate::case::{self, Inspection};
use crate::command::{rulebook, session};
use crate::ground::{self, Ground};
use crate::model::Model;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::report::trial::{self as told, Trials};
use crate::source::{SourceId, Sources};
use crate::trial::exercised::Exercised;
use crate::trial::{self, Settings, Trial};
use std::fs;
use std::path::{Path, PathBuf};

/// A case as written, and where
pub(super) struct Written {
    pub(super) id: SourceId,
    pub(super) inspection: Inspection,
}

/// A case tried against rules
pub(super) struct Tried {
    pub(super) ground: Ground,
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
        all.extend(files(path, sources, problems));
    }
    for path in all {
        let mut own = Problems::default();
        let id = rulebook::read_file(&path, sources, &mut own);
        let inspection = if own.any_error() {
            None
        } else {
            let (inspection, said) = case::read(sources, id);
            own.append(said);
            inspection
        };
        match inspection.filter(|_| !own.any_error()) {
            Some(inspection) => cases.push(Written { id, inspection }),
            None => unread.push(sources.name(id).to_owned()),
        }
        problems.append(own);
    }
    (cases, unread)
}

/// A file as it is; of a folder the files ending in `.yaml` or `.yml`
fn files(path: &Path, sources: &mut Sources, problems: &mut Problems) -> Vec<PathBuf> {
    if !path.is_dir() {
        return vec![path.to_owned()];
    }
    let is_case = |path: &PathBuf| path.extension().is_some_and(|own| own == "yaml" || own == "yml");
    let mut paths: Vec<PathBuf> = match fs::read_dir(path) {
        Ok(entries) => entries.filter_map(|entry| entry.ok().map(|own| own.path())).filter(is_case).collect(),
        Err(_) => Vec::new(),
    };
    paths.sort();
    if paths.is_empty() {
        let name = path.display().to_string();
        let at = sources.add(&name, "");
        let message = format!("the folder `{name}` holds no case files that may be read");
        problems.push(
            Problem::new(Code::FileUnreadable, sources.whole(at), message)
                .help("give case files, or a folder that holds files ending in `.yaml`"),
        );
    }
    paths
}

/// Tries one case; none, and what is wrong with it told, when it cannot be held against these rules
pub(super) fn one(
    model: &Model,
    case: &Written,
    settings: &Settings,
    sources: &Sources,
    problems: &mut Problems,
) -> Option<Tried> {
    let (ground, said) = ground::ground(model, &case.inspection);
    let faulty = said.any_error();
    problems.append(said);
    if faulty {
        return None;
    }
    match trial::run(model, &case.inspection, &ground, settings) {
        Ok(trial) => Some(Tried { ground, trial }),
        Err(stop) => {
            problems.push(session::unweighed(model, &ground, sources.whole(case.id), &stop));
            None
        }
    }
}

/// What came of all cases, in the words of the report; `tried` is as long as `cases`
pub(super) fn told(
    model: &Model,
    cases: &[Written],
    tried: &[Option<Tried>],
    unread: Vec<String>,
    sources: &Sources,
) -> Trials {
    let mut trials = Trials { not_tried: unread, ..Trials::default() };
    let mut exercised = Exercised::default();
    for (case, tried) in cases.iter().zip(tried) {
        let file = sources.name(case.id).to_owned();
        match tried {
            None => trials.not_tried.push(file),
            Some(tried) if tried.trial.claims.is_empty() => trials.nothing_claimed.push(file),
            Some(tried) => {
                exercised.at.extend(tried.trial.exercised.at.iter().copied());
                let (ground, trial) = (&tried.ground, &tried.trial);
                trials.cases.push(told::case(model, ground, trial, &case.inspection.title, sources));
            }
        }
    }
    trials.hold = trials.cases.iter().filter(|case| case.failures.is_empty()).count();
    trials.exercised = told::shares(model, &exercised, sources);
    trials
}
