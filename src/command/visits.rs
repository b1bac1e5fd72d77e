//! Several visits to one machine: the cases named, and those that they name as `earlier`, in the order of hours.

use super::digest;
use super::rulebook::{self, Rulebook};
use super::session::tell;
use super::shell::{Exit, Halt, Run};
use super::{Format, cases, files};
use crate::case::Inspection;
use crate::consultation::Visit;
use crate::ground::ground;
use crate::invariant::Hold;
use crate::model::Model;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::report::record::trend::VisitMade;
use crate::source::{SourceId, Sources, Span, Spanned};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The visits to one machine, without an error in any of them
pub(super) struct Visits {
    pub(super) model: Arc<Model>,
    pub(super) rules_digest: String,
    /// In the order of hours, never empty
    pub(super) visits: Vec<Seen>,
}

/// One visit, and where it is written
pub(super) struct Seen {
    /// Its file
    pub(super) path: PathBuf,
    /// Name of its file
    pub(super) file: String,
    pub(super) digest: String,
    pub(super) visit: Visit,
}

impl Seen {
    /// The visit as the report names it
    pub(super) fn made(&self) -> VisitMade<'_> {
        let Visit { inspection, ground } = &self.visit;
        VisitMade { file: &self.file, digest: &self.digest, inspection, ground }
    }
}

/// Reads rules and cases and tells all problems of all of them, which end the run when one is an error
pub(super) fn open(cases: &[PathBuf], rules: Option<&Path>, format: Format) -> Run<Visits> {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(rules, &mut sources);
    let mut problems = Problems::default();
    let named = cases.iter().rev().map(|path| (path.clone(), None)).collect();
    let read = read(named, BTreeSet::new(), &mut sources, &mut problems);
    let rules_hold = !rulebook.problems.any_error();
    let Rulebook { model, problems: of_rules, digest: rules_digest, .. } = rulebook;
    let mut visits = Vec::new();
    if rules_hold {
        visits.extend(
            read.into_iter().map(|(id, inspection)| seen(&model, id, inspection, &sources, &mut problems)),
        );
        order(&mut visits, &mut problems);
    } else {
        problems.append(of_rules);
    }
    let faulty = problems.any_error();
    tell(&problems, &sources, format, faulty)?;
    if faulty { Err(Halt::Reported(Exit::FaultyInput)) } else { Ok(Visits { model, rules_digest, visits }) }
}

/// A visit with those that it names as earlier, in the order of hours
pub(super) fn with_earlier(
    model: &Model,
    own: Seen,
    sources: &mut Sources,
    problems: &mut Problems,
) -> Vec<Seen> {
    let known = BTreeSet::from([real(&own.path)]);
    let read = read(earlier(&own.path, &own.visit.inspection), known, sources, problems);
    let mut visits = vec![own];
    visits.extend(read.into_iter().map(|(id, inspection)| seen(model, id, inspection, sources, problems)));
    order(&mut visits, problems);
    visits
}

/// A case held against the rules
pub(super) fn seen(
    model: &Model,
    id: SourceId,
    inspection: Inspection,
    sources: &Sources,
    problems: &mut Problems,
) -> Seen {
    let (ground, said) = ground(model, &inspection);
    problems.append(said);
    let path = PathBuf::from(sources.name(id));
    Seen {
        file: files::bare(&path).to_string_lossy().into_owned(),
        digest: digest::of_file(sources, id),
        visit: Visit { inspection: Arc::new(inspection), ground: Arc::new(ground) },
        path,
    }
}

/// Where a case names an earlier visit, and the hours that it tells itself
struct Named {
    at: Span,
    hours: Option<f64>,
}

impl Named {
    /// Says that the visit named as earlier has more hours than the one that names it
    fn is_before(&self, hours: Option<&Spanned<f64>>, problems: &mut Problems) {
        if let (Some(hours), Some(later)) = (hours, self.hours)
            && hours.value > later
        {
            let message = format!("named as an earlier visit, and {} h against {later} h", hours.value);
            problems.push(Problem::new(Code::CaseHours, hours.at, message).also(self.at, "named here").help(
                "correct the hours; where the meter was changed, add `meter: {changed_at: …}` to the later case, with the last hours of the old one",
            ));
        }
    }
}

/// Files still to be read, the next one last, with where each was named; none for those of the call
type Open = Vec<(PathBuf, Option<Named>)>;

/// The visits that a case names as earlier, the first of them last
fn earlier(path: &Path, inspection: &Inspection) -> Open {
    let folder = path.parent().hold("a file that was read lies in a folder");
    let hours = inspection.machine.hours.as_ref().map(|hours| hours.value);
    let named = inspection.earlier.iter().rev();
    named.map(|file| (folder.join(&file.value), Some(Named { at: file.at, hours }))).collect()
}

/// The one path of a file, by whatever path it was named
fn real(path: &Path) -> PathBuf {
    path.canonicalize().unwrap_or_else(|_| path.to_owned()) // else: it is not there, which is told where it is read
}

/// Reads some cases and all that they name as earlier, each file once, and none of those known
fn read(
    mut open: Open,
    mut known: BTreeSet<PathBuf>,
    sources: &mut Sources,
    problems: &mut Problems,
) -> Vec<(SourceId, Inspection)> {
    let mut read = Vec::new();
    while let Some((path, named)) = open.pop() {
        if !known.insert(real(&path)) {
            continue;
        }
        if let Some(named) = named.as_ref().filter(|_| !path.is_file()) {
            problems.push(cases::not_there("the file of this earlier visit", named.at));
            continue;
        }
        let mut own = Problems::default();
        let id = files::read(&path, sources, &mut own);
        let readable = !own.any_error();
        problems.append(own);
        if !readable {
            continue;
        }
        if let Some(inspection) = cases::read(sources, id, problems) {
            if let Some(named) = named {
                named.is_before(inspection.machine.hours.as_ref(), problems);
            }
            open.extend(earlier(&path, &inspection));
            read.push((id, inspection));
        }
    }
    read
}

/// Puts visits in the order of hours, and says what keeps them from being visits to one machine
fn order(visits: &mut [Seen], problems: &mut Problems) {
    let (Some(first), several) = (visits.first(), visits.len() > 1) else { return };
    let machine = &first.visit.inspection.machine;
    for other in visits.iter().skip(1).map(|seen| &seen.visit.inspection.machine) {
        same("machine", Some(&machine.tag), Some(&other.tag), problems);
        same("size", machine.size.as_ref(), other.size.as_ref(), problems);
    }
    for seen in visits.iter().filter(|seen| several && seen.visit.inspection.machine.hours.is_none()) {
        problems.push(
            Problem::new(
                Code::CaseMissing,
                seen.visit.inspection.machine.tag.at,
                "the hours on the meter are not told",
            )
            .help("add `hours: …` under `machine`: several visits are put in order by them"),
        );
    }
    let hours = |seen: &Seen| seen.visit.inspection.machine.hours.as_ref().map_or(0.0, |hours| hours.value);
    let day = |seen: &Seen| seen.visit.inspection.visit.on.as_ref().map(|day| day.value.clone());
    visits.sort_by(|a, b| hours(a).total_cmp(&hours(b)).then_with(|| day(a).cmp(&day(b))));
    for (before, after) in visits.iter().zip(visits.iter().skip(1)) {
        backwards(&before.visit.inspection, &after.visit.inspection, problems);
    }
}

/// Says that two visits are to different machines, or to machines of different sizes
fn same(what: &str, one: Option<&Spanned<String>>, other: Option<&Spanned<String>>, problems: &mut Problems) {
    if let (Some(one), Some(other)) = (one, other)
        && one.value != other.value
    {
        let message =
            format!("another {what} than at the other visit: `{}`, not `{}`", other.value, one.value);
        problems.push(
            Problem::new(Code::CaseValue, other.at, message)
                .also(one.at, "the other visit")
                .help("name only visits to one machine, and call it the same in all of them"),
        );
    }
}

/// Says that of two visits in the order of hours the first was made later by the calendar
fn backwards(before: &Inspection, after: &Inspection, problems: &mut Problems) {
    if let (Some(first), Some(second)) = (&before.visit.on, &after.visit.on)
        && first.value > second.value
        && let (Some(fewer), Some(more)) = (&before.machine.hours, &after.machine.hours)
    {
        let message = format!("fewer hours on {} than on {} before it", first.value, second.value);
        problems.push(Problem::new(Code::CaseHours, fewer.at, message).also(more.at, "the earlier visit").help(
            "correct the hours or the day; where the meter was changed, add `meter: {changed_at: …}` under `machine` with the last hours of the old one",
        ));
    }
}
