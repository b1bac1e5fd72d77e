//! Quantities with units: what a caliper, a tape, an hour meter or a torque wrench says, and the units it says it in.
//!
//! Conversion factors are those of NIST Special Publication 811, *Guide for the Use of the International System of
//! Units* (2008), appendix B.8, written down from memory; the inch, the foot and the scales of temperature are exact
//! there. A test holds the others against the definitions of pound, inch and standard gravity.

use crate::invariant::Hold;
use serde::{Serialize, Serializer};
use std::fmt;

/// What sort of thing a unit measures; quantities of one dimension can be turned into one another
#[derive(Clone, Copy, Debug, Eq, Hash, Ord, PartialEq, PartialOrd)]
pub enum Dimension {
    /// How long, high, wide or thick; base unit mm
    Length,
    /// How far turned or leaning; base unit deg
    Angle,
    /// How long it took or ran; base unit h
    Time,
    /// A part of a whole; base unit %
    Share,
    /// How hard a bolt is turned; base unit N·m
    Torque,
    /// How hot; base unit °C
    Temperature,
    /// How hard grease or oil presses; base unit bar
    Pressure,
    /// How hard something is pushed or pulled; base unit kN
    Force,
}

impl Dimension {
    /// The word for it in a message, such as `length`
    pub fn word(self) -> &'static str {
        match self {
            Dimension::Length => "length",
            Dimension::Angle => "angle",
            Dimension::Time => "time",
            Dimension::Share => "share",
            Dimension::Torque => "torque",
            Dimension::Temperature => "temperature",
            Dimension::Pressure => "pressure",
            Dimension::Force => "force",
        }
    }

    /// The unit in which its quantities are reckoned
    pub fn base(self) -> Unit {
        match self {
            Dimension::Length => Unit::Millimetre,
            Dimension::Angle => Unit::Degree,
            Dimension::Time => Unit::Hour,
            Dimension::Share => Unit::Percent,
            Dimension::Torque => Unit::NewtonMetre,
            Dimension::Temperature => Unit::Celsius,
            Dimension::Pressure => Unit::Bar,
            Dimension::Force => Unit::Kilonewton,
        }
    }
}

/// A unit that a reading may be given in
#[derive(Clone, Copy, Debug, Eq, Hash, Ord, PartialEq, PartialOrd)]
pub enum Unit {
    /// mm
    Millimetre,
    /// cm
    Centimetre,
    /// m
    Metre,
    /// in, 25.4 mm exactly
    Inch,
    /// ft, 304.8 mm exactly
    Foot,
    /// Degree of angle
    Degree,
    /// h
    Hour,
    /// min
    Minute,
    /// s
    Second,
    /// %
    Percent,
    /// N·m
    NewtonMetre,
    /// lbf·ft, 1.355818 N·m
    PoundFoot,
    /// °C
    Celsius,
    /// °F, (t − 32) / 1.8 in °C
    Fahrenheit,
    /// bar, 100 kPa
    Bar,
    /// kPa
    Kilopascal,
    /// MPa
    Megapascal,
    /// psi, 6.894757 kPa
    PoundPerSquareInch,
    /// kN
    Kilonewton,
    /// lbf, 4.448222 N
    PoundForce,
}

/// What there is to say of one unit
struct Entry {
    unit: Unit,
    dimension: Dimension,
    /// Base units in one of it
    factor: f64,
    /// Reading of it where the base unit reads zero
    zero: f64,
    /// Spellings taken in; the first is the one written out
    words: &'static [&'static str],
}

/// Every unit; a row's place is the place of its variant in [`Unit`]
const TABLE: [Entry; 20] = {
    use Dimension as D;
    use Unit as U;
    [
        entry(U::Millimetre, D::Length, 1.0, &["mm"]),
        entry(U::Centimetre, D::Length, 10.0, &["cm"]),
        entry(U::Metre, D::Length, 1000.0, &["m"]),
        entry(U::Inch, D::Length, 25.4, &["in", "inch", "inches", "\"", "″"]),
        entry(U::Foot, D::Length, 304.8, &["ft", "foot", "feet", "'", "′"]),
        entry(U::Degree, D::Angle, 1.0, &["deg", "°", "degree", "degrees"]),
        entry(U::Hour, D::Time, 1.0, &["h", "hour", "hours", "hr", "hrs"]),
        entry(U::Minute, D::Time, 1.0 / 60.0, &["min"]),
        entry(U::Second, D::Time, 1.0 / 3600.0, &["s"]),
        entry(U::Percent, D::Share, 1.0, &["%"]),
        entry(U::NewtonMetre, D::Torque, 1.0, &["N·m", "Nm", "N m", "N*m"]),
        entry(
            U::PoundFoot,
            D::Torque,
            1.355_818,
            &[
                "lbf·ft", "lbf ft", "lbf-ft", "lbf*ft", "ft·lbf", "ft-lbf", "ft lbf", "lb·ft", "lb-ft",
                "lb ft", "ft·lb", "ft-lb", "ft lb",
            ],
        ),
        entry(U::Celsius, D::Temperature, 1.0, &["degC", "°C", "C"]),
        Entry {
            unit: U::Fahrenheit,
            dimension: D::Temperature,
            factor: 1.0 / 1.8,
            zero: 32.0,
            words: &["degF", "°F", "F"],
        },
        entry(U::Bar, D::Pressure, 1.0, &["bar"]),
        entry(U::Kilopascal, D::Pressure, 0.01, &["kPa"]),
        entry(U::Megapascal, D::Pressure, 10.0, &["MPa"]),
        entry(U::PoundPerSquareInch, D::Pressure, 0.068_947_57, &["psi"]),
        entry(U::Kilonewton, D::Force, 1.0, &["kN"]),
        entry(U::PoundForce, D::Force, 0.004_448_222, &["lbf"]),
    ]
};

const fn entry(unit: Unit, dimension: Dimension, factor: f64, words: &'static [&'static str]) -> Entry {
    Entry { unit, dimension, factor, zero: 0.0, words }
}

/// As it is written out
impl Serialize for Unit {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        out.serialize_str(self.word())
    }
}

impl Unit {
    /// Every unit, grouped by dimension, the base unit first in its group
    pub fn all() -> impl Iterator<Item = Unit> {
        TABLE.iter().map(|entry| entry.unit)
    }

    /// The unit that a word stands for: its own word or a common spelling of it, such as `Nm` or `"`
    pub fn parse(word: &str) -> Option<Unit> {
        TABLE.iter().find(|entry| entry.words.contains(&word)).map(|entry| entry.unit)
    }

    /// How it is written out, such as `mm`, `%` or `N·m`; [`Unit::parse`] takes it back
    pub fn word(self) -> &'static str {
        self.entry().words.first().copied().hold("each unit has a word of its own")
    }

    /// Every spelling it is known by, its own word first
    pub fn words(self) -> &'static [&'static str] {
        self.entry().words
    }

    /// What it measures
    pub fn dimension(self) -> Dimension {
        self.entry().dimension
    }

    /// A reading in this unit, turned into the base unit of its dimension
    pub fn to_base(self, value: f64) -> f64 {
        (value - self.entry().zero) * self.entry().factor
    }

    /// A reading in the base unit of its dimension, turned into this unit
    pub fn from_base(self, value: f64) -> f64 {
        value / self.entry().factor + self.entry().zero
    }

    /// A difference, an error or a tolerance in this unit, turned into the base unit; parts from
    /// [`Unit::to_base`] only for °F, whose zero is not that of °C
    pub fn step_to_base(self, step: f64) -> f64 {
        step * self.entry().factor
    }

    fn entry(self) -> &'static Entry {
        TABLE.get(self as usize).hold("the table has a row for each unit")
    }
}

/// A number with its unit
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// The number as it was given, in `unit`; finite when it comes from [`parse_quantity`]
    pub value: f64,
    /// The unit it was given in
    pub unit: Unit,
}

impl Quantity {
    /// The number in the base unit of its dimension
    pub fn in_base(self) -> f64 {
        self.unit.to_base(self.value)
    }

    /// The same quantity in another unit; none when that measures something else
    pub fn to(self, unit: Unit) -> Option<Quantity> {
        (unit.dimension() == self.unit.dimension())
            .then(|| Quantity { value: unit.from_base(self.in_base()), unit })
    }
}

impl fmt::Display for Quantity {
    /// Up to four decimals without zeros at the end, and more where three figures take more, as in `0.00042 mm`
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let gap = if self.unit == Unit::Percent { "" } else { " " };
        write!(out, "{}{gap}{}", digits(self.value), self.unit.word())
    }
}

/// A number to four decimals, so that a sixteenth comes out whole, or to three figures below 0.01
fn digits(value: f64) -> String {
    let size = value.abs();
    if size == 0.0 {
        return "0".to_owned();
    }
    if !(1e-9..1e15).contains(&size) {
        return format!("{value:e}");
    }
    let mut decimals = 4;
    let mut step = 0.01;
    while size < step && decimals < 12 {
        step /= 10.0;
        decimals += 1;
    }
    let text = format!("{value:.decimals$}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Why a text is no quantity
#[derive(Clone, Debug, Eq, PartialEq)]
pub enum QuantityFault {
    /// It does not begin with a number
    NoNumber,
    /// A comma in the number, as in `109,2 mm` or `6,240 h`
    Comma,
    /// More than one number, as in `6 240 h` or `109-110 mm`
    Gap,
    /// A fraction with nothing below the bar, as in `1/0 in`
    DividedByZero,
    /// A number and nothing after it
    NoUnit,
    /// A number and a word that is no unit
    UnknownUnit {
        /// The word
        word: String,
    },
    /// Too large to be reckoned with, or `inf` or `nan`
    NotFinite,
}

/// Reads a number with its unit, as in `109.2 mm`, `2 9/16 in`, `-3 mm` or `70%`
///
/// The number is written with a point, or as a fraction with or without a whole number before it; no exponent.
///
/// # Errors
/// What keeps the text from being a quantity, the first from the left.
pub fn parse_quantity(text: &str) -> Result<Quantity, QuantityFault> {
    let (value, word) = split_number(text)?;
    if word.is_empty() {
        return Err(QuantityFault::NoUnit);
    }
    match Unit::parse(word) {
        Some(unit) => Ok(Quantity { value, unit }),
        None => Err(QuantityFault::UnknownUnit { word: word.to_owned() }),
    }
}

/// Reads the number at the front of a text and gives what follows it, trimmed
///
/// # Errors
/// The faults of the number; never [`QuantityFault::NoUnit`] or [`QuantityFault::UnknownUnit`].
pub fn split_number(text: &str) -> Result<(f64, &str), QuantityFault> {
    let text = text.trim();
    let (sign, rest) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)), // else: it has no sign
    };
    if is_no_number_word(rest) {
        return Err(QuantityFault::NotFinite);
    }
    let (whole, after) = decimal(rest).ok_or(QuantityFault::NoNumber)?;
    if let Some(below) = after.strip_prefix('/') {
        let (value, after) = over(whole, below)?;
        return finish(sign * value, after);
    }
    let gap = after.strip_prefix([' ', '-']).map(str::trim_start);
    if let Some((above, more)) = gap.and_then(decimal) {
        let below = more.strip_prefix('/').ok_or(QuantityFault::Gap)?;
        let (part, after) = over(above, below)?;
        return finish(sign * (whole + part), after);
    }
    finish(sign * whole, after)
}

/// True for a text that begins with what stands for no finite number in one notation or another
fn is_no_number_word(text: &str) -> bool {
    let text = text.strip_prefix('.').unwrap_or(text); // else: it begins with no point
    let is_letter = |letter: char| letter.is_alphabetic() || letter == '∞';
    let text = text.to_ascii_lowercase();
    let is_word = |word: &str| text.strip_prefix(word).is_some_and(|rest| !rest.starts_with(is_letter));
    ["inf", "infinity", "nan", "∞"].into_iter().any(is_word)
}

/// Digits with at most one point among them, and what follows
fn decimal(text: &str) -> Option<(f64, &str)> {
    let after_digits = text.trim_start_matches(|letter: char| letter.is_ascii_digit());
    let after = match after_digits.strip_prefix('.') {
        Some(rest) => rest.trim_start_matches(|letter: char| letter.is_ascii_digit()),
        None => after_digits,
    };
    let number = text.get(..text.len() - after.len())?;
    Some((number.parse().ok()?, after))
}

/// A fraction: its upper number and the text below the bar
fn over(above: f64, below: &str) -> Result<(f64, &str), QuantityFault> {
    let (below, after) = decimal(below).ok_or(QuantityFault::NoNumber)?;
    if below == 0.0 {
        return Err(QuantityFault::DividedByZero);
    }
    Ok((above / below, after))
}

fn finish(value: f64, after: &str) -> Result<(f64, &str), QuantityFault> {
    if after.starts_with(',') {
        return Err(QuantityFault::Comma);
    }
    if !value.is_finite() {
        return Err(QuantityFault::NotFinite);
    }
    Ok((value, after.trim_start()))
}
