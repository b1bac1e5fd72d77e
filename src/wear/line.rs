//! A straight line through readings of known error, and when it reaches a level.
//!
//! Weighted least squares with weights 1/σ² (any textbook of regression). The errors are those of the instruments as long
//! as the readings lie about the line as such errors would have them; where they scatter significantly more, the scatter
//! itself gives the errors, with Student's t for the quantiles.
//!
//! Hours left of a part are where a reading would meet the limit: the interval of a line is that of one more reading, and its
//! ends come from one quadratic equation. The errors are those of the instruments unless readings scatter clearly more (chi
//! square, one in twenty); then the scatter counts, with Student's t. A slope that may be none has no upper end. Readers are
//! told one span, nine of ten (`nine_of_ten`), of readings, hours and pictures alike; JSON has the standard error besides.

use statrs::distribution::{ChiSquared, ContinuousCDF, Normal, StudentsT};

/// Share of draws in which readings without more scatter than their errors would be taken to have it
const REFUTED_AT: f64 = 0.05;
/// Each end of an interval leaves out this share
pub const OUTSIDE: f64 = 0.05;

/// Half of the interval that holds nine of ten figures whose standard error is `sigma`
pub fn nine_of_ten(sigma: f64) -> f64 {
    Normal::standard().inverse_cdf(1.0 - OUTSIDE) * sigma
}

/// One reading on the line
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Hours
    pub hours: f64,
    /// What was read
    pub value: f64,
    /// Standard error of it, not negative
    pub sigma: f64,
}

/// A straight line with the errors it carries
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Hours at which `level` is taken: those of the last reading
    pub from: f64,
    /// Value there
    pub level: f64,
    /// Change for each hour
    pub slope: f64,
    /// Where the errors come from
    pub errors: Errors,
    /// Variance of the level, covariance of level and slope, variance of the slope
    variances: [f64; 3],
}

/// Where the errors of a line come from
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Errors {
    /// From the errors of the readings themselves
    Readings,
    /// From the scatter about the line, which is more than those explain
    Scatter {
        /// Readings less the two figures of the line
        degrees: f64,
        /// How many times the variance of the readings the scatter is
        ratio: f64,
    },
}

/// When a line reaches a level, in hours
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// Where the line itself does
    pub hours: f64,
    /// Where a reading may, with one chance in twenty that it does before
    pub lower: f64,
    /// Where a reading may, with one chance in twenty that it does later; none where no end can be told
    pub upper: Option<f64>,
}

impl Line {
    /// The line through two readings, with their errors; none when both were taken at the same hours
    pub fn through(first: Point, last: Point) -> Option<Line> {
        let span = last.hours - first.hours;
        let slope = (last.value - first.value) / span;
        let (of_first, of_last) = (first.sigma * first.sigma, last.sigma * last.sigma);
        let line = Line {
            from: last.hours,
            level: last.value,
            slope,
            errors: Errors::Readings,
            variances: [of_last, of_last / span, (of_first + of_last) / (span * span)],
        };
        (span > 0.0 && line.is_finite()).then_some(line)
    }

    /// A line whose level and slope are told with what each source of error does to both, one standard error of it
    pub fn drawn(from: f64, level: f64, slope: f64, sources: &[(f64, f64)]) -> Option<Line> {
        let total =
            |of: &dyn Fn(f64, f64) -> f64| sum(sources.iter().map(|&(level, slope)| of(level, slope)));
        let variances = [
            total(&|level, _| level * level),
            total(&|level, slope| level * slope),
            total(&|_, slope| slope * slope),
        ];
        let line = Line { from, level, slope, errors: Errors::Readings, variances };
        line.is_finite().then_some(line)
    }

    /// The line nearest to three readings or more, whatever their order; none when fewer were taken at different hours,
    /// or one of them has no error
    pub fn nearest(points: &[Point]) -> Option<Line> {
        if points.len() < 3 || points.iter().any(|point| point.sigma <= 0.0) {
            return None;
        }
        let weight = |point: &Point| 1.0 / (point.sigma * point.sigma);
        let total = |of: &dyn Fn(&Point) -> f64| sum(points.iter().map(|point| weight(point) * of(point)));
        let mass = total(&|_| 1.0);
        let middle = total(&|point| point.hours) / mass;
        let height = total(&|point| point.value) / mass;
        let across = total(&|point| (point.hours - middle) * (point.hours - middle));
        let slope = total(&|point| (point.hours - middle) * (point.value - height)) / across;
        let off = |point: &Point| point.value - height - slope * (point.hours - middle);
        let scatter = total(&|point| off(point) * off(point));
        let errors = errors(points.len(), scatter);
        let ratio = match errors {
            Errors::Readings => 1.0,
            Errors::Scatter { ratio, .. } => ratio,
        };
        let from = points.iter().map(|point| point.hours).fold(f64::NEG_INFINITY, f64::max);
        let past = from - middle;
        let (of_height, of_slope) = (ratio / mass, ratio / across);
        let line = Line {
            from,
            level: height + slope * past,
            slope,
            errors,
            variances: [of_height + past * past * of_slope, past * of_slope, of_slope],
        };
        (across > 0.0 && line.is_finite()).then_some(line)
    }

    /// Value at some hours
    pub fn at(&self, hours: f64) -> f64 {
        self.level + self.slope * (hours - self.from)
    }

    /// Standard error of the line at some hours
    pub fn sigma_at(&self, hours: f64) -> f64 {
        let past = hours - self.from;
        let [level, both, slope] = self.variances;
        libm::sqrt((level + 2.0 * both * past + slope * past * past).max(0.0))
    }

    /// Standard error of the slope
    pub fn slope_sigma(&self) -> f64 {
        libm::sqrt(self.variances[2])
    }

    /// Least and most that a reading with the error `sigma` would give at some hours, one chance in twenty outside at
    /// each end
    pub fn interval(&self, hours: f64, sigma: f64) -> (f64, f64) {
        let own = self.sigma_at(hours);
        let half = self.quantile() * libm::sqrt(own * own + self.reading(sigma));
        (self.at(hours) - half, self.at(hours) + half)
    }

    /// When a reading with the error `sigma` reaches a level that lies above the line now, and the line rises to it;
    /// none for a line that does not rise
    ///
    /// The ends are where the level lies on the edge of [`Line::interval`], by one quadratic equation.
    pub fn reaches(&self, level: f64, sigma: f64) -> Option<Reached> {
        if self.slope <= 0.0 {
            return None;
        }
        let square = self.quantile() * self.quantile();
        let [of_level, both, of_slope] = self.variances;
        let short = self.level - level;
        let a = self.slope * self.slope - square * of_slope;
        let b = 2.0 * (self.slope * short - square * both);
        let c = short * short - square * (of_level + self.reading(sigma));
        let hours = self.from - short / self.slope;
        let (lower, upper) = match roots(a, b, c) {
            Some((least, most)) if a > 0.0 => (self.from + least, Some(self.from + most)),
            // The upper edge rises to the level, the lower one never does.
            Some((_, most)) if c > 0.0 => (self.from + most, None),
            // The level lies between the edges already.
            _ => (self.from, None),
        };
        hours.is_finite().then_some(Reached { hours, lower: lower.min(hours), upper })
    }

    /// How many standard errors an interval goes to each side
    pub fn quantile(&self) -> f64 {
        let normal = || nine_of_ten(1.0);
        match self.errors {
            Errors::Readings => normal(),
            Errors::Scatter { degrees, .. } => StudentsT::new(0.0, 1.0, degrees)
                .map_or_else(|_| normal(), |law| law.inverse_cdf(1.0 - OUTSIDE)),
        }
    }

    /// Variance of one more reading with the error `sigma`
    fn reading(&self, sigma: f64) -> f64 {
        match self.errors {
            Errors::Readings => sigma * sigma,
            Errors::Scatter { ratio, .. } => ratio * sigma * sigma,
        }
    }

    fn is_finite(&self) -> bool {
        [self.from, self.level, self.slope].iter().chain(&self.variances).all(|figure| figure.is_finite())
    }
}

/// Where the errors of so many readings come from, by the sum of the squares of how many standard errors each lies off
fn errors(count: usize, scatter: f64) -> Errors {
    let degrees = count.saturating_sub(2) as f64;
    let most = ChiSquared::new(degrees).map_or(f64::INFINITY, |law| law.inverse_cdf(1.0 - REFUTED_AT));
    if scatter > most { Errors::Scatter { degrees, ratio: scatter / degrees } } else { Errors::Readings }
}

/// Both real solutions of a x² + b x + c = 0, the smaller first, without loss of figures; the one solution twice where a is 0
fn roots(a: f64, b: f64, c: f64) -> Option<(f64, f64)> {
    let under = b * b - 4.0 * a * c;
    // Rounding may leave a whisker under nothing where both ends meet.
    let root = if under < 0.0 && under > -1e-12 * b * b { 0.0 } else { libm::sqrt(under) };
    let q = -0.5 * (b + if b < 0.0 { -root } else { root });
    let (first, second) = (c / q, if a == 0.0 { c / q } else { q / a });
    (first.is_finite() && second.is_finite()).then_some((first.min(second), first.max(second)))
}

/// A sum that hangs on the order of its terms only in the last figures
fn sum(terms: impl Iterator<Item = f64>) -> f64 {
    let (total, rest) = terms.fold((0.0, 0.0), |(total, rest): (f64, f64), term| {
        let next = total + term;
        let lost = if total.abs() >= term.abs() { (total - next) + term } else { (term - next) + total };
        (next, rest + lost)
    });
    total + rest
}
