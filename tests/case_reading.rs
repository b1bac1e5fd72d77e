//! Case files and the quantities in them: what is read, what is said of faulty ones, and that no text at all brings the reader down.

mod any_text;
mod faults;
mod good;
mod large;
mod not_yaml;
mod quantities;

use pinboss::case::{self, Inspection};
use pinboss::problem::Problem;
use pinboss::problem::code::Code;
use pinboss::source::{SourceId, Sources, Span, Spanned};

/// What reading one text gave
struct Reading {
    sources: Sources,
    id: SourceId,
    inspection: Option<Inspection>,
    problems: Vec<Problem>,
}

fn read(text: &str) -> Reading {
    let mut sources = Sources::default();
    let id = sources.add("visit.yaml", text);
    let (inspection, problems) = case::read(&sources, id);
    let problems = problems.sorted().into_iter().cloned().collect();
    Reading { sources, id, inspection, problems }
}

impl Reading {
    /// The inspection of a text, in which no fault may have been found
    fn clean(&self) -> Option<&Inspection> {
        assert_eq!(self.told(), []);
        self.inspection.as_ref()
    }

    /// Code, underlined text and message of each problem, in the order of places
    fn told(&self) -> Vec<(Code, &str, &str)> {
        self.problems
            .iter()
            .map(|problem| {
                let under = self.sources.slice(problem.at);
                (problem.code, under, problem.message.as_str())
            })
            .collect()
    }

    /// Every place that the inspection or a problem names
    fn places(&self) -> Vec<Span> {
        let mut places: Vec<Span> = self.inspection.iter().flat_map(places).collect();
        for problem in &self.problems {
            places.push(problem.at);
            places.extend(problem.also.iter().map(|&(at, _)| at));
        }
        places
    }
}

/// The fields a case must have, and then some more lines
fn with(more: &str) -> String {
    format!("case: a test\nmachine: {{tag: T1}}\n{more}")
}

/// Every place in an inspection
fn places(case: &Inspection) -> Vec<Span> {
    let mut at = vec![case.title.at, case.machine.tag.at];
    at.extend(case.machine.hours.iter().map(|hours| hours.at));
    at.extend(case.machine.size.iter().map(|size| size.at));
    for fact in &case.machine.facts {
        at.extend([fact.name.at, fact.value.at]);
    }
    for fitted in &case.parts {
        at.push(fitted.part.at);
        at.extend(fitted.at.iter().map(|place| place.at));
        at.extend(fitted.on.iter().map(|hours| hours.at).chain(fitted.turned.iter().map(|told| told.at)));
    }
    let visit = &case.visit;
    let told = [&visit.on, &visit.by, &visit.place].into_iter().flatten();
    at.extend(spots(told.chain(&visit.state).chain(&case.earlier)));
    for photo in &case.photos {
        at.extend([photo.place.at, photo.name.at, photo.file.at]);
    }
    for seen in &case.seen {
        at.push(seen.place.at);
        at.extend(spots(&seen.looked));
        at.extend(spots(seen.not_possible.iter().map(|(name, _)| name)));
        for (name, file) in &seen.photos {
            at.extend([name.at, file.at]);
        }
        for read in &seen.read {
            at.push(read.measure.at);
            at.extend(spots(&read.values).chain(spots(&read.void)));
        }
        for found in &seen.found {
            at.push(found.symptom.at);
            match &found.seen {
                case::Seen::Grade(grade) => at.push(grade.at),
                case::Seen::Unsure { grade, sure } => at.extend([grade.at, sure.at]),
                case::Seen::Counted { noun, which, of, at: whole } => {
                    at.extend([noun.at, of.at, *whole].into_iter().chain(spots(which)))
                }
            }
        }
    }
    let truth = case.truth.iter();
    let truth = truth.flat_map(|truth| truth.present.iter().chain(&truth.absent));
    let expect = case.expect.iter();
    let expect = expect.flat_map(|expect| {
        let shares = expect.over.iter().chain(&expect.under).map(|(name, _)| name);
        let names = expect.first.iter().chain(&expect.unexplained).chain(&expect.held);
        names.chain(shares).chain(expect.next.iter().map(|(name, _)| name))
    });
    let weights = case.expect.iter().flat_map(|expect| &expect.weight);
    at.extend(weights.flat_map(|told| [told.at, told.party.at, told.ratio.at]));
    for name in case.in_question.iter().chain(truth).chain(expect) {
        at.extend([name.at, name.name.at]);
        at.extend(spots(&name.grade).chain(spots(&name.place)));
    }
    at
}

fn spots<'a, T: 'a>(told: impl IntoIterator<Item = &'a Spanned<T>>) -> impl Iterator<Item = Span> {
    told.into_iter().map(|told| told.at)
}
