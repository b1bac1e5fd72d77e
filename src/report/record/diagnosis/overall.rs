//! One figure for the whole undercarriage, as a reader is told.

use crate::model::Model;
use crate::wear::line::nine_of_ten;
use crate::wear::overall;
use serde::Serialize;

/// How worn the whole undercarriage is, beside its worst part
#[derive(Debug, Serialize)]
pub struct Overall {
    /// The whole
    #[serde(flatten)]
    pub mean: Mean,
    /// Each side by itself
    pub sides: Vec<OfSide>,
    /// The reading nearest to its limit, or farthest past it
    pub worst: Worst,
    /// What the figure is made of
    pub parts: Vec<Part>,
    /// What was not read and is not in it
    pub unread: Vec<Unread>,
}

/// A mean weighted by what renewing costs
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Mean {
    /// Per cent worn
    pub percent: f64,
    /// Its standard error
    pub sigma: f64,
    /// Half of what nine of ten such figures lie within
    pub give_or_take: f64,
    /// Part of the cost of the whole that is in the figure, from 0 to 1
    pub share_of_cost: f64,
    /// So much of the whole was read that the figure speaks for it
    pub enough_read: bool,
}

/// The mean of a side
#[derive(Debug, Serialize)]
pub struct OfSide {
    /// `left` or `right`
    pub side: &'static str,
    /// Its mean
    #[serde(flatten)]
    pub mean: Mean,
}

/// The worst reading
#[derive(Debug, Serialize)]
pub struct Worst {
    /// Name of the measure
    pub measure: String,
    /// Where
    pub place: String,
    /// Its label
    pub label: String,
    /// Per cent worn
    pub percent: f64,
}

/// Something renewed at a cost of its own
#[derive(Debug, Serialize)]
pub struct Part {
    /// Name of the remedy that renews it
    pub remedy: String,
    /// Where
    pub place: String,
    /// What that remedy does
    pub label: String,
    /// Per cent worn
    pub percent: f64,
    /// Its standard error
    pub sigma: f64,
    /// What it costs, in the money of the rules
    pub cost: f64,
}

/// Something that was not read
#[derive(Debug, Serialize)]
pub struct Unread {
    /// Where
    pub place: String,
    /// Names of the measures any of which would tell
    pub measures: Vec<String>,
    /// Their labels
    pub labels: Vec<String>,
    /// What renewing it costs, in the money of the rules
    pub cost: f64,
}

/// The overall figure as it is told
pub fn overall(model: &Model, found: &overall::Overall) -> Overall {
    let worst = &model[found.worst.measure].common;
    Overall {
        mean: mean(found.machine),
        sides: found.sides.iter().map(|&(side, own)| OfSide { side: side.word(), mean: mean(own) }).collect(),
        worst: Worst {
            measure: worst.name.clone(),
            place: found.worst.place.to_string(),
            label: worst.label.clone(),
            percent: found.worst.percent,
        },
        parts: found.parts.iter().map(|it| part(model, it)).collect(),
        unread: found.unread.iter().map(|it| unread(model, it)).collect(),
    }
}

fn mean(own: overall::Mean) -> Mean {
    let overall::Mean { percent, sigma, share } = own;
    Mean {
        percent,
        sigma,
        give_or_take: nine_of_ten(sigma),
        share_of_cost: share,
        enough_read: own.is_enough(),
    }
}

fn part(model: &Model, own: &overall::Part) -> Part {
    let common = &model[own.remedy].common;
    Part {
        remedy: common.name.clone(),
        place: own.place.to_string(),
        label: common.label.clone(),
        percent: own.worn.value,
        sigma: own.worn.sigma(),
        cost: own.cost,
    }
}

fn unread(model: &Model, own: &overall::Unread) -> Unread {
    let of = |name: bool| {
        let blocks = own.measures.iter().map(|id| &model[*id].common);
        blocks.map(|common| if name { common.name.clone() } else { common.label.clone() }).collect()
    };
    Unread { place: own.place.to_string(), measures: of(true), labels: of(false), cost: own.cost }
}
