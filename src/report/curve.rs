//! How wear went on, as a picture: per cent over hours, with what was read, what lies ahead, and the limit.

use super::field::{Axis, Field, STYLE, Said};
use super::picture::{INK, length};
use super::words::figure;
use serde::Serialize;

/// Half the width of the bar at each end of an error
const CAP: f64 = 4.0;
/// How far over the limit the field goes to show a band; what lies higher is cut off
const SHOWN_OVER: f64 = 1.4;

/// The wear of one part at one place over its hours
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Curve {
    /// What it shows: part, place, measure
    pub label: String,
    /// What was read, in the order of hours
    pub points: Vec<CurvePoint>,
    /// What lies ahead, in the order of hours; empty when nothing can be said
    pub ahead: Vec<Ahead>,
    /// Per cent at which work is due
    pub limit: f64,
}

/// One reading
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct CurvePoint {
    /// Hours
    pub hours: f64,
    /// Per cent worn
    pub percent: f64,
    /// Standard error of the per cent
    pub sigma: f64,
}

/// One place of the line that the wear is expected to take
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Ahead {
    /// Hours
    pub hours: f64,
    /// Per cent expected
    pub percent: f64,
    /// Least of the interval
    pub lower: f64,
    /// Most of the interval
    pub upper: f64,
}

impl Curve {
    /// The picture as a file of its own
    pub fn svg(&self) -> String {
        let paper = "<rect width=\"100%\" height=\"100%\" fill=\"var(--paper,#fff)\"/>\n";
        self.drawn(&Field::attributes(), &format!("<style>{INK}{STYLE}</style>\n{paper}"))
    }

    /// The picture as a part of a page that has [`STYLE`] and, for dark screens, [`INK`]
    pub fn figure(&self) -> String {
        self.drawn("", "")
    }

    /// What it shows, in words for who cannot see it
    pub fn described(&self) -> String {
        let points: Vec<String> = self
            .read()
            .map(|own| {
                format!("{:.0} % at {:.0} h, give or take {}", own.percent, own.hours, figure(own.sigma))
            })
            .collect();
        let read = match points.as_slice() {
            [] => "Nothing was read.".to_owned(),
            points => format!("Read: {}.", points.join("; ")),
        };
        let ahead = self.expected().last().map_or_else(String::new, |last| {
            format!(
                " The line ahead reaches {:.0} % at {:.0} h, within {:.0} and {:.0} %.",
                last.percent, last.hours, last.lower, last.upper
            )
        });
        let due = if self.limit.is_finite() {
            format!(" Work is due at {} %.", figure(self.limit))
        } else {
            String::new()
        };
        format!("Per cent worn over hours. {read}{ahead}{due}")
    }

    fn drawn(&self, attributes: &str, first: &str) -> String {
        let field = around(self);
        let read = self.read().map(|own| (own.hours, own.percent));
        let ahead = self.expected().map(|own| (own.hours, own.percent));
        let upper = self.expected().map(|own| (own.hours, own.upper));
        let lower = self.expected().map(|own| (own.hours, own.lower));
        let inside = field.band(upper, lower)
            + &field.line("been", read)
            + &field.line("ahead", ahead)
            + &self.marks(&field);
        let limit =
            if self.limit.is_finite() { field.level("limit", self.limit, "work due") } else { String::new() };
        let said = Said { attributes, title: &self.label, described: &self.described(), first };
        field.picture(&said, &inside, &limit)
    }

    fn read(&self) -> impl Iterator<Item = &CurvePoint> {
        let whole = |own: &&CurvePoint| [own.hours, own.percent, own.sigma].iter().all(|it| it.is_finite());
        self.points.iter().filter(whole)
    }

    fn expected(&self) -> impl DoubleEndedIterator<Item = &Ahead> {
        let whole =
            |own: &&Ahead| [own.hours, own.percent, own.lower, own.upper].iter().all(|it| it.is_finite());
        self.ahead.iter().filter(whole)
    }

    fn marks(&self, field: &Field) -> String {
        let mark = |own: &CurvePoint| {
            let x = field.x(own.hours);
            let (high, low) = (field.y(own.percent + own.sigma), field.y(own.percent - own.sigma));
            let (left, right) = (length(x - CAP), length(x + CAP));
            let error = format!(
                "<path class=\"error\" d=\"M{left} {1}H{right}M{0} {1}V{2}M{left} {2}H{right}\"/>\n",
                length(x),
                length(high),
                length(low)
            );
            error + &field.mark(own.hours, own.percent)
        };
        self.read().map(mark).collect()
    }
}

/// The field around all that a curve shows
fn around(curve: &Curve) -> Field {
    let limit = if curve.limit.is_finite() { curve.limit } else { 100.0 };
    let read = curve.read().flat_map(|own| [own.percent - own.sigma, own.percent + own.sigma]);
    let ahead = curve.expected().flat_map(|own| [own.lower, own.upper, own.percent]);
    let ahead = ahead.map(|percent| percent.clamp(0.0, f64::max(limit, 0.0) * SHOWN_OVER));
    let percents = read.chain(ahead).chain([0.0, limit * 1.04]);
    let hours = curve.read().map(|own| own.hours).chain(curve.expected().map(|own| own.hours));
    Field::new(Axis::over(hours, "hours", ""), Axis::over(percents, "", " %"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    fn worn(hours: f64, percent: f64) -> CurvePoint {
        CurvePoint { hours, percent, sigma: 3.0 }
    }

    fn sample() -> Curve {
        Curve {
            label: "link height, left <b>".to_owned(),
            points: vec![worn(1200.0, 20.0), worn(2400.0, 45.0)],
            ahead: vec![
                Ahead { hours: 2400.0, percent: 45.0, lower: 42.0, upper: 48.0 },
                Ahead { hours: 5000.0, percent: 100.0, lower: 80.0, upper: 320.0 },
            ],
            limit: 100.0,
        }
    }

    fn count(text: &str, what: &str) -> usize {
        text.matches(what).count()
    }

    #[test]
    fn every_reading_has_its_mark_and_error_and_the_band_is_drawn() {
        let text = sample().svg();
        assert_eq!(count(&text, "<circle class=\"read\""), 2);
        assert_eq!(count(&text, "class=\"error\""), 2);
        assert_eq!(count(&text, "class=\"band\""), 1);
        assert_eq!(count(&text, "class=\"limit\""), 1);
        assert!(roxmltree::Document::parse(&text).is_ok());
    }

    #[test]
    fn markup_in_the_label_stays_text() {
        let curve = Curve { label: "</title><script>alert(1)</script>\u{202e}".to_owned(), ..sample() };
        let text = curve.figure();
        assert!(!text.contains("<script"));
        assert!(roxmltree::Document::parse(&text).is_ok());
    }

    #[rstest]
    #[case(Curve::default())]
    #[case(Curve { points: vec![worn(0.0, 0.0)], ..Curve::default() })]
    #[case(Curve { points: vec![worn(f64::NAN, 1.0), worn(1.0, f64::INFINITY)], limit: f64::NAN, ..Curve::default() })]
    #[case(Curve { points: vec![worn(1e12, -500.0)], limit: 100.0, ..Curve::default() })]
    fn odd_curves_are_drawn_all_the_same(#[case] curve: Curve) {
        let text = curve.svg();
        assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
        assert!(roxmltree::Document::parse(&text).is_ok());
    }
}
