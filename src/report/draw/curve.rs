//! How wear went on, as a picture: per cent over hours, with what was read, what lies ahead, and the limit.

use crate::report::draw::field::{Axis, Beside, Field, STYLE, Said};
use crate::report::draw::picture::{INK, length};
use crate::report::record::hours_left::HoursLeft;
use crate::report::words::{capital, figure, whole, worn};
use crate::wear::rate::Ahead;
use serde::Serialize;

/// Half the width of the bar at each end of an error
const CAP: f64 = 4.0;
/// How far over the limit the field goes to show a band; what lies higher is cut off
const SHOWN_OVER: f64 = 1.4;
/// Steps along each piece of a line when words look for a free place
const STEPS: u32 = 50;
/// What the limit is
const WORN_OUT: &str = "worn out";

/// The wear of one part at one place over its hours
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Curve {
    /// What its people call the machine
    pub machine: String,
    /// What it shows: part, place, measure
    pub label: String,
    /// Hours count from when the part was new, else they are those of the machine
    pub from_new: bool,
    /// What was read, in the order of hours
    pub points: Vec<CurvePoint>,
    /// What lies ahead, in the order of hours; empty when nothing can be said
    pub ahead: Vec<Ahead>,
    /// Hours left to the limit
    pub left: Option<HoursLeft>,
    /// Per cent at which the part is worn out
    pub limit: f64,
    /// Per cent from which work is to be planned, where that is under the limit
    pub plan_from: Option<f64>,
    /// The scale that it shares with other curves; none where it stands alone
    #[serde(skip_serializing_if = "Option::is_none")]
    pub scale: Option<Scale>,
}

/// Least and most of the hours and of the per cent that one field shows
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Scale {
    /// Hours
    pub hours: [f64; 2],
    /// Per cent worn
    pub percents: [f64; 2],
}

impl Scale {
    /// A scale that holds both
    pub fn with(self, other: Scale) -> Scale {
        let both = |one: [f64; 2], other: [f64; 2]| [one[0].min(other[0]), one[1].max(other[1])];
        Scale { hours: both(self.hours, other.hours), percents: both(self.percents, other.percents) }
    }
}

/// One reading
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct CurvePoint {
    /// Hours
    pub hours: f64,
    /// Per cent worn
    pub percent: f64,
    /// Half of what nine of ten such readings lie within
    pub give_or_take: f64,
}

impl Curve {
    /// The picture as a file of its own
    pub fn svg(&self) -> String {
        let paper = "<rect y=\"-100\" width=\"100%\" height=\"200%\" fill=\"var(--paper,#fff)\"/>\n";
        let heading = Field::heading(&self.machine, &self.label);
        self.drawn(&Field::alone(), &format!("<style>{INK}{STYLE}</style>\n{paper}{heading}"))
    }

    /// The picture as a part of a page that has [`STYLE`] and, for dark screens, [`INK`]
    pub fn figure(&self) -> String {
        self.drawn(&Field::on_a_page(), "")
    }

    /// What it shows, in words for who cannot see it
    pub fn described(&self) -> String {
        let points: Vec<String> = self
            .read()
            .map(|own| format!("{} at {} h", worn(own.percent, own.give_or_take), whole(own.hours)))
            .collect();
        let read = match points.as_slice() {
            [] => "Nothing was read.".to_owned(),
            points => format!("Read: {}.", points.join("; ")),
        };
        let left = self.left.map_or_else(String::new, |left| format!(" Hours left: {}.", left.short()));
        let limit = if self.limit.is_finite() {
            format!(" {} %: {WORN_OUT}.", figure(self.limit))
        } else {
            String::new()
        };
        let plan = self.plan_from.map_or_else(String::new, |from| format!(" {}.", capital(&plan_from(from))));
        format!("Per cent worn over {}. {read}{left}{limit}{plan}", self.hours_of())
    }

    fn hours_of(&self) -> &'static str {
        if self.from_new { "hours on the part" } else { "hours of the machine" }
    }

    /// What it shows of hours and per cent, whether or not it shares that with others
    pub fn extent(&self) -> Scale {
        let limit = if self.limit.is_finite() { self.limit } else { 100.0 };
        let read = self.read().flat_map(|own| {
            [(own.percent - own.give_or_take).max(own.percent.min(0.0)), own.percent + own.give_or_take]
        });
        let ahead = self.expected().flat_map(|own| [own.lower, own.upper, own.percent]);
        let ahead = ahead.map(|percent| percent.clamp(0.0, f64::max(limit, 0.0) * SHOWN_OVER));
        let start = self.from_new.then_some(0.0);
        let hours = self.read().map(|own| own.hours).chain(self.expected().map(|own| own.hours)).chain(start);
        Scale { hours: ends(hours), percents: ends(read.chain(ahead).chain([0.0, limit * 1.04])) }
    }

    fn drawn(&self, attributes: &str, first: &str) -> String {
        // else: it is drawn by itself
        let Scale { hours, percents } = self.scale.unwrap_or_else(|| self.extent());
        let field = Field::new(
            Axis::over(hours.into_iter(), self.hours_of(), ""),
            Axis::over(percents.into_iter(), "", " %"),
        );
        let read = || self.read().map(|own| (own.hours, own.percent));
        let ahead = || self.expected().map(|own| (own.hours, own.percent));
        let upper = self.expected().map(|own| (own.hours, own.upper));
        let lower = self.expected().map(|own| (own.hours, own.lower));
        let inside = field.band(upper, lower)
            + &field.line("been", read())
            + &field.line("ahead", ahead())
            + &self.marks(&field);
        let taken: Vec<(f64, f64)> =
            self.bars(&field).chain(along(&field, read())).chain(along(&field, ahead())).collect();
        let level = |class: &str, up: f64, words: &str, beside: Beside| {
            if up.is_finite() { field.level(class, up, (words, beside), &taken) } else { String::new() }
        };
        let plan = self
            .plan_from
            .map_or_else(String::new, |from| level("plan", from, &plan_from(from), Beside::Beneath));
        let over = level("limit", self.limit, WORN_OUT, Beside::Above) + &plan;
        let said = Said { attributes, title: &self.label, described: &self.described(), first };
        field.picture(&said, &inside, &over)
    }

    /// Points along the bars of all readings, in the picture's own units
    fn bars(&self, field: &Field) -> impl Iterator<Item = (f64, f64)> {
        let ends = |own: &CurvePoint| {
            [own.percent - own.give_or_take, own.percent + own.give_or_take].map(|up| (own.hours, up))
        };
        self.read().flat_map(move |own| along(field, ends(own).into_iter()))
    }

    fn read(&self) -> impl Iterator<Item = &CurvePoint> {
        let whole =
            |own: &&CurvePoint| [own.hours, own.percent, own.give_or_take].iter().all(|it| it.is_finite());
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
            let (high, low) =
                (field.y(own.percent + own.give_or_take), field.y(own.percent - own.give_or_take));
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

/// From which per cent on work is to be planned, as it stands at its line
fn plan_from(percent: f64) -> String {
    format!("plan the work from {} %", figure(percent))
}

/// Least and most; both 0 where there is nothing
fn ends(values: impl Iterator<Item = f64>) -> [f64; 2] {
    let ends = values.fold(None, |ends: Option<[f64; 2]>, value| {
        let [low, high] = ends.unwrap_or([value, value]); // else: it is the first
        Some([low.min(value), high.max(value)])
    });
    ends.unwrap_or_default() // else: as said above
}

/// Points along a line through corners, close enough that no word slips between two of them, in the picture's own units
fn along(field: &Field, corners: impl Iterator<Item = (f64, f64)>) -> Vec<(f64, f64)> {
    let corners: Vec<(f64, f64)> = corners.map(|(across, up)| (field.x(across), field.y(up))).collect();
    let pairs = corners.iter().zip(corners.iter().skip(1));
    let between = pairs.flat_map(|(from, to)| {
        (0..=STEPS).map(move |step| {
            let share = f64::from(step) / f64::from(STEPS);
            (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share)
        })
    });
    between.collect()
}
