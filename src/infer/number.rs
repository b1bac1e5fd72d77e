//! Numbers the passes run on: plain doubles, and doubles with an exponent of their own for evidence
//! that leaves the range of a double

use std::cmp::Ordering;
use std::f64::consts::LN_2;

/// Sums within these exponents of two are left as they are
const UNSCALED: i64 = 64;

/// What the passes need of a number; all values are non-negative
pub(crate) trait Number: Copy {
    /// Nought
    const ZERO: Self;
    /// One
    const ONE: Self;

    /// The number nearest to a double
    fn of(value: f64) -> Self;

    /// Product; `lost` becomes true when it fell out of range, so that the figure is worthless
    fn times(self, other: Self, lost: &mut bool) -> Self;

    /// Sum
    fn plus(self, other: Self) -> Self;

    /// The larger of two
    fn larger(self, other: Self) -> Self;

    /// Quotient, nought over anything being nought
    fn over(self, other: Self) -> Self;

    /// Takes a power of two out of a table and its row sums where the largest sum is far from 1, and
    /// gives its exponent; `lost` as in [`times`](Number::times)
    fn rescale(table: &mut [Self], sums: &mut [Self], lost: &mut bool) -> i64;

    /// The same value with a wide exponent
    fn wide(self) -> Wide;

    /// The nearest double, nought where it is too small for one
    fn narrow(self) -> f64;
}

impl Number for f64 {
    const ZERO: Self = 0.0;
    const ONE: Self = 1.0;

    fn of(value: f64) -> Self {
        value
    }

    #[inline(always)]
    fn times(self, other: Self, lost: &mut bool) -> Self {
        let product = self * other;
        // Below the normal range digits go missing before the value does; tested without a branch
        // so that the loops stay tight.
        *lost |= (product < f64::MIN_POSITIVE) & (self > 0.0) & (other > 0.0);
        product
    }

    #[inline(always)]
    fn plus(self, other: Self) -> Self {
        self + other
    }

    #[inline(always)]
    fn larger(self, other: Self) -> Self {
        self.max(other)
    }

    #[inline(always)]
    fn over(self, other: Self) -> Self {
        if self > 0.0 { self / other } else { 0.0 }
    }

    fn rescale(table: &mut [Self], sums: &mut [Self], lost: &mut bool) -> i64 {
        let largest = sums.iter().copied().fold(0.0, f64::max);
        let exponent = i64::from(libm::frexp(largest).1).clamp(-1022, 1022);
        if exponent.abs() <= UNSCALED {
            return 0;
        }
        let factor = power_of_two(-exponent);
        for entry in table.iter_mut().chain(sums) {
            *entry = entry.times(factor, lost);
        }
        exponent
    }

    fn wide(self) -> Wide {
        Wide::scaled(self, 0)
    }

    fn narrow(self) -> f64 {
        self
    }
}

/// Non-negative number `fraction * 2^exponent`, the fraction from 0.5 up to 1, or nought
#[derive(Copy, Clone, Default, PartialEq, Debug)]
pub(crate) struct Wide {
    fraction: f64,
    exponent: i64,
}

/// Difference of exponents past which the smaller of two numbers does not touch the sum
const NEGLIGIBLE: i64 = 64;

impl Wide {
    /// Why a pass with these numbers always comes to an end
    pub(crate) const NEVER_LOST: &str = "exponents of 64 bits hold the product of any tables";

    /// `value * 2^exponent`
    pub(crate) fn scaled(value: f64, exponent: i64) -> Self {
        if value <= 0.0 {
            return Self::ZERO;
        }
        let (fraction, own) = libm::frexp(value);
        Wide { fraction, exponent: exponent + i64::from(own) }
    }

    /// Natural logarithm, minus infinity for nought
    pub(crate) fn ln(self) -> f64 {
        if self.fraction == 0.0 {
            return f64::NEG_INFINITY;
        }
        libm::log(self.fraction) + self.exponent as f64 * LN_2
    }

    /// Order of size
    pub(crate) fn compare(self, other: Wide) -> Ordering {
        match (self.is_zero(), other.is_zero()) {
            (true, true) => Ordering::Equal,
            (true, false) => Ordering::Less,
            (false, true) => Ordering::Greater,
            (false, false) => {
                self.exponent.cmp(&other.exponent).then(self.fraction.total_cmp(&other.fraction))
            }
        }
    }

    /// Whether it is nought
    pub(crate) fn is_zero(self) -> bool {
        self.fraction == 0.0
    }
}

impl Number for Wide {
    const ZERO: Self = Wide { fraction: 0.0, exponent: 0 };
    const ONE: Self = Wide { fraction: 0.5, exponent: 1 };

    fn of(value: f64) -> Self {
        Wide::scaled(value, 0)
    }

    fn times(self, other: Self, _lost: &mut bool) -> Self {
        Wide::scaled(self.fraction * other.fraction, self.exponent + other.exponent)
    }

    fn plus(self, other: Self) -> Self {
        if self.is_zero() {
            return other;
        }
        if other.is_zero() {
            return self;
        }
        let (large, small) = if self.exponent >= other.exponent { (self, other) } else { (other, self) };
        let apart = large.exponent - small.exponent;
        if apart > NEGLIGIBLE {
            return large;
        }
        Wide::scaled(large.fraction + power_of_two(-apart) * small.fraction, large.exponent)
    }

    fn larger(self, other: Self) -> Self {
        if self.compare(other).is_ge() { self } else { other }
    }

    fn over(self, other: Self) -> Self {
        if self.is_zero() {
            return self;
        }
        Wide::scaled(self.fraction / other.fraction, self.exponent - other.exponent)
    }

    fn rescale(_table: &mut [Self], _sums: &mut [Self], _lost: &mut bool) -> i64 {
        0
    }

    fn wide(self) -> Wide {
        self
    }

    fn narrow(self) -> f64 {
        libm::scalbn(self.fraction, self.exponent.clamp(-2000, 2000) as i32)
    }
}

/// `2^exponent`, for exponents from -1022 to 1023
pub(crate) fn power_of_two(exponent: i64) -> f64 {
    debug_assert!((-1022..=1023).contains(&exponent), "2^{exponent} is no normal double");
    f64::from_bits(((exponent + 1023) as u64) << 52)
}
