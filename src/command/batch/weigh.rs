//! One case, from its line to the line that is written of it.

use super::escapes;
use super::input::{Case, Item};
use crate::command::{cases, digest, files, session};
use crate::consultation::{Consultation, Visit};
use crate::ground::{Ground, ground};
use crate::infer::bounds::{Budget, Interval};
use crate::infer::engines::Engines;
use crate::invariant::{self, Fault};
use crate::model::Model;
use crate::problem::Problems;
use crate::reason::{Ranked, Settings, Stop};
use crate::report;
use crate::report::record::batch::{Answer, Asked, Cause, Line};
use crate::report::record::diagnosis::from_weighing;
use crate::report::record::evidence;
use crate::report::rules::problems;
use crate::source::{SourceId, Sources};
use std::io;
use std::sync::Arc;

/// What every case is weighed by
pub(super) struct Weigher {
    pub(super) model: Arc<Model>,
    pub(super) rules_digest: String,
    pub(super) asked: Asked,
    pub(super) engines: Engines,
}

/// What came of a case
pub(super) struct Weighed {
    /// The line written of it, with its end
    pub(super) line: String,
    /// It has no answer
    pub(super) faulty: bool,
    /// The fault of the program that kept it from one
    pub(super) fault: Option<Fault>,
    /// What is wrong with it
    pub(super) problems: Problems,
    /// Its text, for the problems to point at
    pub(super) sources: Sources,
}

/// A case taken in
struct Taken {
    sources: Sources,
    id: SourceId,
    problems: Problems,
    digest: String,
}

impl Weigher {
    /// Weighs one case; a fault of the program costs this case only, and its line says so
    ///
    /// # Errors
    /// When the library that writes JSON fails, which it does not for what is told of a case.
    pub(super) fn weigh(&self, item: &Item) -> io::Result<Weighed> {
        let fault = match invariant::caught(|| self.weighed(item)) {
            Ok(weighed) => return weighed,
            Err(fault) => fault,
        };
        let line =
            report::json_line(&Line { fault: Some(fault.to_string()), ..self.line(item, digest(item)) })?;
        let (problems, sources) = Default::default();
        Ok(Weighed { line, faulty: true, fault: Some(fault), problems, sources })
    }

    fn weighed(&self, item: &Item) -> io::Result<Weighed> {
        let Taken { mut sources, id, mut problems, digest } = taken(item);
        let read = if problems.any_error() { None } else { self.read(&mut sources, id, &mut problems) };
        let mut answer = None;
        let named = read.map(|visit| {
            let inspection = Arc::clone(&visit.inspection);
            if !problems.any_error() {
                let own = self.consultation(visit);
                match self.answer(&own) {
                    Ok(found) => answer = Some(found),
                    Err(stop) => {
                        let at = inspection.title.at;
                        problems.push(session::unweighed(&self.model, own.ground(), at, &stop));
                    }
                }
            }
            (inspection.title.value.clone(), inspection.machine.tag.value.clone())
        });
        let (case, machine) = named.unzip();
        let faulty = answer.is_none();
        let line = report::json_line(&Line {
            case: case.filter(|title| !title.is_empty()),
            machine: machine.filter(|tag| !tag.is_empty()),
            answer,
            problems: problems::lines(&problems, &sources),
            ..self.line(item, digest)
        })?;
        Ok(Weighed { line, faulty, fault: None, problems, sources })
    }

    /// The line of a case of which nothing is known yet
    fn line(&self, item: &Item, case_digest: String) -> Line {
        Line {
            line: item.number,
            file: item.file(),
            case: None,
            machine: None,
            rules_digest: self.rules_digest.clone(),
            case_digest,
            asked: self.asked,
            answer: None,
            problems: Vec::new(),
            fault: None,
        }
    }

    fn read(&self, sources: &mut Sources, id: SourceId, problems: &mut Problems) -> Option<Visit> {
        let inspection = cases::read(sources, id, problems)?;
        let (ground, said) = ground(&self.model, &inspection);
        problems.append(said);
        Some(Visit { inspection: Arc::new(inspection), ground: Arc::new(ground) })
    }

    /// The case weighed by the engine that machines of its build share
    fn consultation(&self, visit: Visit) -> Consultation {
        let engine = self.engines.of(&visit.ground.network);
        let settings = Settings { budget: Budget::seconds(self.asked.budget), ..Settings::default() };
        Consultation::new(Arc::clone(&self.model), visit).by(&engine).within(settings)
    }

    fn answer(&self, own: &Consultation) -> Result<Answer, Stop> {
        let (weighing, model, ground) = (own.weighing(), own.model(), own.ground());
        let (causes, Interval { lower, upper }) = if self.asked.reasons {
            let found = weighing.diagnosis()?;
            (found.causes.as_slice(), found.log_evidence)
        } else {
            weighing.ranking()?
        };
        let next = if self.asked.next { own.next().ok() } else { None };
        let exact = lower >= upper;
        let likely = causes.iter().filter(|cause| cause.within.upper >= self.asked.over);
        Ok(Answer {
            causes: likely.map(|cause| self.cause(ground, cause, causes)).collect(),
            log_evidence: exact.then_some(lower),
            log_evidence_between: (!exact).then_some([lower, upper]),
            next_checks: next
                .map(|next| next.checks.iter().map(|it| evidence::next_check(model, ground, it)).collect()),
        })
    }

    fn cause(&self, ground: &Ground, cause: &Ranked, all: &[Ranked]) -> Cause {
        let cause = from_weighing::cause(&self.model, ground, cause, all);
        if self.asked.reasons { Cause::Whole(Box::new(cause)) } else { Cause::Brief(cause.into()) }
    }
}

/// The digest that the line of a case bears
pub(super) fn digest(item: &Item) -> String {
    match &item.case {
        Case::Line(bytes) => digest::of_bytes(bytes),
        Case::File(_) => taken(item).digest,
    }
}

fn taken(item: &Item) -> Taken {
    let mut sources = Sources::default();
    let mut problems = Problems::default();
    match &item.case {
        Case::Line(bytes) => {
            let digest = digest::of_bytes(bytes);
            let name = format!("line {}", item.number);
            let plain = escapes::plain(bytes.trim_ascii_start()).into_owned();
            let id = files::take(&name, &name, plain, &mut sources, &mut problems);
            Taken { sources, id, problems, digest }
        }
        Case::File(path) => {
            let id = files::read(path, &mut sources, &mut problems);
            let digest = digest::of_file(&sources, id);
            Taken { sources, id, problems, digest }
        }
    }
}
