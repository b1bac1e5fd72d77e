//! The field that a picture's lines are drawn in: two axes with round figures, and what lies where between them.

use crate::invariant::Hold;
use crate::report::draw::picture::{escaped, length};
use crate::report::words::whole;

/// Width and height of the whole picture, in its own units
const SIZE: (f64, f64) = (480.0, 300.0);
/// Room around the field: left, top, right, bottom
const ROOM: (f64, f64, f64, f64) = (52.0, 16.0, 20.0, 44.0);
/// Room above the picture for a heading of two lines
const HEAD: f64 = 44.0;
/// Width of a letter, about, and height of a line of words
const LETTER: (f64, f64) = (6.2, 12.0);
/// How far words beside a line stand from its end and from itself
const BESIDE: (f64, f64) = (6.0, 5.0);
/// Places along a line that are tried for its words
const TRIED: u32 = 8;
/// Parts into which an axis is divided, about
const PARTS: f64 = 5.0;

/// Looks of a curve; sorts of line differ in width and dashes, so that a grey print keeps them apart
pub const STYLE: &str = "\
.curve text{font-family:system-ui,'DejaVu Sans',Verdana,sans-serif;font-size:12px;fill:var(--soft,#4d5661)}\
.curve .grid{stroke:var(--faint,#dfe3e7);stroke-width:1}\
.curve .axis{stroke:var(--line,#b9c0c8);stroke-width:1}\
.curve .limit{stroke:var(--ink,#1b1f24);stroke-width:1.6;stroke-dasharray:9 4}\
.curve .as-before{fill:none;stroke:var(--soft,#4d5661);stroke-width:1;stroke-dasharray:2 4}\
.curve .plan{stroke:var(--ink,#1b1f24);stroke-width:1;stroke-dasharray:2 3}\
.curve .limit-word,.curve .plan-word,.curve .head{fill:var(--ink,#1b1f24)}\
.curve .whose{font-size:15px;font-weight:600;fill:var(--ink,#1b1f24)}\
.curve .band{fill:var(--line,#b9c0c8);fill-opacity:.45}\
.curve .ahead{fill:none;stroke:var(--mark,#1f4e79);stroke-width:1.6;stroke-dasharray:3 3}\
.curve .been{fill:none;stroke:var(--mark,#1f4e79);stroke-width:1.6}\
.curve .error{fill:none;stroke:var(--ink,#1b1f24);stroke-width:1.2}\
.curve .read{fill:var(--paper,#fff);stroke:var(--ink,#1b1f24);stroke-width:1.6}";

/// The field of a picture: where its figures lie
pub struct Field {
    across: Axis,
    up: Axis,
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

/// What a picture says of itself
pub struct Said<'a> {
    /// Attributes of its element, each with a blank before it
    pub attributes: &'a str,
    /// What it shows
    pub title: &'a str,
    /// The same in words, for who cannot see it
    pub described: &'a str,
    /// What is drawn before all else
    pub first: &'a str,
}

/// On which side of a line its words stand
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Beside {
    /// Over it
    Above,
    /// Under it
    Beneath,
}

impl Field {
    /// The field between two axes
    pub fn new(across: Axis, up: Axis) -> Self {
        let ((width, height), (left, top, right, bottom)) = (SIZE, ROOM);
        Field { across, up, left, top, right: width - right, bottom: height - bottom }
    }

    /// Where a figure lies across
    pub fn x(&self, figure: f64) -> f64 {
        self.left + self.across.share(figure) * (self.right - self.left)
    }

    /// Where a figure lies up; what is more stands higher
    pub fn y(&self, figure: f64) -> f64 {
        self.bottom - self.up.share(figure) * (self.bottom - self.top)
    }

    /// A corner of a line
    pub fn at(&self, across: f64, up: f64) -> String {
        format!("{},{}", length(self.x(across)), length(self.y(up)))
    }

    /// A line of a looks' name through its corners; nothing where there is but one
    pub fn line(&self, class: &str, corners: impl Iterator<Item = (f64, f64)>) -> String {
        let corners: Vec<String> = corners.map(|(across, up)| self.at(across, up)).collect();
        match corners.as_slice() {
            [_, _, ..] => format!("<polyline class=\"{class}\" points=\"{}\"/>\n", corners.join(" ")),
            _ => String::new(),
        }
    }

    /// A band from its upper edge to its lower one, each from left to right; nothing where it has no width
    pub fn band(
        &self,
        upper: impl Iterator<Item = (f64, f64)>,
        lower: impl DoubleEndedIterator<Item = (f64, f64)>,
    ) -> String {
        let corners: Vec<String> = upper.chain(lower.rev()).map(|(across, up)| self.at(across, up)).collect();
        match corners.as_slice() {
            [_, _, _, ..] => format!("<polygon class=\"band\" points=\"{}\"/>\n", corners.join(" ")),
            _ => String::new(),
        }
    }

    /// The mark of a figure that was read or given
    pub fn mark(&self, across: f64, up: f64) -> String {
        let (x, y) = (length(self.x(across)), length(self.y(up)));
        format!("<circle class=\"read\" cx=\"{x}\" cy=\"{y}\" r=\"4\"/>\n")
    }

    /// A line at one height from side to side, with words beside it where they lie free of `marks`, corners in the picture's own
    /// units: from the left on, or where fewest are in the way
    pub fn level(
        &self,
        class: &str,
        up: f64,
        (words, beside): (&str, Beside),
        marks: &[(f64, f64)],
    ) -> String {
        let (left, right, y) = (length(self.left), length(self.right), self.y(up));
        let (width, high) = (wide(words), LETTER.1);
        let foot = match beside {
            Beside::Above => y - BESIDE.1,
            Beside::Beneath => y + BESIDE.1 + high - 3.0,
        };
        let room = (self.right - self.left - width - 2.0 * BESIDE.0).max(0.0);
        let starts = (0..=TRIED).map(|step| self.left + BESIDE.0 + room * f64::from(step) / f64::from(TRIED));
        let in_the_way = |x: f64| {
            let beneath = |own: &&(f64, f64)| (x - 4.0..=x + width + 4.0).contains(&own.0);
            marks.iter().filter(beneath).filter(|own| (foot - high..=foot + 3.0).contains(&own.1)).count()
        };
        let start = starts.min_by_key(|x| in_the_way(*x)).hold("several places are tried");
        format!(
            "<path class=\"{class}\" d=\"M{left} {}H{right}\"/><text class=\"{class}-word\" x=\"{}\" y=\"{}\">{}</text>\n",
            length(y),
            length(start),
            length(foot),
            escaped(words)
        )
    }

    /// A heading above the picture: whose it is, and what it shows
    pub fn heading(whose: &str, what: &str) -> String {
        let (width, _) = SIZE;
        let most = width - 16.0;
        let fitted = if wide(what) > most {
            format!(" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"", length(most))
        } else {
            String::new()
        };
        format!(
            "<text class=\"whose\" x=\"8\" y=\"-24\">{}</text>\n<text class=\"head\" x=\"8\" y=\"-6\"{fitted}>{}</text>\n",
            escaped(whose),
            escaped(what)
        )
    }

    /// The picture: what is `inside` is cut off at the edges of the field, what is `over` is not
    pub fn picture(&self, said: &Said<'_>, inside: &str, over: &str) -> String {
        let (x, y) = (length(self.left), length(self.top));
        let (wide, high) = (length(self.right - self.left), length(self.bottom - self.top));
        format!(
            "<svg class=\"curve\"{} role=\"img\">\n<title>{}</title>\n<desc>{}</desc>\n{}{}\
             <svg x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{high}\" viewBox=\"{x} {y} {wide} {high}\">\n\
             {inside}</svg>\n{over}</svg>\n",
            said.attributes,
            escaped(said.title),
            escaped(said.described),
            said.first,
            self.axes(),
        )
    }

    fn axes(&self) -> String {
        let (left, right, bottom) = (length(self.left), length(self.right), length(self.bottom));
        let mut out = String::new();
        for tick in self.up.ticks() {
            let y = self.y(tick);
            out.push_str(&format!("<path class=\"grid\" d=\"M{left} {}H{right}\"/>", length(y)));
            out.push_str(&format!(
                "<text x=\"{}\" y=\"{}\" text-anchor=\"end\">{}{}</text>\n",
                length(self.left - 6.0),
                length(y + 4.0),
                shown(tick),
                self.up.unit
            ));
        }
        for tick in self.across.ticks() {
            let x = length(self.x(tick));
            out.push_str(&format!("<path class=\"axis\" d=\"M{x} {bottom}v5\"/>"));
            out.push_str(&format!(
                "<text x=\"{x}\" y=\"{}\" text-anchor=\"middle\">{}{}</text>\n",
                length(self.bottom + 19.0),
                shown(tick),
                self.across.unit
            ));
        }
        out.push_str(&format!("<path class=\"axis\" d=\"M{left} {bottom}H{right}\"/>\n"));
        out.push_str(&format!(
            "<text x=\"{right}\" y=\"{}\" text-anchor=\"end\">{}</text>\n",
            length(self.bottom + 37.0),
            escaped(self.across.name)
        ));
        out
    }

    /// Attributes of a picture that is a part of a page
    pub fn on_a_page() -> String {
        let (width, height) = SIZE;
        format!(" viewBox=\"0 0 {} {}\"", length(width), length(height))
    }

    /// Attributes of a picture that is a file of its own, with room for a [`Field::heading`]
    pub fn alone() -> String {
        let (width, height) = SIZE;
        let (wide, high) = (length(width), length(height + HEAD));
        format!(
            " xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}\" height=\"{high}\" viewBox=\"0 {} {wide} {high}\"",
            length(-HEAD)
        )
    }
}

/// How wide words are, about
fn wide(words: &str) -> f64 {
    words.chars().map(|_| LETTER.0).sum()
}

/// A figure of an axis, with its thousands parted
fn shown(tick: f64) -> String {
    if tick < 0.0 { format!("{tick:.0}") } else { whole(tick) }
}

/// An axis from one round figure to another
pub struct Axis {
    from: f64,
    to: f64,
    step: f64,
    /// What it counts, told once; empty where the unit says it
    name: &'static str,
    /// What stands behind every figure
    unit: &'static str,
}

impl Axis {
    /// Round figures around all values; where there is but one, or none, it still has a length
    pub fn over(values: impl Iterator<Item = f64>, name: &'static str, unit: &'static str) -> Self {
        let ends = values.fold(None, |ends: Option<(f64, f64)>, value| {
            let (low, high) = ends.unwrap_or((value, value)); // else: it is the first
            Some((low.min(value), high.max(value)))
        });
        let (mut low, mut high) = ends.unwrap_or((0.0, 1.0)); // else: as said above
        if high - low < f64::EPSILON * high.abs().max(1.0) {
            (low, high) = (low.min(0.0), high.max(1.0));
        }
        // From nothing on, unless that would push all there is into a corner.
        if low > 0.0 && low < high / 2.0 {
            low = 0.0;
        }
        let step = round_step((high - low) / PARTS);
        Axis { from: (low / step).floor() * step, to: (high / step).ceil() * step, step, name, unit }
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
        .unwrap_or(10.0 * power) // else: it is larger than all of these
}
