//! The machine's own sizes: from what its case tells to rows that stand in place of those of its class.
//!
//! What nobody tells in a case is taken from the classes of the rules: which way a size goes, how much
//! faster past the limit and how much new parts differ hang on how such a part is made, more than on its size.

use super::stray::unknown;
use crate::case::{self, GivenLimit, GivenSize};
use crate::machine::Machine;
use crate::model::test::{Term, Test};
use crate::model::{Dimension, FactId, How, MeasureId, Model};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::Spanned;
use crate::units::{Quantity, Unit};
use std::collections::BTreeMap;

/// Notes the sizes that a case tells of its machine
pub(super) fn bind(model: &Model, given: &case::Machine, machine: &mut Machine, problems: &mut Problems) {
    let mut known: BTreeMap<MeasureId, &Spanned<String>> = BTreeMap::new();
    for sizes in &given.sizes {
        let Some(id) = measure(model, &sizes.measure, problems) else { continue };
        if let Some(first) = known.insert(id, &sizes.measure) {
            let message = format!("the sizes of `{}` are told twice", sizes.measure.value);
            let problem = Problem::new(Code::CaseTwice, sizes.measure.at, message);
            problems.push(problem.also(first.at, "first told here").help("keep one of them"));
            continue;
        }
        let rows = Rows { model, id, unit: model[id].unit(), class: usual(model, machine, id) };
        machine.sizes.extend(rows.dimensions(sizes, problems).map(|rows| (id, rows)));
    }
}

fn measure(model: &Model, name: &Spanned<String>, problems: &mut Problems) -> Option<MeasureId> {
    let found = model.measures.iter().position(|measure| measure.common.name == name.value).map(MeasureId);
    if found.is_none() {
        problems.push(unknown("measure", name, model.measures.iter().map(|it| it.common.name.as_str())));
    }
    found
}

/// A row of the rules for a measure: of the machine's class, else of the first class that has one
fn usual<'m>(model: &'m Model, machine: &Machine, id: MeasureId) -> Option<&'m Dimension> {
    let own = machine.size.as_ref().and_then(|size| model.sizes.get(size));
    let classes = own.into_iter().chain(model.sizes.values());
    classes.filter_map(|class| class.dimensions.get(&id)?.first()).next()
}

/// What rows of one measure are made with
struct Rows<'m> {
    model: &'m Model,
    id: MeasureId,
    unit: Unit,
    class: Option<&'m Dimension>,
}

impl Rows<'_> {
    /// The rows, one for each limit; none where there is no new size, or something is wrong with one of them, which is a problem
    fn dimensions(&self, sizes: &GivenSize, problems: &mut Problems) -> Option<Vec<Dimension>> {
        let new = self.base(&sizes.measure, sizes.new.as_ref()?, problems);
        if sizes.limits.is_empty() {
            return Some(vec![self.row(new?, None, Test::default())]);
        }
        let rows: Vec<Option<Dimension>> =
            sizes.limits.iter().map(|limit| self.limited(&sizes.measure, new, limit, problems)).collect();
        rows.into_iter().collect()
    }

    fn limited(
        &self,
        name: &Spanned<String>,
        new: Option<f64>,
        limit: &GivenLimit,
        problems: &mut Problems,
    ) -> Option<Dimension> {
        let size = self.base(name, &limit.size, problems);
        let test = match &limit.holds {
            Some(words) => test(self.model, words, problems)?,
            None => Test::default(),
        };
        let (new, size) = (new?, size?);
        if let Some(fault) = self.cannot_be_limit(name, new, size) {
            let problem = Problem::new(Code::CaseValue, limit.size.at, fault);
            problems.push(problem.help("write the size at which the part is to be changed or turned"));
            return None;
        }
        Some(self.row(new, Some(size), test))
    }

    /// Why a size is no limit of a part with a new size: no reading could tell the two apart, or such parts wear the other way
    fn cannot_be_limit(&self, name: &Spanned<String>, new: f64, limit: f64) -> Option<String> {
        let error = match &self.model[self.id].how {
            How::Read { error, .. } => *error,
            How::Reckoned => 0.0,
        };
        if (limit - new).abs() <= error {
            return Some(format!("`{}` is worn out within the error of reading its new size", name.value));
        }
        let grows = self.class.filter(|class| class.points.len() > 1)?.grows;
        (grows != (limit > new)).then(|| {
            let way = if grows { "larger" } else { "smaller" };
            format!("`{}` wears {way}, and its limit goes the other way: are the two exchanged?", name.value)
        })
    }

    fn row(&self, new: f64, limit: Option<f64>, test: Test) -> Dimension {
        let points = [Some((new, 0.0)), limit.map(|limit| (limit, 100.0))];
        let points: Vec<(f64, f64)> = points.into_iter().flatten().collect();
        let of_class = self.class.is_some_and(|class| class.grows);
        Dimension {
            grows: if limit.is_some() { Dimension::grows(&points) } else { of_class },
            points,
            after: self.class.map_or(1.0, |class| class.after),
            tolerance: self.class.map_or(0.0, |class| class.tolerance),
            test,
        }
    }

    /// A size in the base unit; none where it cannot be one of this measure, which is a problem
    fn base(&self, name: &Spanned<String>, size: &Spanned<Quantity>, problems: &mut Problems) -> Option<f64> {
        if size.value.unit.dimension() != self.unit.dimension() {
            let message = format!("`{}` is not told in `{}`", name.value, size.value.unit.word());
            let help = format!("write it in `{}`", self.unit.word());
            problems.push(Problem::new(Code::CaseUnit, size.at, message).help(help));
            return None;
        }
        let base = size.value.in_base();
        if let How::Read { range: (least, most), .. } = &self.model[self.id].how
            && !(*least..=*most).contains(&base)
        {
            let message = format!("`{}` cannot be {}", name.value, size.value);
            let (least, most) = (self.unit.from_base(*least), self.unit.from_base(*most));
            let help =
                format!("it lies from {least} to {most} {}; check the figure and its unit", self.unit.word());
            problems.push(Problem::new(Code::CaseRange, size.at, message).help(help));
            return None;
        }
        Some(base)
    }
}

/// When a limit holds: choices of facts, as `impact high` or `chain_type sealed and impact high`, in either order
fn test(model: &Model, words: &Spanned<String>, problems: &mut Problems) -> Option<Test> {
    let terms: Option<Vec<Term>> = words.value.split(" and ").map(|own| term(model, own)).collect();
    if terms.is_none() {
        let facts = model.facts.iter().map(|fact| fact.common.name.as_str());
        let first = words.value.split_whitespace().next().unwrap_or(""); // else: no word, which is near no fact
        let otherwise = "write a fact and its choice, such as `impact high`, or `else` for all others";
        let message = format!("`{}` is no choice of a fact that the rules know", words.value);
        problems.push(
            Problem::new(Code::CaseUnknownName, words.at, message)
                .help(did_you_mean(first, facts, otherwise)),
        );
    }
    terms.map(|terms| Test { terms })
}

fn term(model: &Model, words: &str) -> Option<Term> {
    let words: Vec<&str> = words.split_whitespace().collect();
    let &[one, other] = words.as_slice() else { return None };
    let found = |fact: &str, choice: &str| {
        let number = model.facts.iter().position(|known| known.common.name == fact)?;
        let choice = model.facts.get(number)?.choices.iter().position(|known| known == choice)?;
        Some(Term::Fact { fact: FactId(number), choices: vec![choice] })
    };
    found(one, other).or_else(|| found(other, one))
}
