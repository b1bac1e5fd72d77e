//! What every command about a case starts from: its rules, its inspection, its network.

use super::shell::{self, Exit};
use super::{Format, digest, files, rulebook};
use crate::case::{self, Inspection};
use crate::ground::{Ground, How, ground};
use crate::model::Model;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::reason::Stop;
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
    pub(super) model: Model,
    pub(super) inspection: Inspection,
    pub(super) ground: Ground,
    pub(super) rules_digest: String,
    pub(super) case_digest: String,
    pub(super) sources: Sources,
}

/// Reads rules and case; tells all problems of both, and gives none when one of them is an error
pub(super) fn open(choice: &Choice, format: Format) -> io::Result<Option<Session>> {
    open_with(choice, format, |_, _| Problems::default())
}

/// The same, with what `more` finds wrong in the case told in one go with all else
pub(super) fn open_with(
    choice: &Choice,
    format: Format,
    more: impl FnOnce(&Model, &Inspection) -> Problems,
) -> io::Result<Option<Session>> {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(choice.rules.as_deref(), &mut sources);
    let mut problems = Problems::default();
    let id = files::read(&choice.case, &mut sources, &mut problems);
    let readable = !problems.any_error();
    let inspection = if readable {
        let (inspection, said) = case::read(&sources, id);
        problems.append(said);
        inspection
    } else {
        None
    };
    let rules_hold = !rulebook.problems.any_error();
    let grounded = inspection.filter(|_| rules_hold).map(|inspection| {
        let (ground, said) = ground(&rulebook.model, &inspection);
        problems.append(said);
        problems.append(more(&rulebook.model, &inspection));
        (inspection, ground)
    });
    if !rules_hold {
        problems.append(rulebook.problems);
    }
    let faulty = problems.any_error();
    tell(&problems, &sources, format, faulty)?;
    Ok(grounded.filter(|_| !faulty).map(|(inspection, ground)| Session {
        case_digest: digest::of_file(&sources, id),
        model: rulebook.model,
        inspection,
        ground,
        rules_digest: rulebook.digest,
        sources,
    }))
}

/// Problems go to standard error; when nothing else will be answered to a program, they are its answer
pub(super) fn tell(problems: &Problems, sources: &Sources, format: Format, faulty: bool) -> io::Result<()> {
    if faulty && format == Format::Json {
        return shell::answer(&problems::json(problems, sources)?);
    }
    shell::tell(problems, sources)
}

/// Says why there is no answer
pub(super) fn stopped(session: &Session, stop: &Stop, format: Format) -> io::Result<Exit> {
    let mut problems = Problems::default();
    problems.push(unweighed(&session.model, &session.ground, session.inspection.title.at, stop));
    tell(&problems, &session.sources, format, true)?;
    Ok(Exit::FaultyInput)
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
