//! How fast a part wears, by each way there is to tell, and how many hours that leaves.
//!
//! The new part is a reading too: 0 % at 0 hours, as sure as its tolerance and no surer than the surest reading. The tolerance
//! of the new size belongs to the start alone: where a part stands against its limit, only its reading is in doubt.

use super::estimate::Evaluator;
use super::history::{CLEARLY, History, Taken};
use super::line::{Line, Point, Reached, nine_of_ten};
use serde::Serialize;

/// How fast a part wears, by each way there is to tell; each in per cent over hours
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rates {
    /// From new to the last reading
    pub from_new: Option<Line>,
    /// Between the last two readings
    pub last_two: Option<Line>,
    /// By all readings and the new part, weighted by their errors
    pub all: Option<Line>,
    /// The usual life on such ground
    pub usual: Option<Usual>,
    /// How the last two readings differ from what went before; none where they do not clearly
    pub change: Option<Change>,
}

/// The life that rules give for the size class and the ground
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Usual {
    /// Hours to 100 %
    pub life: f64,
    /// Standard deviation of it between machines, from 0 to 1
    pub spread: f64,
}

/// A pace that has clearly changed
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Change {
    /// Pace between the last two readings over that from new
    pub times: f64,
    /// How many standard errors the two lie apart, negative when it slowed down
    pub errors: f64,
}

/// What hours left are reckoned from
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum By {
    /// The wear from new to the last reading
    FromNew,
    /// The wear between the last two readings
    LastTwo,
    /// The line nearest to all readings
    All,
    /// The usual life on such ground
    Usual,
}

/// Hours to go, counted from the last visit
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Left {
    /// Hours; 0 when it is there already
    pub hours: f64,
    /// One chance in twenty that it is sooner
    pub lower: f64,
    /// One chance in twenty that it is later; none where no end can be told
    pub upper: Option<f64>,
}

/// One place of the line that lies ahead
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ahead {
    /// Hours, as the history counts them
    pub hours: f64,
    /// Per cent expected
    pub percent: f64,
    /// One chance in twenty that a reading gives less
    pub lower: f64,
    /// One chance in twenty that it gives more
    pub upper: f64,
}

/// How many places of a line ahead are shown
const STEPS: u32 = 12;

/// The readings as points of a line, the new part first where it is known when it was new
///
/// The new part counts as a reading: as sure as its tolerance, and no surer than the surest reading.
pub fn points(history: &History) -> Vec<Point> {
    let surest = history.points.iter().map(|taken| taken.error).fold(f64::INFINITY, f64::min);
    let start = history.since.map(|since| Point { hours: 0.0, value: 0.0, sigma: since.error.max(surest) });
    start.into_iter().chain(history.points.iter().filter_map(point)).collect()
}

fn point(taken: &Taken) -> Option<Point> {
    Some(Point { hours: taken.hours?, value: taken.percent, sigma: taken.error })
}

/// All the rates of a history; none of its own while there is a doubt about it
pub fn rates(evaluator: &Evaluator<'_>, history: &History) -> Rates {
    let usual = evaluator.usual(history.measure, &history.place);
    if !history.doubts.is_empty() {
        return Rates { usual, ..Rates::default() };
    }
    let read: Vec<Point> = history.points.iter().filter_map(point).collect();
    let start = history.since.map(|since| Point { hours: 0.0, value: 0.0, sigma: since.error });
    let last = read.last().copied();
    let before = read.len().checked_sub(2).and_then(|number| read.get(number)).copied();
    let between = |first: Option<Point>| first.zip(last).and_then(|(first, last)| Line::through(first, last));
    Rates {
        from_new: between(start),
        last_two: between(before),
        all: Line::nearest(&points(history)),
        usual,
        change: start.zip(before).zip(last).and_then(|((start, before), last)| change(start, before, last)),
    }
}

/// Whether the pace between the last two readings clearly differs from that from new; both share the last reading
fn change(start: Point, before: Point, last: Point) -> Option<Change> {
    let (whole, late) = (last.hours - start.hours, last.hours - before.hours);
    if whole <= 0.0 || late <= 0.0 || before.hours <= start.hours {
        return None;
    }
    let (from_new, last_two) = ((last.value - start.value) / whole, (last.value - before.value) / late);
    let shares = [start.sigma / whole, before.sigma / late, last.sigma * (1.0 / late - 1.0 / whole)];
    let sigma = libm::sqrt(shares.iter().map(|share| share * share).sum());
    let errors = (last_two - from_new) / sigma;
    let clear = from_new > 0.0 && errors.abs() >= CLEARLY;
    clear.then_some(Change { times: last_two / from_new, errors })
}

impl Left {
    /// From `now` until a level is reached; nothing where a reading is at it already
    pub fn until(reached: &Reached, now: f64, there: bool) -> Left {
        let left = |hours: f64| (hours - now).max(0.0);
        let hours = if there { 0.0 } else { left(reached.hours) };
        let lower = left(reached.lower).min(hours);
        Left { hours, lower, upper: reached.upper.map(|upper| left(upper).max(hours)) }
    }
}

impl Rates {
    /// What hours left are best reckoned from: the pace of late where it has clearly changed, else all readings, else what
    /// there is; the usual life while the part is `young`, or by its readings does not wear
    pub fn best(&self, young: bool) -> Option<By> {
        if young && self.usual.is_some() {
            return Some(By::Usual);
        }
        let late = [By::LastTwo, By::All, By::FromNew];
        let whole = [By::All, By::LastTwo, By::FromNew];
        let order = if self.change.is_some() { late } else { whole };
        let rises = |by: &By| self.line(*by).is_some_and(|line| line.slope > 0.0);
        order.into_iter().find(rises).or(self.usual.map(|_| By::Usual))
    }

    /// The line of one of the part's own paces
    pub fn line(&self, by: By) -> Option<&Line> {
        match by {
            By::FromNew => self.from_new.as_ref(),
            By::LastTwo => self.last_two.as_ref(),
            By::All => self.all.as_ref(),
            By::Usual => None,
        }
    }

    /// Hours from the last visit until a per cent is reached, by one of the ways
    pub fn left(&self, by: By, history: &History, percent: f64) -> Option<Left> {
        let last = history.points.last()?;
        match self.line(by) {
            Some(line) => {
                let reached = line.reaches(percent, last.error)?;
                Some(Left::until(&reached, history.now?, last.percent >= percent))
            }
            None if by == By::Usual => {
                let (per_cent, sigma) = (self.usual?.life / 100.0, self.usual?.spread);
                let run = history.now.zip(last.hours).map_or(0.0, |(now, then)| now - then);
                let hours = ((percent - last.percent) * per_cent - run).max(0.0);
                let half = nine_of_ten(libm::hypot(
                    per_cent * last.sigma,
                    (percent - last.percent) * per_cent * sigma,
                ));
                Some(Left { hours, lower: (hours - half).max(0.0), upper: Some(hours + half) })
            }
            None => None,
        }
    }

    /// The line ahead by one of the ways, from the last reading to the far end of the hours left until `percent`, or twice as
    /// far as the line itself takes where there is none, and no farther than `longest` hours unless the line does; empty when
    /// it is there
    pub fn ahead(&self, by: By, history: &History, percent: f64, longest: Option<f64>) -> Vec<Ahead> {
        let Some((last, from)) = history.points.last().and_then(|last| Some((last, last.hours?))) else {
            return Vec::new();
        };
        let usual = self.usual.filter(|_| by == By::Usual);
        let line = self.line(by);
        let left = self.left(by, history, percent).filter(|left| left.hours > 0.0);
        let end = left.zip(history.now).map(|(left, now)| {
            let far = left.upper.unwrap_or(2.0 * left.hours); // else: nobody knows how long at most: as far again
            now + longest.map_or(far, |longest| far.min(longest)).max(left.hours)
        });
        let Some(end) = end.filter(|end| *end > from) else { return Vec::new() };
        let steps = (0..=STEPS).map(|step| from + (end - from) * f64::from(step) / f64::from(STEPS));
        steps
            .filter_map(|hours| match (line, usual) {
                (Some(line), _) => {
                    let (lower, upper) = line.interval(hours, last.error);
                    Some(Ahead { hours, percent: line.at(hours), lower, upper })
                }
                (None, Some(usual)) => {
                    let gained = (hours - from) / usual.life * 100.0;
                    let half = nine_of_ten(libm::hypot(last.sigma, gained * usual.spread));
                    let percent = last.percent + gained;
                    Some(Ahead { hours, percent, lower: percent - half, upper: percent + half })
                }
                (None, None) => None,
            })
            .collect()
    }
}
