//! What sort of value a measure has.

use super::Desk;
use super::formula::Value;
use crate::model::MeasureId;
use crate::syntax::tree::{Clause, Sort};
use crate::units::{Dimension, Unit};

/// The sort of value that a measure has by its unit; unknown where the unit is at fault, and told
pub(super) fn value_of(id: MeasureId, desk: &Desk<'_>) -> Value {
    let clauses = desk.names.declaration(Sort::Measure, id.0).into_iter().flat_map(|it| &it.clauses);
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
