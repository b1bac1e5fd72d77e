//! Tests that no machine and no place can pass, and lines that are never reached.

use crate::model::Model;
use crate::model::test::{Bound, Spot, Term, Test};
use crate::model::{FactId, PartId};
use crate::place::Side;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::Span;
use std::collections::{BTreeMap, BTreeSet};

/// What the terms of a test ask, each subject with everything that is asked of it
#[derive(Default)]
struct Asked<'t> {
    facts: BTreeMap<FactId, BTreeSet<usize>>,
    counts: BTreeMap<PartId, Vec<&'t Bound>>,
    spots: BTreeMap<PartId, Vec<(&'t [Spot], bool)>>,
    hours: Vec<&'t Bound>,
    sides: BTreeSet<Side>,
}

/// True when no machine and no place passes all terms of a test
pub(super) fn never(test: &Test, model: &Model) -> bool {
    let mut asked = Asked::default();
    for term in &test.terms {
        match term {
            Term::Fact { fact, choices } => {
                let choices: BTreeSet<usize> = choices.iter().copied().collect();
                asked
                    .facts
                    .entry(*fact)
                    .and_modify(|old| old.retain(|it| choices.contains(it)))
                    .or_insert(choices);
            }
            Term::Count { part, bound } => asked.counts.entry(*part).or_default().push(bound),
            Term::Hours(bound) => asked.hours.push(bound),
            Term::Side(side) => {
                asked.sides.insert(*side);
            }
            Term::Spot { part, spots, negated } => {
                asked.spots.entry(*part).or_default().push((spots, *negated));
            }
        }
    }
    asked.facts.values().any(BTreeSet::is_empty)
        || asked.sides.len() > 1
        || no_hours(&asked.hours)
        || asked.counts.keys().chain(asked.spots.keys()).any(|&part| asked.no_row(part, model))
}

/// True when no number of hours passes: none between the bounds, and none of those named
fn no_hours(bounds: &[&Bound]) -> bool {
    let mut least = f64::NEG_INFINITY;
    let mut most = f64::INFINITY;
    let mut named = Vec::new();
    for bound in bounds {
        match bound {
            Bound::Over(figure) => least = least.max(*figure),
            Bound::Under(figure) => most = most.min(*figure),
            Bound::OneOf(figures, false) => named.push(figures),
            Bound::OneOf(_, true) => {}
        }
    }
    let passes = |figure: &f64| bounds.iter().all(|bound| bound.holds(*figure));
    match named.first() {
        Some(figures) => !figures.iter().any(passes),
        None => least.max(0.0) >= most,
    }
}

impl Asked<'_> {
    /// True when no side can have such a number of a part, or no place along it is the one asked for
    fn no_row(&self, part: PartId, model: &Model) -> bool {
        let (least, most) = model[part].numbered.unwrap_or((0, 0)); // else: its bounds are faulty, which is told
        let bounds = self.counts.get(&part).map_or(&[][..], Vec::as_slice);
        let spots = self.spots.get(&part).map_or(&[][..], Vec::as_slice);
        let stands = |number: u32, count: u32| {
            spots
                .iter()
                .all(|(spots, negated)| spots.iter().any(|spot| spot.holds(number, count)) != *negated)
        };
        let mut counts =
            (least..=most).filter(|count| bounds.iter().all(|bound| bound.holds(f64::from(*count))));
        !counts.any(|count| spots.is_empty() || (1..=count).any(|number| stands(number, count)))
    }
}

/// Says that an earlier line always answers before this one
pub(super) fn dead_line(at: Span, first: Option<Span>, problems: &mut Problems) {
    problems.push(
        Problem::new(Code::DeadLine, at, "this line is never reached: an earlier one holds everywhere")
            .also_at(first, "this one holds everywhere")
            .help("the first line that holds counts; put the line with `where` first"),
    );
}
