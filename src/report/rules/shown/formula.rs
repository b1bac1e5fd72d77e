//! Expressions over measures in words, and the bounds that turn them into grades.

use super::lines::quoted;
use crate::model::formula::{Bounds, Formula, Gather, Operator, Row};
use crate::model::{MeasureId, Model, PartId};
use crate::report::words::{figure, plain};
use crate::units::Unit;

/// An expression in words
pub(in crate::report) fn formula(model: &Model, expression: &Formula) -> String {
    let measure = |id: &MeasureId| model[*id].common.label.clone();
    let part = |id: &PartId| model[*id].common.label.clone();
    match expression {
        Formula::Figure(value) => figure(*value),
        Formula::Measure(id) => measure(id),
        Formula::Worn(id) => format!("per cent worn of {}", measure(id)),
        Formula::Loss(id) => format!("what {} has lost since new", measure(id)),
        Formula::New(id) => format!("the new size of {}", measure(id)),
        Formula::Limit(id) => format!("the size at 100 % worn of {}", measure(id)),
        Formula::Pace(id) => format!("how fast {} wears against its expected life", measure(id)),
        Formula::Life(id) => format!("hours to the limit of {}", measure(id)),
        Formula::Hours(id) => format!("hours of the {}", part(id)),
        Formula::HoursSinceTurned(id) => format!("hours of the {} since its turn", part(id)),
        Formula::Turn(id) => format!("whether the {} has been turned", part(id)),
        Formula::Across { gather, of, row } => {
            format!("{} of {} across {}", gathered(*gather), formula(model, of), places(model, *row))
        }
        Formula::Among { gather, of } => {
            let figures: Vec<String> = of.iter().map(|of| operand(model, of)).collect();
            format!("{} of {}", gathered(*gather), figures.join(" and "))
        }
        Formula::Pair(first, operator, second) => {
            let word = match operator {
                Operator::Plus => "plus",
                Operator::Minus => "less",
                Operator::Times => "times",
                Operator::Over => "divided by",
            };
            format!("{} {word} {}", operand(model, first), operand(model, second))
        }
    }
}

fn gathered(gather: Gather) -> &'static str {
    match gather {
        Gather::Mean => "the mean",
        Gather::Largest => "the largest",
        Gather::Smallest => "the smallest",
        Gather::Spread => "the largest less the smallest",
        Gather::Lead => "the left less the right",
    }
}

/// An operand, in brackets where it is a pair itself
fn operand(model: &Model, expression: &Formula) -> String {
    let words = formula(model, expression);
    if matches!(expression, Formula::Pair(..)) { format!("({words})") } else { words }
}

fn places(model: &Model, row: Row) -> String {
    match row {
        Row::Sides => "both sides".to_owned(),
        Row::All(part) => format!("all {}", model[part].plural()),
        Row::Front(part) => format!("the front half of the {}", model[part].plural()),
        Row::Rear(part) => format!("the rear half of the {}", model[part].plural()),
    }
}

/// What the value of an expression is shown in
#[derive(Clone, Copy, PartialEq)]
enum Scale {
    Unit(Unit),
    Hours,
    PerCent,
    Plain,
}

fn scale(model: &Model, expression: &Formula) -> Scale {
    match expression {
        Formula::Measure(id) | Formula::Loss(id) | Formula::New(id) | Formula::Limit(id) => {
            Scale::Unit(model[*id].unit())
        }
        Formula::Worn(_) => Scale::PerCent,
        Formula::Life(_) | Formula::Hours(_) | Formula::HoursSinceTurned(_) => Scale::Hours,
        Formula::Figure(_) | Formula::Pace(_) | Formula::Turn(_) => Scale::Plain,
        Formula::Across { of, .. } => scale(model, of),
        Formula::Among { of, .. } => of.first().map_or(Scale::Plain, |of| scale(model, of)),
        Formula::Pair(_, Operator::Over, second) if scale(model, second) != Scale::Plain => Scale::Plain,
        Formula::Pair(first, _, second) => match scale(model, first) {
            Scale::Plain => scale(model, second),
            known => known,
        },
    }
}

/// The grades or choices that an expression is turned into, each with its bounds
pub(super) fn bounds(model: &Model, expression: &Formula, bounds: &Bounds, names: &[String]) -> String {
    if let Formula::Turn(_) = expression {
        let answers = bounds.intervals.iter().filter_map(|(grade, _, _)| names.get(*grade));
        return answers.map(|name| quoted(&plain(name))).collect::<Vec<_>>().join(" if not, ") + " if so";
    }
    let scale = scale(model, expression);
    let shown = |value: f64| match scale {
        Scale::Unit(unit) => format!("{} {}", figure(unit.from_base(value)), unit.word()),
        Scale::Hours => format!("{} h", figure(value)),
        Scale::PerCent => format!("{} %", figure(value)),
        Scale::Plain => figure(value),
    };
    let phrases = bounds.intervals.iter().map(|&(grade, least, most)| {
        let name = names.get(grade).map_or_else(String::new, |name| quoted(&plain(name)));
        match (least.is_finite(), most.is_finite()) {
            (true, true) => format!("{name} from {} to {}", shown(least), shown(most)),
            (true, false) => format!("{name} over {}", shown(least)),
            (false, true) => format!("{name} under {}", shown(most)),
            (false, false) => format!("{name} whatever it is"),
        }
    });
    phrases.collect::<Vec<_>>().join(", ")
}
