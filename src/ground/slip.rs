//! The usual slips of reading and writing: a figure that cannot be, and what was probably meant.
//!
//! A slip is told only where it explains a figure that cannot be: outside of the instrument's range, or absurd on a machine of
//! this size. What is merely odd stands as read. Far better than new is no size of the part (a fifth of what it may lose, and
//! three errors, by every row that may hold): it is set aside, and the reader is told the new size.

use crate::machine::Machine;
use crate::model::{Dimension, Measure, MeasureId, Model, Spans};
use crate::place::Place;
use crate::units::{Quantity, Unit};
use crate::wear::Readings;
use crate::wear::estimate::{Evaluator, FAR_BETTER};
use crate::wear::table;

/// Per cent worn between which a size is taken as meant; a table goes on past its limit
pub(super) const MEANT: (f64, f64) = (FAR_BETTER, 150.0);
/// Per cent worn past which no size is read in earnest: as much better than new as the limit is worse, or four lives gone
const ABSURD: (f64, f64) = (-100.0, 400.0);

/// What a reading is held against: what the instrument can show and the machine can have
pub(super) struct Meant<'a> {
    unit: Unit,
    range: (f64, f64),
    dimension: Option<&'a Dimension>,
    measure: &'a Measure,
}

impl<'a> Meant<'a> {
    /// For a measure at a place of a machine, read in `unit` within `range` in base units
    pub(super) fn new<'m: 'a>(
        (model, machine): (&'m Model, &'m Machine),
        (id, place): (MeasureId, &Place),
        (unit, range): (Unit, (f64, f64)),
    ) -> Meant<'a> {
        static NOTHING: Readings = Readings::new();
        let evaluator = Evaluator { model, machine, readings: &NOTHING };
        Meant { unit, range, dimension: evaluator.dimension(id, place).ok(), measure: &model[id] }
    }

    /// Whether the instrument can show it at all
    pub(super) fn in_range(&self, base: f64) -> bool {
        (self.range.0..=self.range.1).contains(&base)
    }

    /// What was probably meant by a figure that cannot be, and what to do; none where nothing explains it.
    ///
    /// A figure within the range of the instrument is questioned only where it is absurd on this machine.
    pub(super) fn instead(&self, read: Quantity) -> Option<String> {
        let base = read.in_base();
        let percent = self.percent(base);
        let absurd = percent.is_some_and(|percent| !(ABSURD.0..=ABSURD.1).contains(&percent));
        if self.in_range(base) && !absurd {
            return None;
        }
        self.miscounted(base).or_else(|| self.other_unit(read)).or_else(|| self.other_scale(read))
    }

    fn percent(&self, base: f64) -> Option<f64> {
        table::percent(self.dimension?, base).map(|(percent, _)| percent)
    }

    /// Whether a size is one that this machine may well have
    fn fits(&self, base: f64) -> bool {
        let worn = self.percent(base).is_none_or(|percent| (MEANT.0..=MEANT.1).contains(&percent));
        self.in_range(base) && worn
    }

    /// What a length goes over counted wrongly: five pins have four links between them (common practice)
    fn miscounted(&self, base: f64) -> Option<String> {
        let spans = self.measure.spans.as_ref().filter(|_| self.dimension.is_some())?;
        let Spans { count, of, between } = spans;
        let (pieces, ends) = (f64::from(*count), count + 1);
        let has = format!("{ends} {between} have {count} {of} between them");
        let slips = [
            (
                (pieces + 1.0) / pieces,
                format!("1 part in {ends} short: {has}, so divide by {count} and not by {ends}"),
            ),
            (
                pieces / (pieces + 1.0),
                format!("1 part in {count} too long: {has}; leave out the last of {ends} {of}"),
            ),
            (pieces, format!("the length of one of {count} {of}; write the length over all {count}")),
            (pieces + 1.0, format!("the length over {count} {of} divided by {ends}; {has}")),
        ];
        let (times, what) = slips.into_iter().find(|(times, _)| self.fits(base * times))?;
        let meant = Quantity { value: self.unit.from_base(base * times), unit: self.unit };
        let how = self.measure.common.text.as_ref().map_or_else(String::new, |text| format!(": {text}"));
        Some(format!("this is probably {what}. It would then be {meant}; measure again{how}"))
    }

    /// A figure with its point at another place
    fn other_scale(&self, read: Quantity) -> Option<String> {
        let scales = [0.01, 0.1, 10.0, 100.0];
        let meant = scales.map(|times| Quantity { value: read.value * times, ..read });
        let meant =
            meant.into_iter().filter(|meant| self.fits(meant.in_base())).map(|meant| format!("`{meant}`"));
        let meant: Vec<String> = meant.collect();
        (!meant.is_empty())
            .then(|| format!("is the point at the right place? Did you mean {}?", meant.join(" or ")))
    }

    /// A figure read in one unit and written with another
    fn other_unit(&self, read: Quantity) -> Option<String> {
        let others =
            Unit::all().filter(|unit| *unit != read.unit && unit.dimension() == read.unit.dimension());
        let meant = others.map(|unit| Quantity { unit, ..read }).filter(|meant| self.fits(meant.in_base()));
        let meant: Vec<String> = meant.map(|meant| format!("`{meant}`")).collect();
        (!meant.is_empty()).then(|| format!("did you mean {}?", meant.join(" or ")))
    }
}
