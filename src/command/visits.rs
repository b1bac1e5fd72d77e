//! Several visits to one machine: the cases named, and those that they name as `earlier`, in the order of hours.

use super::digest;
use super::rulebook::{self, Rulebook};
use super::session::tell;
use super::{Format, files};
use crate::case::{self, Inspection};
use crate::ground::{Ground, ground};
use crate::invariant::Hold;
use crate::model::Model;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{SourceId, Sources, Span, Spanned};
use crate::wear::history::Visit;
use std::collections::BTreeSet;
use std::io;
use std::path::{Path, PathBuf};

/// The visits to one machine, without an error in any of them
pub(super) struct Visits {
    pub(super) model: Model,
    pub(super) rules_digest: String,
    /// In the order of hours, never empty
    pub(super) visits: Vec<Seen>,
}

/// One visit
pub(super) struct Seen {
    /// Its file
    pub(super) path: PathBuf,
    /// Name of its file
    pub(super) file: String,
    pub(super) digest: String,
    pub(super) inspection: Inspection,
    pub(super) ground: Ground,
}

impl Seen {
    /// The visit as wear is reckoned from it
    pub(super) fn read(&self) -> Visit<'_> {
        Visit { machine: &self.ground.machine, readings: &self.ground.readings }
    }
}

/// Reads rules and cases; tells all problems of all of them, and gives none when one is an error
pub(super) fn open(cases: &[PathBuf], rules: Option<&Path>, format: Format) -> io::Result<Option<Visits>> {
    let mut sources = Sources::default();
    let rulebook = rulebook::load(rules, &mut sources);
    let mut problems = Problems::default();
    let read = read(cases, &mut sources, &mut problems);
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
    Ok((!faulty).then_some(Visits { model, rules_digest, visits }))
}

fn seen(
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
        inspection,
        ground,
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

/// Reads some cases and all that they name as earlier, each file once
fn read(cases: &[PathBuf], sources: &mut Sources, problems: &mut Problems) -> Vec<(SourceId, Inspection)> {
    let mut open: Vec<(PathBuf, Option<Named>)> =
        cases.iter().rev().map(|path| (path.clone(), None)).collect();
    let mut known = BTreeSet::new();
    let mut read = Vec::new();
    while let Some((path, named)) = open.pop() {
        let real = path.canonicalize().unwrap_or_else(|_| path.clone()); // else: it is not there, which is told below
        if !known.insert(real) {
            continue;
        }
        if let Some(named) = named.as_ref().filter(|_| !path.is_file()) {
            problems.push(
                Problem::new(Code::FileUnreadable, named.at, "the file of this earlier visit is not there")
                    .help("write its path from the folder of this case"),
            );
            continue;
        }
        let mut own = Problems::default();
        let id = files::read(&path, sources, &mut own);
        let readable = !own.any_error();
        problems.append(own);
        if !readable {
            continue;
        }
        let (inspection, said) = case::read(sources, id);
        problems.append(said);
        if let Some(inspection) = inspection {
            let folder = path.parent().hold("a file that was read lies in a folder");
            let hours = inspection.machine.hours.as_ref();
            if let Some(named) = named {
                named.is_before(hours, problems);
            }
            let earlier = inspection.earlier.iter().rev();
            let named = |at: Span| Named { at, hours: hours.map(|hours| hours.value) };
            open.extend(earlier.map(|file| (folder.join(&file.value), Some(named(file.at)))));
            read.push((id, inspection));
        }
    }
    read
}

/// Puts visits in the order of hours, and says what keeps them from being visits to one machine
fn order(visits: &mut [Seen], problems: &mut Problems) {
    let (Some(first), several) = (visits.first(), visits.len() > 1) else { return };
    let told = &first.inspection.machine;
    for other in visits.iter().skip(1).map(|seen| &seen.inspection.machine) {
        same("machine", Some(&told.tag), Some(&other.tag), problems);
        same("size", told.size.as_ref(), other.size.as_ref(), problems);
    }
    for seen in visits.iter().filter(|seen| several && seen.inspection.machine.hours.is_none()) {
        problems.push(
            Problem::new(
                Code::CaseMissing,
                seen.inspection.machine.tag.at,
                "the hours on the meter are not told",
            )
            .help("add `hours: …` under `machine`: several visits are put in order by them"),
        );
    }
    let hours = |seen: &Seen| seen.inspection.machine.hours.as_ref().map_or(0.0, |hours| hours.value);
    let day = |seen: &Seen| seen.inspection.visit.on.as_ref().map(|day| day.value.clone());
    visits.sort_by(|a, b| hours(a).total_cmp(&hours(b)).then_with(|| day(a).cmp(&day(b))));
    for (before, after) in visits.iter().zip(visits.iter().skip(1)) {
        backwards(&before.inspection, &after.inspection, problems);
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
