//! Figures of work in words: costs, chances, the worst of a row.

use crate::infer::bounds::Interval;
use crate::plan::record::{Plan, Worst};
use crate::report::words::{about, percent, whole};

/// A cost, in the money of the plan
pub(super) fn cost(plan: &Plan, cost: f64) -> String {
    match &plan.currency {
        Some(word) => format!("{} {word}", whole(cost)),
        None => format!("cost {}", whole(cost)),
    }
}

/// Money that nobody knows better than to two figures
pub(super) fn two_figures(cost: f64) -> String {
    let step = libm::pow(10.0, libm::floor(libm::log10(cost.max(1.0))) - 1.0).max(1.0);
    whole((cost / step).round() * step)
}

/// A probability, or what it lies between
pub(super) fn chance(within: Interval) -> String {
    let (least, most) = (percent(within.lower), percent(within.upper));
    if within.upper > within.lower { format!("between {least} and {most}") } else { least }
}

/// The part of a row that comes to its figure first
pub(super) fn worst(worst: &Worst) -> String {
    let when = match worst.due_in {
        Some(hours) if hours > 0.0 => format!(", in about {} h", about(hours)),
        _ => String::new(),
    };
    format!("; {} first with {:.0} %{when}", worst.place, worst.percent)
}
