//! Values of expressions over readings, with their standard errors carried to first order.

use super::rate::Usual;
use super::sample;
use super::{Readings, SILENT_UNDER, table};
use crate::machine::{Answer, Machine, Service, Supposed, Turned};
use crate::model::formula::{Formula, Gather, Operator, Row, sides_of};
use crate::model::{Dimension, FactId, How, MeasureId, Model, PartId, Size};
use crate::place::{Place, Side};
use std::collections::BTreeMap;

/// Standard errors by which a size must be better than new to be no size of this part
const BETTER_THAN_NEW: f64 = 3.0;

/// Per cent worn under which a size is far better than new: past what any part of another make may have more
pub const FAR_BETTER: f64 = -20.0;

/// Where an error comes from; two values made from the same reading share it
#[derive(Clone, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Source {
    /// The reading itself
    Reading(MeasureId, Place),
    /// The new size of a part, which no two parts have quite alike
    NewSize(MeasureId, Place),
    /// Which places of a row, seen from a block's place, were not read of a measure
    Unread(MeasureId, Row, Place),
}

/// A value with the errors it carries: for each source the value's change for one standard deviation of it
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Estimate {
    /// The value
    pub value: f64,
    /// Error by source, signed
    pub errors: BTreeMap<Source, f64>,
}

/// Why an expression has no value
#[derive(Clone, Debug, PartialEq)]
pub enum Gap {
    /// A measure was not read at a place
    NotRead(MeasureId, Place),
    /// A measure was read at so many of a numbered row, which are too few to stand for it
    FewRead(MeasureId, PartId, usize, usize),
    /// A table or a life hangs on facts that are not given
    Hangs(Vec<(FactId, Option<Side>)>),
    /// The size class is not given, or not known to the rules
    NoSize,
    /// The size class has no dimension for the measure
    NoDimension(MeasureId),
    /// The dimension has no limit
    NoLimit(MeasureId),
    /// The size class has no life for the measure
    NoLife(MeasureId),
    /// The hours of a part are not given
    NoHours(PartId),
    /// Nobody said whether the part was turned
    NoTurn(PartId),
    /// Too little worn for its pace to say anything
    TooYoung(MeasureId),
    /// The measure belongs to no part whose hours could be given
    NotOnePart(MeasureId),
    /// Division by zero and the like
    NotFinite,
}

impl Estimate {
    fn sure(value: f64) -> Self {
        Estimate { value, errors: BTreeMap::new() }
    }

    /// Standard error
    pub fn sigma(&self) -> f64 {
        libm::sqrt(self.errors.values().map(|error| error * error).sum())
    }

    /// Sum of figures, each times its weight
    pub(super) fn weighted<'e>(figures: impl IntoIterator<Item = (&'e Estimate, f64)>) -> Self {
        let start = Estimate::sure(0.0);
        let add = |sum: Estimate, (figure, weight): (&Estimate, f64)| {
            Estimate::joined(sum.value + figure.value * weight, (&sum, 1.0), (figure, weight))
        };
        figures.into_iter().fold(start, add)
    }

    /// The value moved, and its errors scaled by a slope
    fn mapped(self, value: f64, slope: f64) -> Self {
        let errors = self.errors.into_iter();
        Estimate { value, errors: errors.map(|(source, error)| (source, error * slope)).collect() }
    }

    /// `value`, with errors `a` × those of one and `b` × those of the other
    fn joined(value: f64, (one, a): (&Estimate, f64), (other, b): (&Estimate, f64)) -> Self {
        let mut errors: BTreeMap<Source, f64> = BTreeMap::new();
        for (estimate, slope) in [(one, a), (other, b)] {
            for (source, error) in &estimate.errors {
                *errors.entry(source.clone()).or_insert(0.0) += error * slope;
            }
        }
        Estimate { value, errors }
    }
}

/// What expressions are reckoned from
#[derive(Clone, Copy, Debug)]
pub struct Evaluator<'a> {
    /// The rules
    pub model: &'a Model,
    /// The machine
    pub machine: &'a Machine,
    /// What was read on it
    pub readings: &'a Readings,
}

impl<'a> Evaluator<'a> {
    /// Value of an expression at a place
    ///
    /// # Errors
    /// What is missing for it.
    pub fn value(&self, formula: &Formula, place: &Place) -> Result<Estimate, Gap> {
        let estimate = match formula {
            Formula::Figure(figure) => Estimate::sure(*figure),
            Formula::Measure(id) => self.measure(*id, place)?,
            Formula::Worn(id) => self.worn(*id, place)?,
            Formula::Loss(id) => self.loss(*id, place)?,
            Formula::New(id) => {
                let new = table::new_size(self.dimension(*id, place)?);
                Estimate::sure(new.ok_or(Gap::NoDimension(*id))?)
            }
            Formula::Limit(id) => {
                let limit = table::size(self.dimension(*id, place)?, 100.0);
                Estimate::sure(limit.ok_or(Gap::NoLimit(*id))?)
            }
            Formula::Pace(id) => self.pace(*id, place)?,
            Formula::Life(id) => Estimate::sure(self.life(*id, place)?),
            Formula::Hours(part) => {
                let hours = self.service(*part, place)?.hours;
                Estimate::sure(hours.ok_or(Gap::NoHours(*part))?)
            }
            Formula::HoursSinceTurned(part) => {
                let hours = match self.turned(*part, place)? {
                    Turned::Since(hours) => Some(hours),
                    Turned::Never => self.service(*part, place)?.hours,
                    Turned::Unknown => return Err(Gap::NoTurn(*part)),
                };
                Estimate::sure(hours.ok_or(Gap::NoHours(*part))?)
            }
            Formula::Turn(part) => {
                let turned = match self.service(*part, place)?.turned {
                    Turned::Since(_) => true,
                    Turned::Never => false,
                    Turned::Unknown => return Err(Gap::NoTurn(*part)),
                };
                Estimate::sure(f64::from(u8::from(turned)))
            }
            Formula::Across { gather, of, row } => self.across(*gather, of, *row, place)?,
            Formula::Among { gather, of } => {
                let values = of.iter().map(|of| self.value(of, place));
                gathered(*gather, &values.collect::<Result<Vec<_>, Gap>>()?)?
            }
            Formula::Pair(first, operator, second) => {
                pair(&self.value(first, place)?, *operator, &self.value(second, place)?)
            }
        };
        if estimate.value.is_finite() && estimate.sigma().is_finite() {
            Ok(estimate)
        } else {
            Err(Gap::NotFinite)
        }
    }

    /// Whether the part at a place was turned, by its hours or by a fact of just that
    ///
    /// # Errors
    /// When nothing is given of the part.
    pub fn turned(&self, part: PartId, place: &Place) -> Result<Turned, Gap> {
        let own = self.service(part, place)?.turned;
        let never = self.model.facts.iter().enumerate().any(|(number, fact)| match &fact.derived {
            Some((Formula::Turn(turned), bounds)) if *turned == part => {
                let choice = self.machine.facts.get(&Machine::key(self.model, FactId(number), place));
                choice.is_some() && choice.copied() == bounds.grade(0.0)
            }
            _ => false,
        });
        Ok(if own == Turned::Unknown && never { Turned::Never } else { own })
    }

    /// A measure as read, or as reckoned from others
    ///
    /// # Errors
    /// What is missing for it.
    pub(super) fn measure(&self, id: MeasureId, place: &Place) -> Result<Estimate, Gap> {
        let place = &self.own_place(id, place);
        match (&self.model[id].how, self.readings.get(&(id, place.clone()))) {
            (How::Read { .. }, Some(reading)) => Ok(Estimate {
                value: reading.value,
                errors: BTreeMap::from([(Source::Reading(id, place.clone()), reading.error)]),
            }),
            _ => self.value(self.sum(id, place)?, place),
        }
    }

    /// What a measure that was not read is reckoned from at a place of its own
    ///
    /// # Errors
    /// It must be read, or which line of its rule holds is not known.
    pub(super) fn sum(&self, id: MeasureId, place: &Place) -> Result<&Formula, Gap> {
        let lines = self.model[id].sums.iter().map(|(sum, test)| (test, sum));
        let first = self.machine.first(self.model, lines, place, &Supposed::new());
        first.map_err(Gap::Hangs)?.ok_or(Gap::NotRead(id, place.clone()))
    }

    /// The place of a measure seen from a block's place: its own, or the wider one that holds it
    pub(super) fn own_place(&self, id: MeasureId, place: &Place) -> Place {
        self.model[id].common.extent.seen_from(place)
    }

    /// Per cent worn of a measure
    ///
    /// # Errors
    /// What is missing for it.
    pub fn worn(&self, id: MeasureId, place: &Place) -> Result<Estimate, Gap> {
        let read = self.measure(id, place)?;
        let dimension = self.dimension(id, place)?;
        let (percent, slope) = table::percent(dimension, read.value).ok_or(Gap::NoLimit(id))?;
        let new = Source::NewSize(id, self.own_place(id, place));
        let mut estimate = read.mapped(percent, slope);
        estimate.errors.insert(new, dimension.tolerance * slope);
        Ok(estimate)
    }

    /// Whether a size is better than new by more than reading errors bring about; never where there is no table
    pub fn is_better_than_new(&self, id: MeasureId, place: &Place, size: f64) -> bool {
        self.dimension(id, place).is_ok_and(|dimension| self.is_better(dimension, id, size, 0.0))
    }

    /// The new size of a part, where what was read is far better than that by every row of sizes that may hold: no size of this
    /// part, whatever else is known of it
    pub fn new_if_far_better(&self, id: MeasureId, place: &Place, size: f64) -> Option<f64> {
        let rows = self.sizes(id).ok()?;
        let holds = |row: &Dimension| self.machine.holds(self.model, &row.test, place, &Supposed::new());
        let mut may_hold = rows.iter().filter(|row| holds(row) != Answer::No).peekable();
        let new = table::new_size(may_hold.peek()?)?;
        may_hold.all(|row| self.is_better(row, id, size, FAR_BETTER)).then_some(new)
    }

    /// Whether a size is better than new by more than the errors of reading and new size bring about, and under a per cent
    fn is_better(&self, dimension: &Dimension, id: MeasureId, size: f64, under: f64) -> bool {
        let How::Read { error, .. } = &self.model[id].how else { return false };
        let sigma = libm::hypot(*error, dimension.tolerance);
        table::percent(dimension, size).is_some_and(|(percent, slope)| {
            percent < under && percent < -BETTER_THAN_NEW * sigma * slope.abs()
        })
    }

    fn loss(&self, id: MeasureId, place: &Place) -> Result<Estimate, Gap> {
        let read = self.measure(id, place)?;
        let dimension = self.dimension(id, place)?;
        let new = table::new_size(dimension).ok_or(Gap::NoDimension(id))?;
        let direction = table::direction(dimension);
        let mut estimate = read.clone().mapped((read.value - new) * direction, direction);
        let source = Source::NewSize(id, self.own_place(id, place));
        estimate.errors.insert(source, dimension.tolerance);
        Ok(estimate)
    }

    fn pace(&self, id: MeasureId, place: &Place) -> Result<Estimate, Gap> {
        let worn = self.worn(id, place)?;
        if worn.value < SILENT_UNDER {
            return Err(Gap::TooYoung(id));
        }
        let part = self.model[id].common.part.ok_or(Gap::NotOnePart(id))?;
        let hours = self.service(part, place)?.hours.ok_or(Gap::NoHours(part))?;
        let per_percent = self.life(id, place)? / 100.0 / hours;
        let value = worn.value * per_percent;
        Ok(worn.mapped(value, per_percent))
    }

    /// Hours to 100 % that the size class gives for a measure
    ///
    /// # Errors
    /// What is missing for it.
    pub fn life(&self, id: MeasureId, place: &Place) -> Result<f64, Gap> {
        let rows = self.size()?.life.get(&id).map_or(&[][..], Vec::as_slice);
        let rows = rows.iter().map(|(hours, test)| (test, *hours));
        let first = self.machine.first(self.model, rows, place, &Supposed::new());
        first.map_err(Gap::Hangs)?.ok_or(Gap::NoLife(id))
    }

    /// The life that the size class gives for a measure, with its spread; none where it gives none here
    pub fn usual(&self, id: MeasureId, place: &Place) -> Option<Usual> {
        let life = self.life(id, place).ok().filter(|life| *life > 0.0)?;
        Some(Usual { life, spread: self.size().ok()?.spread })
    }

    /// The longest life that the rules give any part of the size class on any ground, in hours; none where they give none.
    /// What is reckoned to come later than that comes to no part that is on the machine today
    pub fn longest_life(&self) -> Option<f64> {
        let lives = self.size().ok()?.life.values().flatten();
        lives.map(|(hours, _)| *hours).max_by(f64::total_cmp)
    }

    /// Standard error of 0 % for a new part, in per cent worn; 0 where the rules give no tolerance
    pub(super) fn new_error(&self, id: MeasureId, place: &Place) -> f64 {
        let dimension = self.dimension(id, place).ok();
        let slope = dimension.and_then(|own| Some(table::percent(own, table::new_size(own)?)?.1));
        dimension.zip(slope).map_or(0.0, |(own, slope)| (own.tolerance * slope).abs())
    }

    /// The row of sizes that holds for a measure at a place
    ///
    /// # Errors
    /// What is missing for it.
    pub fn dimension(&self, id: MeasureId, place: &Place) -> Result<&'a Dimension, Gap> {
        let rows = self.sizes(id)?.iter().map(|row| (&row.test, row));
        let first = self.machine.first(self.model, rows, place, &Supposed::new());
        first.map_err(Gap::Hangs)?.ok_or(Gap::NoDimension(id))
    }

    /// The rows of sizes for a measure: the machine's own, else those of its class
    ///
    /// # Errors
    /// Neither is given.
    fn sizes(&self, id: MeasureId) -> Result<&'a [Dimension], Gap> {
        if let Some(own) = self.machine.sizes.get(&id) {
            return Ok(own);
        }
        Ok(self.size()?.dimensions.get(&id).map_or(&[], Vec::as_slice))
    }

    fn size(&self) -> Result<&'a Size, Gap> {
        let name = self.machine.size.as_ref().ok_or(Gap::NoSize)?;
        self.model.sizes.get(name).ok_or(Gap::NoSize)
    }

    fn service(&self, part: PartId, place: &Place) -> Result<Service, Gap> {
        self.machine.service(self.model, part, place).ok_or(Gap::NoHours(part))
    }

    /// The places a row spans, seen from a block's place
    pub(super) fn row(&self, row: Row, place: &Place) -> Vec<Place> {
        let part = match row {
            Row::Sides => return Side::BOTH.map(Place::Side).to_vec(),
            Row::All(part) | Row::Front(part) | Row::Rear(part) => part,
        };
        let count = self.machine.count(part);
        let wanted = |number: u32| match row {
            Row::Front(_) => 2 * number <= count,
            Row::Rear(_) => 2 * number > count + 1,
            Row::Sides | Row::All(_) => true,
        };
        let sides = sides_of(place.side()).into_iter();
        sides
            .flat_map(|side| self.machine.row(self.model, part, side))
            .filter(|place| matches!(place, Place::Numbered { number, .. } if wanted(*number)))
            .collect()
    }

    /// Several places made one; of a numbered row it does to read some
    fn across(&self, gather: Gather, of: &Formula, row: Row, place: &Place) -> Result<Estimate, Gap> {
        let all = self.row(row, place);
        let (values, missing) = self.read_of(of, &all)?;
        let Some(gap) = missing else {
            return gathered(gather, &values.into_iter().map(|spot| spot.value).collect::<Vec<_>>());
        };
        let (Row::All(part) | Row::Front(part) | Row::Rear(part)) = row else { return Err(gap) };
        if gather != Gather::Mean {
            let values: Vec<Estimate> = values.into_iter().map(|spot| spot.value).collect();
            return if sample::are_most(values.len(), all.len()) {
                gathered(gather, &values)
            } else {
                Err(gap)
            };
        }
        let Some(side) = place.side() else {
            let sides = Side::BOTH.map(|side| self.across(gather, of, row, &Place::Side(side)));
            return Ok(mean(&sides.into_iter().collect::<Result<Vec<_>, Gap>>()?));
        };
        self.of_some(of, row, (part, side), &all, gap)
    }

    /// The mean of places of a row of one side, some of which were not read
    fn of_some(
        &self,
        of: &Formula,
        row: Row,
        (part, side): (PartId, Side),
        places: &[Place],
        gap: Gap,
    ) -> Result<Estimate, Gap> {
        let whole = self.row(Row::All(part), &Place::Side(side));
        let (read, _) = self.read_of(of, &whole)?;
        let measure = of.readings().first().copied();
        if !sample::is_enough(read.len(), whole.len()) {
            return Err(match measure.filter(|_| !read.is_empty()) {
                Some(measure) => Gap::FewRead(measure, part, read.len(), whole.len()),
                None => gap,
            });
        }
        let at: Vec<f64> = read.iter().map(|spot| spot.at).collect();
        let wanted: Vec<f64> = places.iter().map(number).collect();
        let weights = sample::weights(&at, &wanted);
        let mut estimate = Estimate::weighted(read.iter().map(|spot| &spot.value).zip(weights));
        if let Some(measure) = measure {
            let values: Vec<f64> = read.iter().map(|spot| spot.value.value).collect();
            let error = sample::scatter(&at, &values) * sample::left_open(&at, &wanted);
            estimate.errors.insert(Source::Unread(measure, row, Place::Side(side)), error);
        }
        Ok(estimate)
    }

    /// The values at those of some places that were read, each with where along its row, and what one of the others wants
    fn read_of(&self, of: &Formula, places: &[Place]) -> Result<(Vec<Spot>, Option<Gap>), Gap> {
        let (mut values, mut missing) = (Vec::new(), None);
        for place in places {
            match self.value(of, place) {
                Ok(value) => values.push(Spot { at: number(place), value }),
                Err(gap @ (Gap::NotRead(..) | Gap::FewRead(..))) => missing = missing.or(Some(gap)),
                Err(gap) => return Err(gap),
            }
        }
        Ok((values, missing))
    }
}

/// A place of a row that was read
struct Spot {
    /// Where it is along the row
    at: f64,
    /// Its figure
    value: Estimate,
}

/// Where a place is along its row
fn number(place: &Place) -> f64 {
    match place {
        Place::Numbered { number, .. } => f64::from(*number),
        Place::Machine | Place::Side(_) => 0.0,
    }
}

/// Several figures made one
///
/// # Errors
/// There is none.
pub(super) fn gathered(gather: Gather, values: &[Estimate]) -> Result<Estimate, Gap> {
    let by_value = |a: &&Estimate, b: &&Estimate| a.value.total_cmp(&b.value);
    let largest = values.iter().max_by(by_value).cloned().ok_or(Gap::NotFinite)?;
    let smallest = values.iter().min_by(by_value).cloned().ok_or(Gap::NotFinite)?;
    Ok(match gather {
        Gather::Largest => largest,
        Gather::Smallest => smallest,
        Gather::Spread => pair(&largest, Operator::Minus, &smallest),
        // Of both sides the left comes first.
        Gather::Lead => {
            pair(values.first().ok_or(Gap::NotFinite)?, Operator::Minus, values.last().ok_or(Gap::NotFinite)?)
        }
        Gather::Mean => mean(values),
    })
}

fn mean(values: &[Estimate]) -> Estimate {
    let share = 1.0 / values.len() as f64;
    Estimate::weighted(values.iter().map(|value| (value, share)))
}

/// One figure less another; errors that both share cancel
pub(super) fn difference(one: &Estimate, other: &Estimate) -> Estimate {
    pair(one, Operator::Minus, other)
}

fn pair(one: &Estimate, operator: Operator, other: &Estimate) -> Estimate {
    let (a, b) = (one.value, other.value);
    match operator {
        Operator::Plus => Estimate::joined(a + b, (one, 1.0), (other, 1.0)),
        Operator::Minus => Estimate::joined(a - b, (one, 1.0), (other, -1.0)),
        Operator::Times => Estimate::joined(a * b, (one, b), (other, a)),
        Operator::Over => Estimate::joined(a / b, (one, 1.0 / b), (other, -a / (b * b))),
    }
}
