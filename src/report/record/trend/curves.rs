//! How the wear of each part went on and goes on, as pictures.

use super::{PartWear, PointRow, Trend};
use crate::place::Place;
use crate::report::draw::curve::{Curve, CurvePoint, Scale};
use crate::report::words::{capital, plain};
use std::collections::BTreeMap;

/// The picture of one part of a machine; none where the hours of its readings are not told
fn curve(machine: &str, part: &PartWear) -> Option<Curve> {
    let points: Vec<CurvePoint> = part
        .points
        .iter()
        .filter_map(|point| {
            let PointRow { percent, give_or_take, .. } = *point;
            Some(CurvePoint { hours: point.hours?, percent, give_or_take })
        })
        .collect();
    let due = part.due.iter().map(|due| due.percent).filter(|percent| *percent < part.limit);
    (!points.is_empty()).then(|| Curve {
        machine: machine.to_owned(),
        label: label(part),
        from_new: part.new.is_some(),
        points,
        ahead: part.ahead.clone(),
        left: part.left,
        limit: part.limit,
        plan_from: due.min_by(f64::total_cmp),
        scale: None,
    })
}

/// The pictures of all parts that have one, each with the name and place it is asked for by. Those of one measure whose hours
/// count alike have one scale, so that their slopes can be compared by eye
pub fn curves(report: &Trend) -> Vec<(String, Curve)> {
    let drawn = report.parts.iter().filter_map(|part| Some((part, curve(&report.machine, part)?)));
    let mut drawn: Vec<(&PartWear, Curve)> = drawn.collect();
    let mut scales: BTreeMap<(&str, bool), Scale> = BTreeMap::new();
    for (part, curve) in &drawn {
        let own = curve.extent();
        scales
            .entry((part.measure.as_str(), curve.from_new))
            .and_modify(|scale| *scale = scale.with(own))
            .or_insert(own);
    }
    for (part, curve) in &mut drawn {
        curve.scale = scales.get(&(part.measure.as_str(), curve.from_new)).copied();
    }
    drawn.into_iter().map(|(part, curve)| (asked_for(part), curve)).collect()
}

/// `link_height left`, or the name alone for the machine
fn asked_for(part: &PartWear) -> String {
    if part.place == Place::Machine.to_string() {
        part.measure.clone()
    } else {
        format!("{} {}", part.measure, part.place)
    }
}

fn label(part: &PartWear) -> String {
    if part.place == Place::Machine.to_string() {
        capital(&part.label)
    } else {
        format!("{}: {}", capital(&plain(&part.place)), part.label)
    }
}
