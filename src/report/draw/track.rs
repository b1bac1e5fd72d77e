//! A track from the side, drawn from the machine's facts, with a number at every place where something was found or read.

use crate::invariant::Hold;
use crate::report::draw::picture::{escaped, length};
use crate::report::record::document::track::{ROLLER, Spot, Track};
use crate::report::words::several;

/// Width of the drawing, in its own units
const WIDTH: f64 = 440.0;
/// Height at which wheels and rollers touch the inner side of the chain below
const FLOOR: f64 = 134.0;
/// Thickness of the chain with its shoes
const CHAIN: f64 = 8.0;
/// Radius of a bottom roller, and of a carrier roller
const ROLLERS: (f64, f64) = (12.0, 8.0);
/// Radius of a number's ring
const RING: f64 = 11.0;
/// Room that a figure beneath a roller takes, and height of a line of such figures
const FIGURE: (f64, f64) = (42.0, 14.0);
/// Room left beneath everything
const MARGIN: f64 = 6.0;
/// Height that the sign for a whole row of rollers takes, beneath all else
const ROW_SIGN: f64 = 34.0;
/// Height of the numbers of bottom rollers, which would hide how far those are filled
const BENEATH: f64 = FLOOR + CHAIN + RING + 4.0;
/// Where bottom rollers stand from and to, on an oval track and on one with a raised sprocket
const ROWS: [(f64, f64); 2] = [(104.0, 336.0), (92.0, 348.0)];
/// Top and height of the track frame
const FRAME: (f64, f64) = (92.0, 15.0);
/// Where parts on the track frame stand, by name, as a share of its length from the front; what is not named here, such
/// as the side as a whole, stands in its middle
const ON_FRAME: [(&str, f64); 6] = [
    ("adjuster", 0.2),
    ("bogie", 0.36),
    ("track_frame", 0.5),
    ("equalizer_bar", 0.58),
    ("guard", 0.64),
    ("frame_rear", 0.8),
];
/// Room that a number on the frame takes with the bar behind it, and the shares of the frame between which numbers stand
const ROOM: (f64, [f64; 2]) = (58.0, [0.12, 0.88]);
/// Most rollers that have room in a row
const MOST_ROLLERS: u32 = 16;

/// Looks of a track; nothing but shades of ink, and numbers that lead to the list beneath
pub const STYLE: &str = "\
.track text{font-family:system-ui,'DejaVu Sans',Verdana,sans-serif;font-size:11px;fill:var(--ink,#1b1f24)}\
.track .chain{fill:none;stroke:var(--line,#b9c0c8);stroke-width:8}\
.track .links{fill:none;stroke:var(--paper,#fff);stroke-width:8;stroke-dasharray:1.2 9}\
.track .frame{fill:var(--fill,#edf0f3);stroke:var(--line,#b9c0c8)}\
.track .wheel{fill:var(--paper,#fff);stroke:var(--soft,#4d5661);stroke-width:1.4}\
.track .teeth{fill:none;stroke:var(--soft,#4d5661);stroke-width:5;stroke-dasharray:4 4.4}\
.track .worn{fill:var(--line,#b9c0c8)}\
.track .gauge{fill:var(--paper,#fff);stroke:var(--soft,#4d5661)}\
.track .ring{fill:var(--paper,#fff);stroke:var(--ink,#1b1f24);stroke-width:1.2}\
.track .number{font-weight:bold;text-anchor:middle}\
.track .percent{text-anchor:middle}\
.track .lead{fill:none;stroke:var(--soft,#4d5661)}\
.track .way{fill:var(--soft,#4d5661)}\
.track .arrow{fill:none;stroke:var(--soft,#4d5661);stroke-width:1.4}\
@media screen and (max-width:34rem){.track text{font-size:14px}}";

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
            (Wheel { x: 52.0, ..rear }, Wheel { x: 300.0, y: FLOOR - 70.0, r: 30.0 }, Some(rear))
        } else {
            let sprocket = Wheel { x: 388.0, y: FLOOR - 34.0, r: 34.0 };
            (Wheel { x: 52.0, ..sprocket }, sprocket, None)
        };
        let [oval, elevated] = ROWS;
        let row = if track.elevated { elevated } else { oval };
        let (start, end) = top_run(idler, sprocket);
        let carriers = track.carriers.unwrap_or(0); // else: nobody told how many, and none is drawn
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

    /// Figures beneath rollers stand in two lines, since one has no room for them
    fn rows_of_figures(&self) -> bool {
        let pairs = self.rollers.iter().zip(self.rollers.iter().skip(1));
        pairs.map(|(one, next)| next.x - one.x).any(|apart| apart < FIGURE.0)
    }

    /// Height that all takes but the sign for a whole row of rollers
    fn height(&self, track: &Track) -> f64 {
        let beneath: Vec<&Spot> = track.spots.iter().filter(|spot| spot.along.is_some()).collect();
        let lines = match beneath.iter().any(|spot| spot.percent().is_some()) {
            false => 0.0,
            true if self.rows_of_figures() => 2.0,
            true => 1.0,
        };
        let numbers = if beneath.is_empty() { FLOOR + CHAIN } else { BENEATH + RING };
        numbers + lines * FIGURE.1 + MARGIN
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
            (ROLLER, Some(number)) => self.rollers.get((number as usize).wrapping_sub(1)).copied(),
            _ => None,
        }
    }

    /// Where the number of a part off the track frame stands, and what its line leads to
    fn beside(&self, part: &str) -> Option<(Point, Point)> {
        let (start, end) = top_run(self.idler, self.sprocket);
        let above = |share: f64| {
            let at = (start.0 + (end.0 - start.0) * share, start.1 + (end.1 - start.1) * share);
            ((at.0, at.1 - CHAIN - RING - 8.0), (at.0, at.1 - CHAIN))
        };
        Some(match part {
            "chain" => above(0.2),
            "shoe" => above(0.8),
            "carrier" => {
                let first = self.carriers.first()?;
                let share = (first.x - start.0) / (end.0 - start.0);
                above(share)
            }
            "final_drive" => {
                let hub = self.sprocket;
                ((hub.x + hub.r + 2.0, hub.y - hub.r - 10.0), (hub.x + 8.0, hub.y - 8.0))
            }
            _ => return None,
        })
    }

    /// Where the track frame begins and ends
    fn frame(&self) -> (f64, f64) {
        (self.idler.x, self.rear_idler.unwrap_or(self.sprocket).x) // else: the sprocket stands there
    }

    /// Where the numbers of these parts stand on the track frame: each at its own place, or as near to it as there is room
    fn on_frame(&self, parts: &[&str]) -> Vec<f64> {
        let (left, right) = self.frame();
        let (room, ends) = ROOM;
        let [first, last] = ends.map(|share| left + (right - left) * share);
        let share =
            |part: &&str| ON_FRAME.iter().find(|(name, _)| name == part).map_or(0.5, |(_, share)| *share);
        let gap = room.min((last - first) / parts.len() as f64);
        let mut order: Vec<usize> = (0..parts.len()).collect();
        let own: Vec<f64> = parts.iter().map(|part| left + (right - left) * share(part)).collect();
        let x = |number: &usize| *own.get(*number).hold("each part has a place");
        order.sort_by(|a, b| x(a).total_cmp(&x(b)));
        let mut at = own.clone();
        let mut least = first;
        for number in &order {
            if let Some(x) = at.get_mut(*number) {
                *x = x.max(least);
                least = *x + gap;
            }
        }
        let mut most = last;
        for number in order.iter().rev() {
            if let Some(x) = at.get_mut(*number) {
                *x = x.min(most);
                most = *x - gap;
            }
        }
        at
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
    let height = layout.height(track);
    let sign = track.spots.iter().find(|spot| is_row(spot)).filter(|_| !layout.rollers.is_empty());
    let mut out = format!(
        "<svg class=\"track\" viewBox=\"0 0 {} {}\" role=\"img\">\n<title>{}</title>\n<desc>{}</desc>\n",
        length(WIDTH),
        length(height + sign.map_or(0.0, |_| ROW_SIGN)),
        escaped(&format!("The {} track from outside", track.side)),
        escaped(&described(track))
    );
    paper.way(&mut out);
    paper.frame(&mut out, &layout);
    paper.chain(&mut out, &layout);
    paper.wheels(&mut out, &layout);
    let mut on_frame = Vec::new();
    for spot in &track.spots {
        if let Some(wheel) = layout.wheel(spot) {
            paper.on_wheel(&mut out, &layout, wheel, spot);
        } else if let Some((at, leads_to)) = layout.beside(&spot.part) {
            paper.beside(&mut out, at, Some(leads_to), spot);
        } else if sign.is_some_and(|sign| std::ptr::eq(sign, spot)) {
            paper.row(&mut out, &layout, height, spot);
        } else {
            on_frame.push(spot);
        }
    }
    let parts: Vec<&str> = on_frame.iter().map(|spot| spot.part.as_str()).collect();
    for (x, spot) in layout.on_frame(&parts).into_iter().zip(on_frame) {
        paper.beside(&mut out, (x, FRAME.0 + FRAME.1 / 2.0), None, spot);
    }
    out.push_str("</svg>\n");
    out
}

/// True for what was found on the bottom rollers of a side together
fn is_row(spot: &Spot) -> bool {
    spot.part == ROLLER && spot.along.is_none()
}

/// What is drawn, for who cannot see it
pub fn described(track: &Track) -> String {
    let rollers = several(track.rollers as usize, "bottom roller", "bottom rollers");
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
        if self.mirrored { WIDTH - x } else { x }
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
        let (left, right) = layout.frame();
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

    /// A spot whose part is a wheel
    fn on_wheel(&self, out: &mut String, layout: &Layout, wheel: Wheel, spot: &Spot) {
        let large = wheel.r > 2.0 * RING;
        let percent = spot.percent();
        if let Some(percent) = percent {
            let rim = if spot.part == "sprocket" { 4.7 } else { 0.7 };
            self.level(out, Wheel { r: wheel.r - rim, ..wheel }, percent);
            let second = spot.along.is_some_and(|along| along % 2 == 0) && layout.rows_of_figures();
            let beneath = BENEATH + RING + FIGURE.1 + if second { FIGURE.1 } else { 0.0 };
            let under = if large { wheel.y + 18.0 } else { beneath };
            self.text(out, "percent", (wheel.x, under), &format!("{percent:.0} %"));
        }
        let y = match (large, percent) {
            (false, _) => BENEATH,
            (true, Some(_)) => wheel.y - 5.0,
            (true, None) => wheel.y,
        };
        self.ring(out, (wheel.x, y), spot.number);
    }

    /// A spot beside or on the track, with a line to what it belongs to
    fn beside(&self, out: &mut String, at: Point, leads_to: Option<Point>, spot: &Spot) {
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
        if let Some(percent) = spot.percent() {
            self.gauge(out, at, percent, &format!("{percent:.0} %"));
        }
    }

    /// A bracket beneath all bottom rollers, for what was found on the row of them
    fn row(&self, out: &mut String, layout: &Layout, top: f64, spot: &Spot) {
        let xs = || layout.rollers.iter().map(|roller| self.x(roller.x));
        let (left, right) = (xs().fold(f64::INFINITY, f64::min), xs().fold(f64::NEG_INFINITY, f64::max));
        let middle = self.x(f64::midpoint(left, right));
        let foot = top + 8.0;
        let [left, right, from, to] = [left - ROLLERS.0, right + ROLLERS.0, top, foot].map(length);
        out.push_str(&format!("<path class=\"lead\" d=\"M{left} {from}V{to}H{right}V{from}\"/>\n"));
        self.beside(out, (middle, foot + RING + 2.0), None, spot);
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
        const WIDTH: f64 = 36.0;
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

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    fn spot(number: usize, part: &str, along: Option<u32>) -> Spot {
        Spot {
            number,
            part: part.to_owned(),
            label: part.to_owned(),
            along,
            findings: Vec::new(),
            wear: Vec::new(),
        }
    }

    /// A number that leads to the list beneath is drawn once, whatever it was found on
    #[rstest]
    #[case("left", false, Some(2))]
    #[case("right", true, Some(1))]
    #[case("right", false, None)]
    #[case("left", true, Some(0))]
    fn every_spot_has_its_number_apart_from_all_others(
        #[case] side: &'static str,
        #[case] elevated: bool,
        #[case] carriers: Option<u32>,
    ) {
        let parts = [
            "chain",
            "idler",
            "sprocket",
            "roller",
            "adjuster",
            "final_drive",
            "track_frame",
            "frame_rear",
            "equalizer_bar",
            "carrier",
            "rear_idler",
            "bogie",
            "guard",
            "shoe",
            "unheard_of",
            "",
        ];
        let whole = parts.iter().map(|part| (*part, None));
        let all = whole.chain((1..=9).map(|number| (ROLLER, Some(number))));
        let spots: Vec<Spot> =
            (1..).zip(all).map(|(number, (part, along))| spot(number, part, along)).collect();
        let drawn =
            track(&Track { side, elevated, rollers: 9, carriers, layout_told: true, looked: true, spots });
        let document = roxmltree::Document::parse(&drawn).unwrap();
        let numbers = document.descendants().filter(|node| node.attribute("class") == Some("number"));
        let mut numbers: Vec<usize> = numbers.map(|node| node.text().unwrap().parse().unwrap()).collect();
        numbers.sort_unstable();
        assert_eq!(numbers, (1..=parts.len() + 9).collect::<Vec<_>>());
        let rings: Vec<Point> = document
            .descendants()
            .filter(|node| node.attribute("class") == Some("ring"))
            .map(|node| ["cx", "cy"].map(|name| node.attribute(name).unwrap().parse().unwrap()))
            .map(|[x, y]: [f64; 2]| (x, y))
            .collect();
        for (number, one) in rings.iter().enumerate() {
            for other in &rings[number + 1..] {
                let far = (one.0 - other.0).hypot(one.1 - other.1);
                assert!(far > 2.0 * RING, "{one:?} and {other:?} lie on each other");
            }
        }
    }

    #[test]
    fn parts_on_the_frame_stand_at_their_own_place_where_there_is_room() {
        let oval = Track {
            side: "left",
            elevated: false,
            rollers: 7,
            carriers: None,
            layout_told: true,
            looked: true,
            spots: Vec::new(),
        };
        let layout = Layout::of(&oval);
        let (left, right) = layout.frame();
        let alone = layout.on_frame(&["adjuster"]);
        assert_eq!(alone, [left + 0.2 * (right - left)]);
        let three = layout.on_frame(&["equalizer_bar", "", "track_frame"]);
        assert!(three[1] + ROOM.0 <= three[0] + 1e-9 || three[2] + ROOM.0 <= three[0] + 1e-9, "{three:?}");
        assert!(three.iter().all(|x| (left..=right).contains(x)));
    }
}
