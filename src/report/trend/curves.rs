//! How the wear of each part went on and goes on, as pictures.

use super::{PartTold, Trend};
use crate::place::Place;
use crate::report::curve::{Ahead, Curve, CurvePoint};
use crate::report::words::{capital, plain};

/// The picture of one part; none where the hours of its readings are not told
pub fn curve(part: &PartTold) -> Option<Curve> {
    let points: Vec<CurvePoint> = part
        .points
        .iter()
        .filter_map(|point| {
            Some(CurvePoint { hours: point.hours?, percent: point.percent, sigma: point.sigma })
        })
        .collect();
    let ahead = part.ahead.iter().map(|at| Ahead {
        hours: at.hours,
        percent: at.percent,
        lower: at.lower,
        upper: at.upper,
    });
    let ahead = ahead.collect();
    (!points.is_empty()).then(|| Curve { label: label(part), points, ahead, limit: part.limit })
}

/// The pictures of all parts that have one, each with the name and place it is asked for by
pub fn curves(report: &Trend) -> Vec<(String, Curve)> {
    report.parts.iter().filter_map(|part| Some((asked_for(part), curve(part)?))).collect()
}

/// `link_height left`, or the name alone for the machine
fn asked_for(part: &PartTold) -> String {
    if part.place == Place::Machine.to_string() {
        part.measure.clone()
    } else {
        format!("{} {}", part.measure, part.place)
    }
}

fn label(part: &PartTold) -> String {
    let hours = if part.hours_of == "part" { "hours on the part" } else { "hours of the machine" };
    let place = if part.place == Place::Machine.to_string() {
        String::new()
    } else {
        format!("{}: ", capital(&plain(&part.place)))
    };
    format!("{place}{}, {hours}", part.label)
}
