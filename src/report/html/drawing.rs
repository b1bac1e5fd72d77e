//! A track from the side, drawn from the machine's facts, with a number at every place where something was found or read.

use crate::report::document::track::{Spot, Track};
use crate::report::picture::{escaped, length};
use crate::report::words::several;

/// Width and height of the drawing, in its own units
const SIZE: (f64, f64) = (440.0, 170.0);
/// Height at which wheels and rollers touch the inner side of the chain below
const FLOOR: f64 = 126.0;
/// Thickness of the chain with its shoes
const CHAIN: f64 = 8.0;
/// Radius of a bottom roller, and of a carrier roller
const ROLLERS: (f64, f64) = (12.0, 8.0);
/// Radius of a number's ring
const RING: f64 = 8.0;
/// Height of the numbers of bottom rollers, which would hide how far those are filled
const BENEATH: f64 = FLOOR + CHAIN + RING + 4.0;
/// Where bottom rollers stand from and to, on an oval track and on one with a raised sprocket
const ROWS: [(f64, f64); 2] = [(104.0, 336.0), (92.0, 348.0)];
/// Top and height of the track frame
const FRAME: (f64, f64) = (84.0, 15.0);
/// Most rollers that have room in a row
const MOST_ROLLERS: u32 = 16;

/// Looks of a track; nothing but shades of ink, and numbers that lead to the list beneath
pub const STYLE: &str = "\
.track text{font-family:system-ui,'DejaVu Sans',Verdana,sans-serif;font-size:10px;fill:var(--ink,#1b1f24)}\
.track .chain{fill:none;stroke:var(--line,#b9c0c8);stroke-width:8}\
.track .links{fill:none;stroke:var(--paper,#fff);stroke-width:8;stroke-dasharray:1.2 9}\
.track .frame{fill:var(--fill,#edf0f3);stroke:var(--line,#b9c0c8)}\
.track .wheel{fill:var(--paper,#fff);stroke:var(--soft,#4d5661);stroke-width:1.4}\
.track .teeth{fill:none;stroke:var(--soft,#4d5661);stroke-width:5;stroke-dasharray:4 4.4}\
.track .worn{fill:var(--line,#b9c0c8)}\
.track .gauge{fill:var(--paper,#fff);stroke:var(--soft,#4d5661)}\
.track .ring{fill:var(--paper,#fff);stroke:var(--ink,#1b1f24);stroke-width:1.2}\
.track .number{font-weight:bold;text-anchor:middle}\
.track .percent{font-size:9.5px;text-anchor:middle}\
.track .lead{fill:none;stroke:var(--soft,#4d5661)}\
.track .way{font-size:11px;fill:var(--soft,#4d5661)}\
.track .arrow{fill:none;stroke:var(--soft,#4d5661);stroke-width:1.4}";

/// A point of the drawing, from its left and top
type Point = (f64, f64);

/// A wheel: where it stands, and its radius
#[derive(Clone, Copy, Debug, PartialEq)]
struct Wheel {
    x: f64,
    y: f64,
    r: f64,
}

/// Where everything on a track stands, its front to the left
struct Layout {
    idler: Wheel,
    sprocket: Wheel,
    rear_idler: Option<Wheel>,
    rollers: Vec<Wheel>,
    carriers: Vec<Wheel>,
}

impl Layout {
    fn of(track: &Track) -> Self {
        let (idler, sprocket, rear_idler) = if track.elevated {
            let rear = Wheel { x: 388.0, y: FLOOR - 24.0, r: 24.0 };
            (Wheel { x: 52.0, ..rear }, Wheel { x: 300.0, y: 56.0, r: 30.0 }, Some(rear))
        } else {
            let sprocket = Wheel { x: 388.0, y: FLOOR - 34.0, r: 34.0 };
            (Wheel { x: 52.0, ..sprocket }, sprocket, None)
        };
        let [oval, elevated] = ROWS;
        let row = if track.elevated { elevated } else { oval };
        let (start, end) = top_run(idler, sprocket);
        let carriers = track.carriers.unwrap_or(0);
        let carrier = |share: f64| Wheel {
            x: start.0 + (end.0 - start.0) * share,
            y: start.1 + (end.1 - start.1) * share + ROLLERS.1,
            r: ROLLERS.1,
        };
        let along =
            |number: u32| Wheel { x: place(row, number, track.rollers), y: FLOOR - ROLLERS.0, r: ROLLERS.0 };
        Layout {
            idler,
            sprocket,
            rear_idler,
            rollers: (1..=track.rollers.min(MOST_ROLLERS)).map(along).collect(),
            carriers: (1..=carriers)
                .map(|number| carrier(f64::from(number) / f64::from(carriers + 1)))
                .collect(),
        }
    }

    /// Wheels that carry the chain round, against the clock from the front
    fn round(&self) -> Vec<Wheel> {
        let wheels = [Some(self.idler), Some(self.sprocket), self.rear_idler];
        wheels.into_iter().flatten().collect()
    }

    /// The wheel of a spot, where it has one
    fn wheel(&self, spot: &Spot) -> Option<Wheel> {
        match (spot.part.as_str(), spot.along) {
            ("idler", None) => Some(self.idler),
            ("sprocket", None) => Some(self.sprocket),
            ("rear_idler", None) => self.rear_idler,
            ("roller", Some(number)) => {
                self.rollers.get(usize::try_from(number).unwrap_or(usize::MAX).wrapping_sub(1)).copied()
            }
            _ => None,
        }
    }

    /// Where the number of a part without a wheel stands, and what its line leads to
    fn beside(&self, part: &str) -> Option<(Point, Option<Point>)> {
        let (start, end) = top_run(self.idler, self.sprocket);
        let above = |share: f64| {
            let at = (start.0 + (end.0 - start.0) * share, start.1 + (end.1 - start.1) * share);
            ((at.0, at.1 - CHAIN - RING - 8.0), Some((at.0, at.1 - CHAIN)))
        };
        let (left, right) = (self.idler.x, self.rear_idler.unwrap_or(self.sprocket).x);
        let on_frame = |share: f64| ((left + (right - left) * share, FRAME.0 + FRAME.1 / 2.0), None);
        Some(match part {
            "chain" => above(0.2),
            "shoe" => above(0.8),
            "carrier" => {
                let first = self.carriers.first()?;
                let share = (first.x - start.0) / (end.0 - start.0);
                above(share)
            }
            "adjuster" => on_frame(0.2),
            "bogie" => on_frame(0.36),
            "track_frame" => on_frame(0.5),
            "guard" => on_frame(0.64),
            "frame_rear" => on_frame(0.8),
            "final_drive" => {
                let hub = self.sprocket;
                ((hub.x + hub.r + 2.0, hub.y - hub.r - 10.0), Some((hub.x + 8.0, hub.y - 8.0)))
            }
            _ => return None,
        })
    }
}

/// Where number `number` of `count` stands in a row; a single one in its middle
fn place((from, to): (f64, f64), number: u32, count: u32) -> f64 {
    let count = count.min(MOST_ROLLERS);
    if count < 2 {
        (from + to) / 2.0
    } else {
        from + (to - from) * f64::from(number - 1) / f64::from(count - 1)
    }
}

/// The straight run of the chain over two wheels, along their inner side
fn top_run(from: Wheel, to: Wheel) -> ((f64, f64), (f64, f64)) {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let far = (dx * dx + dy * dy).sqrt().max(f64::EPSILON);
    let (ux, uy) = (dx / far, dy / far);
    let lean = (from.r - to.r) / far;
    let rise = (1.0 - lean * lean).max(0.0).sqrt();
    // On paper y runs downwards, so that up is against it.
    let (nx, ny) = (ux * lean + uy * rise, uy * lean - ux * rise);
    ((from.x + nx * from.r, from.y + ny * from.r), (to.x + nx * to.r, to.y + ny * to.r))
}

/// The drawing of one track
pub fn track(track: &Track) -> String {
    let layout = Layout::of(track);
    let paper = Paper { mirrored: track.side == "right" };
    let (width, height) = SIZE;
    let mut out = format!(
        "<svg class=\"track\" viewBox=\"0 0 {} {}\" role=\"img\">\n<title>{}</title>\n<desc>{}</desc>\n",
        length(width),
        length(height),
        escaped(&format!("The {} track from outside", track.side)),
        escaped(&described(track))
    );
    paper.way(&mut out);
    paper.frame(&mut out, &layout);
    paper.chain(&mut out, &layout);
    paper.wheels(&mut out, &layout);
    for spot in &track.spots {
        paper.spot(&mut out, &layout, spot);
    }
    out.push_str("</svg>\n");
    out
}

/// What is drawn, for who cannot see it
pub fn described(track: &Track) -> String {
    let rollers =
        several(usize::try_from(track.rollers).unwrap_or(usize::MAX), "bottom roller", "bottom rollers");
    let carriers = match track.carriers {
        None => String::new(),
        Some(0) => ", no carrier roller".to_owned(),
        Some(1) => ", one carrier roller".to_owned(),
        Some(count) => format!(", {count} carrier rollers"),
    };
    let ends = if track.elevated {
        "a front and a rear idler, the sprocket raised above the track frame"
    } else {
        "the idler at the front, the sprocket at the rear"
    };
    let front = if track.side == "right" { "right" } else { "left" };
    format!(
        "Its front is to the {front}: {ends}, {rollers}{carriers}. The numbers are those of the list that follows."
    )
}

/// The sheet a track is drawn on, turned about for the right-hand track
struct Paper {
    mirrored: bool,
}

impl Paper {
    fn x(&self, x: f64) -> f64 {
        if self.mirrored { SIZE.0 - x } else { x }
    }

    fn circle(&self, out: &mut String, class: &str, wheel: Wheel) {
        out.push_str(&format!(
            "<circle class=\"{class}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n",
            length(self.x(wheel.x)),
            length(wheel.y),
            length(wheel.r)
        ));
    }

    fn text(&self, out: &mut String, class: &str, (x, y): (f64, f64), words: &str) {
        out.push_str(&format!(
            "<text class=\"{class}\" x=\"{}\" y=\"{}\">{}</text>\n",
            length(self.x(x)),
            length(y),
            escaped(words)
        ));
    }

    /// Which way is forward
    fn way(&self, out: &mut String) {
        let (tip, tail) = (self.x(6.0), self.x(30.0));
        let back = if self.mirrored { -5.0 } else { 5.0 };
        out.push_str(&format!(
            "<path class=\"arrow\" d=\"M{1} 12H{0}M{2} 8L{0} 12L{2} 16\"/>\n",
            length(tip),
            length(tail),
            length(tip + back)
        ));
        let anchor = if self.mirrored { "end" } else { "start" };
        out.push_str(&format!(
            "<text class=\"way\" x=\"{}\" y=\"16\" text-anchor=\"{anchor}\">front</text>\n",
            length(self.x(36.0))
        ));
    }

    fn frame(&self, out: &mut String, layout: &Layout) {
        let (left, right) = (layout.idler.x, layout.rear_idler.unwrap_or(layout.sprocket).x);
        let x = self.x(left).min(self.x(right));
        out.push_str(&format!(
            "<rect class=\"frame\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"4\"/>\n",
            length(x),
            length(FRAME.0),
            length(right - left),
            length(FRAME.1)
        ));
    }

    /// The chain as a belt round its wheels
    fn chain(&self, out: &mut String, layout: &Layout) {
        let wheels: Vec<Wheel> =
            layout.round().into_iter().map(|wheel| Wheel { r: wheel.r + CHAIN / 2.0, ..wheel }).collect();
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
        }
        out.push_str(&format!(
            "<path class=\"chain\" d=\"{path}\"/>\n<path class=\"links\" d=\"{path}\"/>\n"
        ));
    }

    fn wheels(&self, out: &mut String, layout: &Layout) {
        self.circle(out, "wheel idler", layout.idler);
        if let Some(rear) = layout.rear_idler {
            self.circle(out, "wheel rear-idler", rear);
        }
        let sprocket = layout.sprocket;
        self.circle(out, "teeth", Wheel { r: sprocket.r - 2.0, ..sprocket });
        self.circle(out, "wheel sprocket", Wheel { r: sprocket.r - 4.0, ..sprocket });
        layout.rollers.iter().for_each(|roller| self.circle(out, "wheel roller", *roller));
        layout.carriers.iter().for_each(|carrier| self.circle(out, "wheel carrier", *carrier));
    }

    fn spot(&self, out: &mut String, layout: &Layout, spot: &Spot) {
        let percent = spot.percent().map(|percent| (percent, format!("{percent:.0} %")));
        if let Some(wheel) = layout.wheel(spot) {
            let large = wheel.r > 2.0 * RING;
            if let Some((percent, words)) = &percent {
                let rim = if spot.part == "sprocket" { 4.7 } else { 0.7 };
                self.level(out, Wheel { r: wheel.r - rim, ..wheel }, *percent);
                let under = if large { wheel.y + 16.0 } else { BENEATH + RING + 11.0 };
                self.text(out, "percent", (wheel.x, under), words);
            }
            let y = match (large, &percent) {
                (false, _) => BENEATH,
                (true, Some(_)) => wheel.y - 5.0,
                (true, None) => wheel.y,
            };
            self.ring(out, (wheel.x, y), spot.number);
            return;
        }
        let Some((at, leads_to)) = layout.beside(&spot.part) else { return };
        if let Some(end) = leads_to {
            out.push_str(&format!(
                "<path class=\"lead\" d=\"M{} {}L{} {}\"/>\n",
                length(self.x(at.0)),
                length(at.1),
                length(self.x(end.0)),
                length(end.1)
            ));
        }
        self.ring(out, at, spot.number);
        if let Some((percent, words)) = &percent {
            self.gauge(out, at, *percent, words);
        }
    }

    /// The number of a spot
    fn ring(&self, out: &mut String, (x, y): (f64, f64), number: usize) {
        self.circle(out, "ring", Wheel { x, y, r: RING });
        self.text(out, "number", (x, y + 3.6), &number.to_string());
    }

    /// A wheel filled from below as far as it is worn
    fn level(&self, out: &mut String, wheel: Wheel, percent: f64) {
        let share = (percent / 100.0).clamp(0.0, 1.0);
        if share >= 1.0 {
            self.circle(out, "worn", wheel);
            return;
        }
        let height = wheel.r - 2.0 * wheel.r * share;
        let half = (wheel.r * wheel.r - height * height).max(0.0).sqrt();
        let large = u8::from(share > 0.5);
        let (left, right) = (self.x(wheel.x) - half, self.x(wheel.x) + half);
        out.push_str(&format!(
            "<path class=\"worn\" d=\"M{} {3}A{2} {2} 0 {large} 0 {} {3}Z\"/>\n",
            length(left),
            length(right),
            length(wheel.r),
            length(wheel.y + height)
        ));
    }

    /// A bar beside a number, filled as far as the part is worn
    fn gauge(&self, out: &mut String, (x, y): (f64, f64), percent: f64, words: &str) {
        const WIDTH: f64 = 26.0;
        // Behind the number as the machine drives, where both kinds of track have room.
        let middle = self.x(x + RING + 4.0 + WIDTH / 2.0);
        let left = middle - WIDTH / 2.0;
        let filled = WIDTH * (percent / 100.0).clamp(0.0, 1.0);
        for (class, width) in [("gauge", WIDTH), ("worn", filled)] {
            out.push_str(&format!(
                "<rect class=\"{class}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"5\"/>\n",
                length(left),
                length(y + 2.0),
                length(width)
            ));
        }
        out.push_str(&format!(
            "<text class=\"percent\" x=\"{}\" y=\"{}\">{}</text>\n",
            length(middle),
            length(y - 1.0),
            escaped(words)
        ));
    }
}
