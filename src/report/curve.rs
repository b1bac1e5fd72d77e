//! How wear went on, as a picture: per cent over hours, with what was read, what lies ahead, and the limit.

use super::picture::{INK, escaped, length};
use super::words::figure;
use serde::Serialize;

/// Width and height of the whole picture, in its own units
const SIZE: (f64, f64) = (480.0, 300.0);
/// Room around the field: left, top, right, bottom
const ROOM: (f64, f64, f64, f64) = (52.0, 16.0, 20.0, 44.0);
/// Half the width of the bar at each end of an error
const CAP: f64 = 4.0;
/// How far over the limit the field goes to show a band; what lies higher is cut off
const SHOWN_OVER: f64 = 1.4;
/// Parts into which an axis is divided, about
const PARTS: f64 = 5.0;

/// Looks of a curve; sorts of line differ in width and dashes, so that a grey print keeps them apart
pub const STYLE: &str = "\
.curve text{font-family:system-ui,'DejaVu Sans',Verdana,sans-serif;font-size:12px;fill:var(--soft,#4d5661)}\
.curve .grid{stroke:var(--faint,#dfe3e7);stroke-width:1}\
.curve .axis{stroke:var(--line,#b9c0c8);stroke-width:1}\
.curve .limit{stroke:var(--ink,#1b1f24);stroke-width:1.6;stroke-dasharray:9 4}\
.curve .limit-word{fill:var(--ink,#1b1f24)}\
.curve .band{fill:var(--line,#b9c0c8);fill-opacity:.45}\
.curve .ahead{fill:none;stroke:var(--mark,#1f4e79);stroke-width:1.6;stroke-dasharray:3 3}\
.curve .been{fill:none;stroke:var(--mark,#1f4e79);stroke-width:1.6}\
.curve .error{fill:none;stroke:var(--ink,#1b1f24);stroke-width:1.2}\
.curve .read{fill:var(--paper,#fff);stroke:var(--ink,#1b1f24);stroke-width:1.6}";

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
        let (width, height) = SIZE;
        let attributes = format!(
            " xmlns=\"http://www.w3.org/2000/svg\" width=\"{}\" height=\"{}\"",
            length(width),
            length(height)
        );
        let paper = "<rect width=\"100%\" height=\"100%\" fill=\"var(--paper,#fff)\"/>\n";
        self.drawn(&attributes, &format!("<style>{INK}{STYLE}</style>\n{paper}"))
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
        let field = Field::around(self);
        let (width, height) = SIZE;
        let mut out = format!(
            "<svg class=\"curve\"{attributes} viewBox=\"0 0 {} {}\" role=\"img\">\n<title>{}</title>\n<desc>{}</desc>\n{first}",
            length(width),
            length(height),
            escaped(&self.label),
            escaped(&self.described())
        );
        field.axes(&mut out);
        // A picture within the picture cuts off what lies outside the field.
        out.push_str(&format!(
            "<svg x=\"{0}\" y=\"{1}\" width=\"{2}\" height=\"{3}\" viewBox=\"{0} {1} {2} {3}\">\n",
            length(field.left),
            length(field.top),
            length(field.right - field.left),
            length(field.bottom - field.top)
        ));
        self.band(&mut out, &field);
        self.lines(&mut out, &field);
        self.marks(&mut out, &field);
        out.push_str("</svg>\n");
        field.limit(&mut out, self.limit);
        out.push_str("</svg>\n");
        out
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

    fn band(&self, out: &mut String, field: &Field) {
        let over = self.expected().map(|own| field.at(own.hours, own.upper));
        let under = self.expected().rev().map(|own| field.at(own.hours, own.lower));
        let corners: Vec<String> = over.chain(under).collect();
        if corners.len() > 2 {
            out.push_str(&format!("<polygon class=\"band\" points=\"{}\"/>\n", corners.join(" ")));
        }
    }

    fn lines(&self, out: &mut String, field: &Field) {
        let been: Vec<String> = self.read().map(|own| field.at(own.hours, own.percent)).collect();
        let ahead: Vec<String> = self.expected().map(|own| field.at(own.hours, own.percent)).collect();
        for (class, line) in [("been", been), ("ahead", ahead)] {
            if line.len() > 1 {
                out.push_str(&format!("<polyline class=\"{class}\" points=\"{}\"/>\n", line.join(" ")));
            }
        }
    }

    fn marks(&self, out: &mut String, field: &Field) {
        for own in self.read() {
            let x = field.x(own.hours);
            let (high, low) = (field.y(own.percent + own.sigma), field.y(own.percent - own.sigma));
            let (left, right) = (length(x - CAP), length(x + CAP));
            out.push_str(&format!(
                "<path class=\"error\" d=\"M{left} {1}H{right}M{0} {1}V{2}M{left} {2}H{right}\"/>\n",
                length(x),
                length(high),
                length(low)
            ));
            out.push_str(&format!(
                "<circle class=\"read\" cx=\"{}\" cy=\"{}\" r=\"4\"/>\n",
                length(x),
                length(field.y(own.percent))
            ));
        }
    }
}

/// The field of a curve: where hours and per cents lie in the picture
struct Field {
    hours: Axis,
    percent: Axis,
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Field {
    fn around(curve: &Curve) -> Self {
        let limit = if curve.limit.is_finite() { curve.limit } else { 100.0 };
        let read = curve.read().flat_map(|own| [own.percent - own.sigma, own.percent + own.sigma]);
        let ahead = curve.expected().flat_map(|own| [own.lower, own.upper, own.percent]);
        let ahead = ahead.map(|percent| percent.clamp(0.0, f64::max(limit, 0.0) * SHOWN_OVER));
        let percents = read.chain(ahead).chain([0.0, limit * 1.04]);
        let hours = curve.read().map(|own| own.hours).chain(curve.expected().map(|own| own.hours));
        Field {
            hours: Axis::over(hours),
            percent: Axis::over(percents),
            left: ROOM.0,
            right: SIZE.0 - ROOM.2,
            top: ROOM.1,
            bottom: SIZE.1 - ROOM.3,
        }
    }

    fn x(&self, hours: f64) -> f64 {
        self.left + self.hours.share(hours) * (self.right - self.left)
    }

    fn y(&self, percent: f64) -> f64 {
        self.bottom - self.percent.share(percent) * (self.bottom - self.top)
    }

    fn at(&self, hours: f64, percent: f64) -> String {
        format!("{},{}", length(self.x(hours)), length(self.y(percent)))
    }

    fn axes(&self, out: &mut String) {
        let (left, right, bottom) = (length(self.left), length(self.right), length(self.bottom));
        for tick in self.percent.ticks() {
            let y = self.y(tick);
            out.push_str(&format!("<path class=\"grid\" d=\"M{left} {}H{right}\"/>", length(y)));
            out.push_str(&format!(
                "<text x=\"{}\" y=\"{}\" text-anchor=\"end\">{tick:.0} %</text>\n",
                length(self.left - 6.0),
                length(y + 4.0)
            ));
        }
        for tick in self.hours.ticks() {
            let x = length(self.x(tick));
            out.push_str(&format!("<path class=\"axis\" d=\"M{x} {bottom}v5\"/>"));
            out.push_str(&format!(
                "<text x=\"{x}\" y=\"{}\" text-anchor=\"middle\">{tick:.0}</text>\n",
                length(self.bottom + 19.0)
            ));
        }
        out.push_str(&format!("<path class=\"axis\" d=\"M{left} {bottom}H{right}\"/>\n"));
        out.push_str(&format!(
            "<text x=\"{right}\" y=\"{}\" text-anchor=\"end\">hours</text>\n",
            length(self.bottom + 37.0)
        ));
    }

    fn limit(&self, out: &mut String, limit: f64) {
        if !limit.is_finite() {
            return;
        }
        let y = self.y(limit);
        out.push_str(&format!(
            "<path class=\"limit\" d=\"M{} {}H{}\"/>",
            length(self.left),
            length(y),
            length(self.right)
        ));
        out.push_str(&format!(
            "<text class=\"limit-word\" x=\"{}\" y=\"{}\">work due</text>\n",
            length(self.left + 6.0),
            length(y + 15.0)
        ));
    }
}

/// An axis from one round figure to another
struct Axis {
    from: f64,
    to: f64,
    step: f64,
}

impl Axis {
    /// Round figures around all values; where there is but one, or none, it still has a length
    fn over(values: impl Iterator<Item = f64>) -> Self {
        let ends = values.fold(None, |ends: Option<(f64, f64)>, value| {
            let (low, high) = ends.unwrap_or((value, value));
            Some((low.min(value), high.max(value)))
        });
        let (mut low, mut high) = ends.unwrap_or((0.0, 1.0));
        if high - low < f64::EPSILON * high.abs().max(1.0) {
            (low, high) = (low.min(0.0), high.max(1.0));
        }
        // From nothing on, unless that would push all there is into a corner.
        if low > 0.0 && low < high / 2.0 {
            low = 0.0;
        }
        let step = round_step((high - low) / PARTS);
        Axis { from: (low / step).floor() * step, to: (high / step).ceil() * step, step }
    }

    fn share(&self, value: f64) -> f64 {
        (value - self.from) / (self.to - self.from)
    }

    fn ticks(&self) -> impl Iterator<Item = f64> {
        let count = ((self.to - self.from) / self.step).round().clamp(0.0, 100.0);
        let (from, step) = (self.from, self.step);
        std::iter::successors(Some(0.0), |at| Some(at + 1.0))
            .take_while(move |at| *at <= count)
            .map(move |at| from + at * step)
    }
}

/// The least of 1, 2, 2.5, 5 and 10 times a power of ten that is no smaller; whole from 1 on
fn round_step(least: f64) -> f64 {
    let power = libm::pow(10.0, libm::floor(libm::log10(least.max(1.0))));
    [1.0, 2.0, 2.5, 5.0]
        .into_iter()
        .map(|part| part * power)
        .find(|step| *step >= least && step.fract() == 0.0)
        .unwrap_or(10.0 * power)
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

    #[test]
    fn what_is_worn_more_stands_higher_and_later_stands_further_right() {
        let field = Field::around(&sample());
        assert!(field.y(45.0) < field.y(20.0));
        assert!(field.x(2400.0) > field.x(1200.0));
        assert!(field.y(100.0) >= field.top);
    }

    #[rstest]
    #[case(0.0, 4300.0, &[0.0, 1000.0, 2000.0, 3000.0, 4000.0, 5000.0])]
    #[case(6240.0, 6900.0, &[6200.0, 6400.0, 6600.0, 6800.0, 7000.0])]
    #[case(-4.0, 104.0, &[-25.0, 0.0, 25.0, 50.0, 75.0, 100.0, 125.0])]
    #[case(7.0, 7.0, &[0.0, 2.0, 4.0, 6.0, 8.0])]
    fn ticks_are_round(#[case] low: f64, #[case] high: f64, #[case] ticks: &[f64]) {
        let axis = Axis::over([low, high].into_iter());
        assert_eq!(axis.ticks().collect::<Vec<_>>(), ticks);
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
