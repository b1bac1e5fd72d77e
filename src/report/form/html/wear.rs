//! The wear of a machine over its visits as one page that stands by itself: a table of all parts, a curve of each, and words.

use crate::report::draw::curve::Curve;
use crate::report::draw::field::STYLE;
use crate::report::draw::picture::INK;
use crate::report::form::nest::{Section, sections};
use crate::report::record::trend::{PartWear, Trend, curves};
use crate::report::tell;
use crate::report::words::{capital, figure, plain, several, whole};
use askama::Template;
use std::fmt;

#[derive(Template)]
#[template(path = "wear.html")]
struct Sheet<'t> {
    trend: &'t Trend,
    title: String,
    look: String,
    curves: Vec<Curve>,
    words: Vec<Section>,
}

/// The whole file
///
/// # Errors
/// When the library that fills templates fails, which it does not for what it writes into a text.
pub fn wear(trend: &Trend) -> Result<String, fmt::Error> {
    let sheet = Sheet {
        trend,
        title: format!("{}: wear over {}", trend.machine, several(trend.visits.len(), "visit", "visits")),
        look: format!("{INK}{}{STYLE}", super::LOOK),
        curves: curves(trend).into_iter().map(|(_, curve)| curve).collect(),
        words: sections(tell::trend(trend)),
    };
    sheet.render().map_err(|_| fmt::Error)
}

/// What the template asks for
impl Sheet<'_> {
    fn of_curves(&self) -> &'static str {
        tell::CURVES
    }

    fn place(&self, part: &PartWear) -> String {
        capital(&plain(&part.place))
    }

    fn read(&self, part: &PartWear) -> String {
        format!("{} {}", figure(part.read), part.unit)
    }

    fn worn(&self, part: &PartWear) -> String {
        let around = part.give_or_take.max(1.0);
        if part.percent < 0.0 {
            format!("as new ± {around:.0} %")
        } else {
            format!("{:.0} % ± {around:.0}", part.percent)
        }
    }

    fn hours(&self, part: &PartWear) -> String {
        let hours = part.hours.filter(|_| part.new.is_some());
        hours.map_or_else(|| "not told".to_owned(), whole)
    }

    fn left(&self, part: &PartWear) -> String {
        part.left.map_or_else(String::new, |left| left.short())
    }
}
