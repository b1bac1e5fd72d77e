//! What every command about a case starts from: its rules, its inspection, its network.

use super::shell::{self, Exit, Halt, Run};
use super::visits::{self, Seen};
use super::{Format, cases, files, rulebook};
use crate::case::Inspection;
use crate::consultation::Consultation;
use crate::ground::{Ground, How};
use crate::infer::bounds::Budget;
use crate::model::Model;
use crate::plan::prices::Terms;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::reason::{Settings, Stop, Weighing};
use crate::report::rules::problems;
use crate::source::{Sources, Span};
use std::io;
use std::path::PathBuf;

/// A case and the rules to weigh it by
#[derive(Debug, clap::Args)]
pub(super) struct Choice {
    /// The case file: one inspection of one machine, as YAML
    pub(super) case: PathBuf,
    /// Folder with `.rules` files to use in place of those built into the program
    #[arg(long, value_name = "DIR")]
    pub(super) rules: Option<PathBuf>,
}

/// A case held against its rules, without an error in either
pub(super) struct Session {
    pub(super) consultation: Consultation,
    /// The visits to the machine, this one among them, in the order of hours; this one alone where earlier ones were not
    /// asked for
    #[cfg_attr(not(feature = "page"), expect(dead_code, reason = "only a page names it"))]
    pub(super) visits: Vec<Seen>,
    pub(super) rules_digest: String,
    pub(super) case_digest: String,
    pub(super) sources: Sources,
}

/// Reads rules and case and tells all problems of both, which end the run when one of them is an error
pub(super) fn open(choice: &Choice, format: Format) -> Run<Session> {
    opened(choice, format, |_, _| Problems::default(), |_, own, _, _| vec![own])
}

/// The same with the earlier visits that the case names, and with what `more` finds wrong in the case, told in one go with
/// all else
pub(super) fn open_with_visits(
    choice: &Choice,
    format: Format,
    more: impl FnOnce(&Model, &Inspection) -> Problems,
) -> Run<Session> {
    opened(choice, format, more, visits::with_earlier)
}

fn opened(
    choice: &Choice,
    format: Format,
    more: impl FnOnce(&Model, &Inspection) -> Problems,
    visits: impl FnOnce(&Model, Seen, &mut Sources, &mut Problems) -> Vec<Seen>,
) -> Run<Session> {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(choice.rules.as_deref(), &mut sources);
    let model = rulebook.model;
    let mut problems = Problems::default();
    let id = files::read(&choice.case, &mut sources, &mut problems);
    let readable = !problems.any_error();
    let inspection = if readable { cases::read(&mut sources, id, &mut problems) } else { None };
    let rules_hold = !rulebook.problems.any_error();
    let own = inspection.filter(|_| rules_hold).map(|inspection| {
        let own = visits::seen(&model, id, inspection, &sources, &mut problems);
        problems.append(more(&model, &own.visit.inspection));
        own
    });
    if !rules_hold {
        problems.append(rulebook.problems);
    }
    let own = own.filter(|_| !problems.any_error()).map(|own| {
        let consultation = Consultation::new(model.clone(), own.visit.clone());
        (consultation, own.digest.clone(), visits(&model, own, &mut sources, &mut problems))
    });
    let faulty = problems.any_error();
    tell(&problems, &sources, format, faulty)?;
    let Some((consultation, case_digest, visits)) = own.filter(|_| !faulty) else {
        return Err(Halt::Reported(Exit::FaultyInput));
    };
    Ok(Session {
        consultation: consultation.over(visits.iter().map(|seen| seen.visit.clone()).collect()),
        visits,
        rules_digest: rulebook.digest,
        case_digest,
        sources,
    })
}

impl Session {
    /// The case with bounds narrowed for as long as `budget` says
    pub(super) fn within(self, budget: Budget) -> Self {
        let settings = Settings { budget, ..Settings::default() };
        Session { consultation: self.consultation.within(settings), ..self }
    }

    /// The case with work priced by `terms`
    pub(super) fn priced(self, terms: Terms) -> Self {
        Session { consultation: self.consultation.priced(terms), ..self }
    }

    pub(super) fn model(&self) -> &Model {
        self.consultation.model()
    }

    pub(super) fn ground(&self) -> &Ground {
        self.consultation.ground()
    }

    pub(super) fn inspection(&self) -> &Inspection {
        self.consultation.inspection()
    }

    pub(super) fn weighing(&self) -> &Weighing {
        self.consultation.weighing()
    }

    /// Says why there is no answer, which ends the run
    pub(super) fn stopped(&self, stop: &Stop, format: Format) -> Halt {
        let mut problems = Problems::default();
        problems.push(unweighed(self.model(), self.ground(), self.inspection().title.at, stop));
        match tell(&problems, &self.sources, format, true) {
            Ok(()) => Halt::Reported(Exit::FaultyInput),
            Err(fault) => Halt::Fault(fault),
        }
    }
}

/// Problems go to standard error; when nothing else will be answered to a program, they are its answer
pub(super) fn tell(problems: &Problems, sources: &Sources, format: Format, faulty: bool) -> io::Result<()> {
    if faulty && format == Format::Json {
        return shell::answer(&problems::json(problems, sources)?);
    }
    shell::tell(problems, sources)
}

/// What keeps the findings of the case with its title at `at` from being weighed
pub(super) fn unweighed(model: &Model, ground: &Ground, at: Span, stop: &Stop) -> Problem {
    match stop {
        Stop::TooWide(_) => Problem::new(
            Code::CaseTooWide,
            at,
            "so many signs share so many causes here that this would take too long to work out exactly",
        )
        .help("note what was looked at and normal, and tell the facts that are not told: both untangle"),
        Stop::Impossible(numbers) => impossible(model, ground, at, numbers),
    }
}

/// Names the findings that cannot occur together
fn impossible(model: &Model, ground: &Ground, at: Span, numbers: &[usize]) -> Problem {
    let mut names = Vec::new();
    let mut spans = Vec::new();
    for own in numbers.iter().filter_map(|&number| ground.observations.get(number)) {
        let effect = &model[own.symptom].effect;
        names.push(format!("`{} {}: {}`", effect.common.name, own.place, effect.grades.name(own.grade)));
        spans.push(match own.how {
            How::Read { .. } => None,
            How::Seen { .. } | How::Normal(_) => Some(own.at),
        });
    }
    let mut places = spans.into_iter().flatten();
    let message = match names.as_slice() {
        [one] => format!("{one} cannot be on this machine by these rules"),
        names => format!("{} cannot occur together by these rules", names.join(" and ")),
    };
    let first = places.next().unwrap_or(at); // else: no line of the case says it by itself
    let mut problem = Problem::new(Code::CaseImpossible, first, message)
        .help("look again at these findings and at the facts told; if they stand, a rule says `always` or 0 % where it should not");
    for place in places {
        problem = problem.also(place, "together with this");
    }
    problem
}
