//! The least and most an expression can be, from the ranges of its measures.

use super::Reading;
use super::estimate::{Evaluator, Gap};
use crate::model::formula::{Formula, Gather, Operator};
use crate::model::{How, MeasureId};
use crate::place::Place;

impl Evaluator<'_> {
    /// Least and most value of an expression at a place, by interval arithmetic; open ends are infinite
    ///
    /// # Errors
    /// What is missing for it, readings apart.
    pub fn range(&self, formula: &Formula, place: &Place) -> Result<(f64, f64), Gap> {
        Ok(match formula {
            Formula::Measure(id) => self.measured(*id, place)?,
            Formula::Worn(id) | Formula::Loss(id) => {
                let (least, most) = self.measured(*id, place)?;
                let at_least = self.as_if(formula, *id, least, place)?;
                let at_most = self.as_if(formula, *id, most, place)?;
                (at_least.min(at_most), at_least.max(at_most))
            }
            Formula::Pace(_) => (0.0, f64::INFINITY),
            Formula::Turn(_) => (0.0, 1.0),
            Formula::Hours(_) | Formula::HoursSinceTurned(_) => (0.0, f64::INFINITY),
            Formula::Figure(_) | Formula::New(_) | Formula::Limit(_) | Formula::Life(_) => {
                let value = self.value(formula, place)?.value;
                (value, value)
            }
            Formula::Across { gather, of, row } => {
                let first = self.row(*row, place).into_iter().next().ok_or(Gap::NotFinite)?;
                let (least, most) = self.range(of, &first)?;
                match gather {
                    Gather::Spread => (0.0, most - least),
                    Gather::Lead => (least - most, most - least),
                    Gather::Mean | Gather::Largest | Gather::Smallest => (least, most),
                }
            }
            Formula::Among { gather, of } => self.among(*gather, of, place)?,
            Formula::Pair(one, operator, other) => {
                corners(self.range(one, place)?, *operator, self.range(other, place)?)
            }
        })
    }

    fn measured(&self, id: MeasureId, place: &Place) -> Result<(f64, f64), Gap> {
        match &self.model[id].how {
            How::Read { range, .. } => Ok(*range),
            How::Reckoned => self.range(self.sum(id, place)?, place),
        }
    }

    fn among(&self, gather: Gather, of: &[Formula], place: &Place) -> Result<(f64, f64), Gap> {
        let ends: Vec<(f64, f64)> = of.iter().map(|of| self.range(of, place)).collect::<Result<_, Gap>>()?;
        let fold = |end: fn(&(f64, f64)) -> f64, join: fn(f64, f64) -> f64| {
            ends.iter().map(end).reduce(join).ok_or(Gap::NotFinite)
        };
        let (lows, highs) = (|it: &(f64, f64)| it.0, |it: &(f64, f64)| it.1);
        let (lowest, highest) = (fold(lows, f64::min)?, fold(highs, f64::max)?);
        Ok(match gather {
            Gather::Mean => (lowest, highest),
            Gather::Largest => (fold(lows, f64::max)?, highest),
            Gather::Smallest => (lowest, fold(highs, f64::min)?),
            Gather::Spread => (0.0, highest - lowest),
            Gather::Lead => (lowest - highest, highest - lowest),
        })
    }

    /// The expression over one measure, had that measure been read as `size`
    fn as_if(&self, formula: &Formula, id: MeasureId, size: f64, place: &Place) -> Result<f64, Gap> {
        let How::Read { error, .. } = self.model[id].how else { return Err(Gap::NotFinite) };
        let mut readings = self.readings.clone();
        let reading = Reading { value: size, error };
        for at in [place.clone(), Place::Machine].into_iter().chain(place.side().map(Place::Side)) {
            readings.insert((id, at), reading);
        }
        let supposed = Evaluator { readings: &readings, ..*self };
        Ok(supposed.value(formula, place)?.value)
    }
}

/// Interval of a pair from the intervals of its operands
fn corners(one: (f64, f64), operator: Operator, other: (f64, f64)) -> (f64, f64) {
    if operator == Operator::Over && other.0 <= 0.0 && other.1 >= 0.0 {
        return (f64::NEG_INFINITY, f64::INFINITY);
    }
    let results = [(one.0, other.0), (one.0, other.1), (one.1, other.0), (one.1, other.1)].map(|(a, b)| {
        let result = match operator {
            Operator::Plus => a + b,
            Operator::Minus => a - b,
            Operator::Times => a * b,
            Operator::Over => a / b,
        };
        if result.is_nan() { 0.0 } else { result }
    });
    let least = results.into_iter().fold(f64::INFINITY, f64::min);
    let most = results.into_iter().fold(f64::NEG_INFINITY, f64::max);
    (least, most)
}
