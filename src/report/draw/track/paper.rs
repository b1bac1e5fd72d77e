//! The sheet that a track is drawn on.

use super::stands::{BENEATH, CHAIN, FIGURE, FRAME, Layout, Point, RING, SMALL, WIDTH, Wheel, top_run};
use crate::model::drawn::Drawn;
use crate::report::draw::markup::Markup;
use crate::report::draw::picture::length;
use crate::report::record::document::track::{self, Spot, Track};

/// How far a worn wheel is filled within its rim, and within its teeth
const RIMS: (f64, f64) = (0.7, 4.7);

/// The sheet a track is drawn on, turned about for the right-hand track
pub(super) struct Paper<'m> {
    pub(super) out: &'m mut Markup,
    pub(super) mirrored: bool,
}

impl Paper<'_> {
    fn x(&self, x: f64) -> f64 {
        if self.mirrored { WIDTH - x } else { x }
    }

    fn empty(&mut self, name: &str, attributes: &[(&str, &str)]) {
        self.out.empty(name, attributes);
        self.out.line();
    }

    fn path(&mut self, class: &str, d: &str) {
        self.empty("path", &[("class", class), ("d", d)]);
    }

    fn circle(&mut self, class: &str, wheel: Wheel) {
        let [x, y, r] = [self.x(wheel.x), wheel.y, wheel.r].map(length);
        self.empty("circle", &[("class", class), ("cx", &x), ("cy", &y), ("r", &r)]);
    }

    fn text(&mut self, class: &str, (x, y): (f64, f64), words: &str) {
        let [x, y] = [self.x(x), y].map(length);
        self.out.words("text", &[("class", class), ("x", &x), ("y", &y)], words);
        self.out.line();
    }

    /// Which way is forward
    pub(super) fn way(&mut self) {
        let (tip, tail) = (self.x(6.0), self.x(30.0));
        let back = if self.mirrored { -5.0 } else { 5.0 };
        let [tip, tail, back] = [tip, tail, tip + back].map(length);
        self.path("arrow", &format!("M{tail} 12H{tip}M{back} 8L{tip} 12L{back} 16"));
        let anchor = if self.mirrored { "end" } else { "start" };
        let x = length(self.x(36.0));
        self.out.words("text", &[("class", "way"), ("x", &x), ("y", "16"), ("text-anchor", anchor)], "front");
        self.out.line();
    }

    pub(super) fn frame(&mut self, layout: &Layout) {
        let (left, right) = layout.frame();
        let x = self.x(left).min(self.x(right));
        let [x, y, width, height] = [x, FRAME.0, right - left, FRAME.1].map(length);
        let corners = [("x", x.as_str()), ("y", &y), ("width", &width), ("height", &height)];
        self.empty("rect", &[&[("class", "frame")], corners.as_slice(), &[("rx", "4")]].concat());
    }

    /// The chain as a belt round its wheels
    pub(super) fn chain(&mut self, wheels: &[Wheel]) {
        let wheels: Vec<Wheel> =
            wheels.iter().map(|wheel| Wheel { r: wheel.r + CHAIN / 2.0, ..*wheel }).collect();
        let next = wheels.iter().cycle().skip(1);
        let sweep = u8::from(!self.mirrored);
        let mut path = String::new();
        let mut first = None;
        for (from, to) in wheels.iter().zip(next) {
            let (start, end) = top_run(*from, *to);
            let shown = |(x, y): (f64, f64)| format!("{} {}", length(self.x(x)), length(y));
            if first.is_none() {
                path.push_str(&format!("M{}", shown(start)));
                first = Some((shown(start), from.r));
            } else {
                path.push_str(&format!("A{0} {0} 0 0 {sweep} {1}", length(from.r), shown(start)));
            }
            path.push_str(&format!("L{}", shown(end)));
        }
        if let Some((start, r)) = first {
            path.push_str(&format!("A{0} {0} 0 0 {sweep} {start}Z", length(r)));
            self.path("chain", &path);
            self.path("links", &path);
        }
    }

    pub(super) fn wheels(&mut self, layout: &Layout, track: &Track) {
        if let Some(front) = &track.front {
            self.circle(&class(front), layout.front);
        }
        if let (Some(rear), Some(wheel)) = (&track.rear, layout.rear) {
            self.circle(&class(rear), wheel);
        }
        if let Some(driven) = &track.driven {
            let wheel = layout.driven;
            self.circle("teeth", Wheel { r: wheel.r - 2.0, ..wheel });
            self.circle(&class(driven), Wheel { r: wheel.r - 4.0, ..wheel });
        }
        if let Some((bottom, _)) = &track.bottom {
            layout.bottom.iter().for_each(|wheel| self.circle(&class(bottom), *wheel));
        }
        if let Some((top, _)) = &track.top {
            layout.top.iter().for_each(|wheel| self.circle(&class(top), *wheel));
        }
    }

    /// A spot whose part is a wheel
    pub(super) fn on_wheel(&mut self, layout: &Layout, wheel: Wheel, spot: &Spot) {
        let large = wheel.r > 2.0 * RING;
        let percent = spot.percent();
        if let Some(percent) = percent {
            let rim = if spot.drawn.is_some_and(Drawn::is_driven) { RIMS.1 } else { RIMS.0 };
            self.level(Wheel { r: wheel.r - rim, ..wheel }, percent);
            let second = spot.along.is_some_and(|along| along % 2 == 0) && layout.rows_of_figures();
            let beneath = BENEATH + RING + FIGURE.1 + if second { FIGURE.1 } else { 0.0 };
            let under = if large { wheel.y + 18.0 } else { beneath };
            self.text("percent", (wheel.x, under), &format!("{percent:.0} %"));
        }
        let y = match (large, percent) {
            (false, _) => BENEATH,
            (true, Some(_)) => wheel.y - 5.0,
            (true, None) => wheel.y,
        };
        self.ring((wheel.x, y), spot.number);
    }

    /// A spot beside or on the track, with a line to what it belongs to
    pub(super) fn beside(&mut self, at: Point, leads_to: Option<Point>, spot: &Spot) {
        if let Some(end) = leads_to {
            let [x, y, to, down] = [self.x(at.0), at.1, self.x(end.0), end.1].map(length);
            self.path("lead", &format!("M{x} {y}L{to} {down}"));
        }
        self.ring(at, spot.number);
        if let Some(percent) = spot.percent() {
            self.gauge(at, percent, &format!("{percent:.0} %"));
        }
    }

    /// A bracket beneath the whole bottom row, for what was found on all of it together
    pub(super) fn row(&mut self, layout: &Layout, top: f64, spot: &Spot) {
        let xs = || layout.bottom.iter().map(|wheel| self.x(wheel.x));
        let (left, right) = (xs().fold(f64::INFINITY, f64::min), xs().fold(f64::NEG_INFINITY, f64::max));
        let middle = self.x(f64::midpoint(left, right));
        let foot = top + 8.0;
        let [left, right, from, to] = [left - SMALL.0, right + SMALL.0, top, foot].map(length);
        self.path("lead", &format!("M{left} {from}V{to}H{right}V{from}"));
        self.beside((middle, foot + RING + 2.0), None, spot);
    }

    /// The number of a spot
    fn ring(&mut self, (x, y): (f64, f64), number: usize) {
        self.circle("ring", Wheel { x, y, r: RING });
        self.text("number", (x, y + 3.6), &number.to_string());
    }

    /// A wheel filled from below as far as it is worn
    fn level(&mut self, wheel: Wheel, percent: f64) {
        let share = (percent / 100.0).clamp(0.0, 1.0);
        if share >= 1.0 {
            self.circle("worn", wheel);
            return;
        }
        let height = wheel.r - 2.0 * wheel.r * share;
        let half = (wheel.r * wheel.r - height * height).max(0.0).sqrt();
        let large = u8::from(share > 0.5);
        let (left, right) = (self.x(wheel.x) - half, self.x(wheel.x) + half);
        let [left, right, r, y] = [left, right, wheel.r, wheel.y + height].map(length);
        self.path("worn", &format!("M{left} {y}A{r} {r} 0 {large} 0 {right} {y}Z"));
    }

    /// A bar beside a number, filled as far as the part is worn
    fn gauge(&mut self, (x, y): (f64, f64), percent: f64, words: &str) {
        const WIDTH: f64 = 36.0;
        // Behind the number as the machine drives, where both kinds of track have room.
        let middle = self.x(x + RING + 4.0 + WIDTH / 2.0);
        let filled = WIDTH * (percent / 100.0).clamp(0.0, 1.0);
        for (class, width) in [("gauge", WIDTH), ("worn", filled)] {
            let [left, top, width] = [middle - WIDTH / 2.0, y + 2.0, width].map(length);
            let corners = [("x", left.as_str()), ("y", &top), ("width", &width), ("height", "5")];
            self.empty("rect", &[&[("class", class)], corners.as_slice()].concat());
        }
        let [middle, foot] = [middle, y - 1.0].map(length);
        self.out.words("text", &[("class", "percent"), ("x", &middle), ("y", &foot)], words);
        self.out.line();
    }
}

/// The class of a wheel, by which a sheet of one's own can tell it from the others
fn class(own: &track::Drawn) -> String {
    format!("wheel {}", own.name.replace('_', "-"))
}
