//! What readings are held against, and what to mind once a measure is read.

use super::context::CheckContext;
use super::formula;
use super::value::{Value, negative, step, value_of};
use crate::model::formula::Formula;
use crate::model::{Expected, MeasureId};
use crate::problem::Problem;
use crate::problem::code::Code;
use crate::source::Spanned;
use crate::syntax::tree::{Clause, Declaration, Quantity, Sum};

/// The `against` of a measure, with what stands under `more` and `less`
pub(super) fn against(
    declaration: &Declaration,
    number: usize,
    context: &mut CheckContext<'_>,
) -> Option<Expected> {
    let clauses = || declaration.clauses.iter().map(|clause| &clause.value);
    let (sum, tolerance) = clauses().find_map(|clause| match clause {
        Clause::Against { sum, tolerance } => Some((sum, tolerance.as_ref())),
        _ => None,
    })?;
    let words = |wanted: fn(&Clause) -> Option<&Spanned<String>>| {
        clauses().find_map(wanted).map(|text| text.value.clone())
    };
    let id = MeasureId(number);
    let formula = expected(sum, id, context);
    let tolerance = tolerance.map(|figure| tolerated(figure, declaration, id, context));
    Some(Expected {
        formula: formula?,
        tolerance: tolerance.unwrap_or(0.0), // else: none is written
        more: words(|clause| if let Clause::More(text) = clause { Some(text) } else { None }),
        less: words(|clause| if let Clause::Less(text) = clause { Some(text) } else { None }),
    })
}

/// What the reading should come to: of the same sort as the reading itself
fn expected(sum: &Spanned<Sum>, id: MeasureId, context: &mut CheckContext<'_>) -> Option<Formula> {
    let extent = context.model[id].common.extent;
    let (formula, value) = formula::resolve(sum, extent, context)?;
    let own = value_of(id, context);
    if value != own && value != Value::Unknown && own != Value::Unknown {
        let message = format!("{} cannot be held against {}", own.word(), value.word());
        context.problems.push(
            Problem::new(Code::BadUnit, sum.at, message)
                .help("reckon what the reading itself should come to, in the same unit"),
        );
        return None;
    }
    Some(formula)
}

fn tolerated(
    figure: &Spanned<Quantity>,
    declaration: &Declaration,
    id: MeasureId,
    context: &mut CheckContext<'_>,
) -> f64 {
    let tolerance = step(&declaration.name, figure, id, context).unwrap_or(0.0); // else: the problem is told
    if figure.value.value < 0.0 {
        negative(figure.at, context);
    }
    tolerance
}
