//! Where everything on a track stands.

use crate::invariant::Hold;
use crate::model::drawn::Drawn;
use crate::report::record::document::track::{Spot, Track};

/// Width of the drawing, in its own units
pub(super) const WIDTH: f64 = 440.0;
/// Height at which wheels and rollers touch the inner side of the chain below
pub(super) const FLOOR: f64 = 134.0;
/// Thickness of the chain with its shoes
pub(super) const CHAIN: f64 = 8.0;
/// Radius of a small wheel at the bottom, and of one at the top
pub(super) const SMALL: (f64, f64) = (12.0, 8.0);
/// Radius of a number's ring
pub(super) const RING: f64 = 11.0;
/// Room that a figure beneath a small wheel takes, and height of a line of such figures
pub(super) const FIGURE: (f64, f64) = (42.0, 14.0);
/// Room left beneath everything
pub(super) const MARGIN: f64 = 6.0;
/// Height that the sign for a whole row of small wheels takes, beneath all else
pub(super) const ROW_SIGN: f64 = 34.0;
/// Height of the numbers of small wheels, which would hide how far those are filled
pub(super) const BENEATH: f64 = FLOOR + CHAIN + RING + 4.0;
/// Where the bottom row stands from and to, between low wheels and beneath a raised one
pub(super) const ROWS: [(f64, f64); 2] = [(104.0, 336.0), (92.0, 348.0)];
/// Top and height of the frame
pub(super) const FRAME: (f64, f64) = (92.0, 15.0);
/// Where on the frame, as a share of its length from the front, a part stands of which the rules do not say where it is drawn,
/// such as the side as a whole
pub(super) const MIDDLE: f64 = 0.5;
/// Room that a number on the frame takes with the bar behind it, and the shares of the frame between which numbers stand
pub(super) const ROOM: (f64, [f64; 2]) = (58.0, [0.12, 0.88]);
/// Most small wheels that have room in a row
pub(super) const MOST_IN_A_ROW: u32 = 16;

/// A point of the drawing, from its left and top
pub(super) type Point = (f64, f64);

/// A wheel: where it stands, and its radius
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Wheel {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) r: f64,
}

/// Where everything on a track stands, its front to the left, whether or not the rules have it drawn
pub(super) struct Layout {
    pub(super) front: Wheel,
    pub(super) driven: Wheel,
    pub(super) rear: Option<Wheel>,
    pub(super) bottom: Vec<Wheel>,
    pub(super) top: Vec<Wheel>,
}

impl Layout {
    pub(super) fn of(track: &Track) -> Self {
        // A driven wheel between two others has room above the frame alone.
        let raised = track.raised || (track.front.is_some() && track.rear.is_some());
        let (front, driven, rear) = if raised {
            let rear = Wheel { x: 388.0, y: FLOOR - 24.0, r: 24.0 };
            (Wheel { x: 52.0, ..rear }, Wheel { x: 300.0, y: FLOOR - 70.0, r: 30.0 }, Some(rear))
        } else {
            let driven = Wheel { x: 388.0, y: FLOOR - 34.0, r: 34.0 };
            (Wheel { x: 52.0, ..driven }, driven, None)
        };
        let [low, beneath] = ROWS;
        let row = if raised { beneath } else { low };
        let (start, end) = top_run(front, driven);
        let above = |share: f64| Wheel {
            x: start.0 + (end.0 - start.0) * share,
            y: start.1 + (end.1 - start.1) * share + SMALL.1,
            r: SMALL.1,
        };
        let count = track.bottom.as_ref().map_or(0, |(_, count)| *count); // else: the rules have no such row
        let along = |number: u32| Wheel { x: place(row, number, count), y: FLOOR - SMALL.0, r: SMALL.0 };
        // else: nobody told how many, or the rules have no such row, and none is drawn
        let on_top = track.top.as_ref().and_then(|(_, count)| *count).unwrap_or(0).min(MOST_IN_A_ROW);
        Layout {
            front,
            driven,
            rear,
            bottom: (1..=count.min(MOST_IN_A_ROW)).map(along).collect(),
            top: (1..=on_top).map(|number| above(f64::from(number) / f64::from(on_top + 1))).collect(),
        }
    }

    /// Figures beneath the bottom row stand in two lines, since one has no room for them
    pub(super) fn rows_of_figures(&self) -> bool {
        let pairs = self.bottom.iter().zip(self.bottom.iter().skip(1));
        pairs.map(|(one, next)| next.x - one.x).any(|apart| apart < FIGURE.0)
    }

    /// Height that all takes but the sign for a whole row
    pub(super) fn height(&self, track: &Track) -> f64 {
        let beneath: Vec<&Spot> = track.spots.iter().filter(|spot| is_beneath(spot)).collect();
        let lines = match beneath.iter().any(|spot| spot.percent().is_some()) {
            false => 0.0,
            true if self.rows_of_figures() => 2.0,
            true => 1.0,
        };
        let numbers = if beneath.is_empty() { FLOOR + CHAIN } else { BENEATH + RING };
        numbers + lines * FIGURE.1 + MARGIN
    }

    /// Wheels that carry the chain round, against the clock from the front; none where there is nothing to run round
    pub(super) fn round(&self, track: &Track) -> Vec<Wheel> {
        if track.front.is_none() || track.driven.is_none() {
            return Vec::new();
        }
        [Some(self.front), Some(self.driven), self.rear].into_iter().flatten().collect()
    }

    /// The wheel of a spot, where it has one
    pub(super) fn wheel(&self, spot: &Spot) -> Option<Wheel> {
        match (spot.drawn?, spot.along) {
            (Drawn::FrontWheel, None) => Some(self.front),
            (Drawn::DriveWheel | Drawn::RaisedWheel, None) => Some(self.driven),
            (Drawn::RearWheel, None) => self.rear,
            (Drawn::BottomRow(_), Some(number)) => nth(&self.bottom, number),
            _ => None,
        }
    }

    /// Where the number of a part off the frame stands, and what its line leads to
    pub(super) fn beside(&self, spot: &Spot) -> Option<(Point, Point)> {
        let (start, end) = top_run(self.front, self.driven);
        let above = |share: f64| {
            let at = (start.0 + (end.0 - start.0) * share, start.1 + (end.1 - start.1) * share);
            ((at.0, at.1 - CHAIN - RING - 8.0), (at.0, at.1 - CHAIN))
        };
        Some(match spot.drawn? {
            Drawn::TopRun(share) => above(share),
            Drawn::TopRow(_) => {
                let own = nth(&self.top, spot.along.unwrap_or(1))?; // else: its number stands at the foremost
                above((own.x - start.0) / (end.0 - start.0))
            }
            Drawn::Hub => {
                let hub = self.driven;
                ((hub.x + hub.r + 2.0, hub.y - hub.r - 10.0), (hub.x + 8.0, hub.y - 8.0))
            }
            _ => return None,
        })
    }

    /// Where the frame begins and ends
    pub(super) fn frame(&self) -> (f64, f64) {
        (self.front.x, self.rear.unwrap_or(self.driven).x) // else: the driven wheel stands there
    }

    /// Where the numbers of these spots stand on the frame: each at its own place, or as near to it as there is room
    pub(super) fn on_frame(&self, spots: &[&Spot]) -> Vec<f64> {
        let (left, right) = self.frame();
        let (room, ends) = ROOM;
        let [first, last] = ends.map(|share| left + (right - left) * share);
        let share = |spot: &&Spot| match spot.drawn {
            Some(Drawn::Frame(share)) => share,
            _ => MIDDLE,
        };
        let gap = room.min((last - first) / spots.len() as f64);
        let mut order: Vec<usize> = (0..spots.len()).collect();
        let own: Vec<f64> = spots.iter().map(|spot| left + (right - left) * share(spot)).collect();
        let x = |number: &usize| *own.get(*number).hold("each spot has a place");
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

/// One of a row, counted from the front
pub(super) fn nth(row: &[Wheel], number: u32) -> Option<Wheel> {
    row.get((number as usize).wrapping_sub(1)).copied()
}

/// Where number `number` of `count` stands in a row; a single one in its middle
pub(super) fn place((from, to): (f64, f64), number: u32, count: u32) -> f64 {
    let count = count.min(MOST_IN_A_ROW);
    if count < 2 {
        (from + to) / 2.0
    } else {
        from + (to - from) * f64::from(number - 1) / f64::from(count - 1)
    }
}

/// The straight run of the chain over two wheels, along their inner side
pub(super) fn top_run(from: Wheel, to: Wheel) -> ((f64, f64), (f64, f64)) {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let far = (dx * dx + dy * dy).sqrt().max(f64::EPSILON);
    let (ux, uy) = (dx / far, dy / far);
    let lean = (from.r - to.r) / far;
    let rise = (1.0 - lean * lean).max(0.0).sqrt();
    // On paper y runs downwards, so that up is against it.
    let (nx, ny) = (ux * lean + uy * rise, uy * lean - ux * rise);
    ((from.x + nx * from.r, from.y + ny * from.r), (to.x + nx * to.r, to.y + ny * to.r))
}

/// True for what was found on the bottom row of a side together
pub(super) fn is_row(spot: &Spot) -> bool {
    matches!(spot.drawn, Some(Drawn::BottomRow(_))) && spot.along.is_none()
}

/// True for what was found on one of the bottom row
pub(super) fn is_beneath(spot: &Spot) -> bool {
    matches!(spot.drawn, Some(Drawn::BottomRow(_))) && spot.along.is_some()
}
