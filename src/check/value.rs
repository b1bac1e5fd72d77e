//! What sort of value a measure or an expression has, and figures in its unit.

use super::context::CheckContext;
use crate::model::MeasureId;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{Clause, Quantity, Sort};
use crate::units::{Dimension, Unit};

/// What sort of value an expression has
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(super) enum Value {
    /// A quantity of a dimension, in its base unit
    Of(Dimension),
    /// Per cent worn
    Percent,
    /// A ratio, 1 being the whole
    Ratio,
    /// Not known, because something it hangs on is at fault and told
    Unknown,
}

impl Value {
    /// What it is, in words
    pub(super) fn word(self) -> String {
        match self {
            Value::Of(Dimension::Angle) => "an angle".to_owned(),
            Value::Of(dimension) => format!("a {}", dimension.word()),
            Value::Percent => "a per cent worn".to_owned(),
            Value::Ratio => "a plain ratio".to_owned(),
            Value::Unknown => "something unknown".to_owned(),
        }
    }
}

/// The sort of value that a measure has by its unit; unknown where the unit is at fault, and told
pub(super) fn value_of(id: MeasureId, context: &CheckContext<'_>) -> Value {
    let clauses = context.names.declaration(Sort::Measure, id.0).into_iter().flat_map(|it| &it.clauses);
    let mut value = Value::Unknown;
    for clause in clauses {
        match &clause.value {
            // A measure can be reckoned only as a length.
            Clause::Is { .. } => return Value::Of(Dimension::Length),
            Clause::Unit(word) => {
                let unit = Unit::parse(&word.value);
                value = unit.map_or(Value::Unknown, |unit| Value::Of(unit.dimension()));
            }
            _ => {}
        }
    }
    value
}

/// A difference between two figures of a measure, in its base unit; a unit that does not fit is told
pub(super) fn step(
    name: &Spanned<String>,
    figure: &Spanned<Quantity>,
    id: MeasureId,
    context: &mut CheckContext<'_>,
) -> Option<f64> {
    sized(name, figure, id, Unit::step_to_base, context)
}

/// A figure of a measure in its base unit; a unit that does not fit is told
pub(super) fn sized(
    name: &Spanned<String>,
    figure: &Spanned<Quantity>,
    id: MeasureId,
    to_base: fn(Unit, f64) -> f64,
    context: &mut CheckContext<'_>,
) -> Option<f64> {
    let written = figure.value.unit.as_ref().and_then(|unit| Unit::parse(&unit.value));
    let fits = match value_of(id, context) {
        Value::Of(dimension) => written.filter(|unit| unit.dimension() == dimension),
        Value::Unknown => Some(written.unwrap_or(Unit::Millimetre)), // else: the problem is told
        Value::Percent | Value::Ratio => None,
    };
    if fits.is_none() {
        let help = match value_of(id, context) {
            Value::Of(dimension) => format!("write it in `{}`", dimension.base().word()),
            _ => "a share has no size to be new or worn".to_owned(),
        };
        let message = format!("`{}` is not measured like this", name.value);
        context.problems.push(Problem::new(Code::BadUnit, figure.at, message).help(help));
    }
    fits.map(|unit| to_base(unit, figure.value.value))
}

/// A time given in minutes or hours, in the unit asked for
pub(super) fn in_unit(
    quantity: &Spanned<Quantity>,
    wanted: Option<Unit>,
    problems: &mut Problems,
) -> Option<f64> {
    let wanted = wanted?;
    let unit = quantity.value.unit.as_ref().and_then(|unit| Unit::parse(&unit.value));
    match unit {
        Some(unit) if unit.dimension() == Dimension::Time && quantity.value.value >= 0.0 => {
            Some(wanted.from_base(unit.to_base(quantity.value.value)))
        }
        _ => {
            problems.push(
                Problem::new(Code::BadUnit, quantity.at, "this is no length of time")
                    .help("write a number with `min` or `h`"),
            );
            None
        }
    }
}

/// Says that a tolerance is under 0
pub(super) fn negative(at: Span, context: &mut CheckContext<'_>) {
    context.problems.push(
        Problem::new(Code::BadBounds, at, "a tolerance is not under 0")
            .help("write the number without its sign"),
    );
}

/// Says that a unit does not exist
pub(super) fn unknown_unit(word: &Spanned<String>, at: Span) -> Problem {
    let known: Vec<&str> = Unit::all().map(Unit::word).collect();
    let otherwise = format!("units are {}", known.join(", "));
    Problem::new(Code::BadUnit, at, format!("no unit is called `{}`", word.value)).help(did_you_mean(
        &word.value,
        known.iter().copied(),
        &otherwise,
    ))
}
