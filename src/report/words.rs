//! Numbers, places and names as people say them.

use crate::place::{Place, Side};
use std::fmt::Display;

/// How far a count may be from what it stands for, as a part of it, where a rule gives the share
const COUNT_TOLERANCE: f64 = 0.05;
/// And where many rules together give it, so that a row of counts is mostly out of the same hundred
const ROUGH_TOLERANCE: f64 = 0.12;
/// The most that shares are counted among
const MOST_COUNTED: u32 = 1_000_000;

/// A probability as a per cent: whole figures, finer only near 0 and 100
pub fn percent(share: f64) -> String {
    let percent = share * 100.0;
    if percent < 0.1 {
        "under 0.1 %".to_owned()
    } else if percent > 99.9 {
        "over 99.9 %".to_owned()
    } else if !(0.95..99.05).contains(&percent) {
        format!("{percent:.1} %")
    } else {
        format!("{percent:.0} %")
    }
}

/// A probability in words and figures: `likely, 74 %`, or `between 60 and 74 %` where only bounds are known
pub fn chance(exact: Option<f64>, lower: f64, upper: f64) -> String {
    match exact {
        Some(probability) => format!("{}, {}", likely(probability), percent(probability)),
        None => between(lower, upper),
    }
}

/// Bounds as whole per cent, or tenths where they lie close, rounded outwards so that they still hold
fn between(lower: f64, upper: f64) -> String {
    let (places, scale) = if upper - lower < 0.02 { (1, 1000.0) } else { (0, 100.0) };
    let low = (lower * scale).floor() / scale * 100.0;
    let high = ((upper * scale).ceil() / scale * 100.0).min(100.0);
    format!("between {low:.places$} and {high:.places$} %")
}

/// The least power of ten, from 100 on, of which the shares are whole numbers near enough: none of them lost to nothing,
/// or to all
pub fn out_of(shares: &[f64]) -> u32 {
    within(shares, COUNT_TOLERANCE)
}

/// The same for what is reckoned from many rules
pub fn roughly_out_of(shares: &[f64]) -> u32 {
    within(shares, ROUGH_TOLERANCE)
}

fn within(shares: &[f64], tolerance: f64) -> u32 {
    let near = |part: f64| part <= 0.0 || (part.round() - part).abs() <= part * tolerance;
    let fits = |of: u32| {
        shares.iter().all(|share| near(share * f64::from(of)) && near((1.0 - share) * f64::from(of)))
    };
    let known = [100, 1_000, 10_000, 100_000].into_iter().find(|of| fits(*of));
    known.unwrap_or(MOST_COUNTED) // else: nothing smaller is near enough
}

/// How many of so many a share is; something is never said to be nothing, or all
pub fn count(share: f64, of: u32) -> String {
    let exact = share * f64::from(of);
    let whole = exact.round();
    if share > 0.0 && whole < 1.0 {
        "fewer than 1".to_owned()
    } else if share < 1.0 - 1e-12 && whole >= f64::from(of) {
        "nearly all".to_owned()
    } else {
        grouped(&format!("{whole:.0}"))
    }
}

/// A number with what is counted, in the singular where there is one
pub fn several(number: usize, one: &str, more: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { more })
}

/// A share as a count: `60 of 100`, `3 of 1,000`, `none`
pub fn counted(share: f64) -> String {
    if share <= 0.0 {
        return "none".to_owned();
    }
    let of = out_of(&[share]);
    format!("{} of {}", count(share, of), hundreds(of))
}

/// The same for what is reckoned from many rules
pub fn counted_roughly(share: f64) -> String {
    if share <= 0.0 {
        return "none".to_owned();
    }
    let of = roughly_out_of(&[share]);
    format!("{} of {}", count(share, of), hundreds(of))
}

/// A round number with its thousands parted
pub fn hundreds(of: u32) -> String {
    grouped(&of.to_string())
}

/// A figure of at least 0 to the nearest whole one, with its thousands parted
pub fn whole(value: f64) -> String {
    grouped(&format!("{:.0}", value.max(0.0)))
}

/// Hours to come, to two figures: nobody knows them better
pub fn about(hours: f64) -> String {
    whole((hours / step(hours)).round() * step(hours))
}

/// Hours within which something is due, to two figures and never later
pub fn at_most(hours: f64) -> f64 {
    (hours / step(hours)).floor() * step(hours)
}

fn step(hours: f64) -> f64 {
    if hours >= 1000.0 {
        100.0
    } else if hours >= 100.0 {
        10.0
    } else {
        1.0
    }
}

/// How worn a part is, with half of what nine of ten such readings lie within: `42 % worn, give or take 3`. Under nothing a
/// size is only better than the mean of new ones
pub fn worn(percent: f64, give_or_take: f64) -> String {
    let around = give_or_take.max(1.0);
    if percent < 0.0 {
        format!("as new, give or take {around:.0} %")
    } else {
        format!("{percent:.0} % worn, give or take {around:.0}")
    }
}

/// Per cent worn as a bare figure, none under nothing
pub fn wear_percent(percent: f64) -> String {
    format!("{:.0} %", percent.max(0.0))
}

/// Digits with a comma before every third from the end
fn grouped(digits: &str) -> String {
    let mut text = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// A ratio to two digits: `47`, `1 in 20`
pub fn ratio_in_words(ratio: f64) -> String {
    if ratio >= 1.0 {
        return times(ratio);
    }
    match times(1.0 / ratio).as_str() {
        "1" => "1".to_owned(),
        turned => format!("1 in {turned}"),
    }
}

/// A number of 1 or more to two digits, with its thousands parted
pub fn times(number: f64) -> String {
    if number < 9.95 {
        return figure((number * 10.0).round() / 10.0);
    }
    if !number.is_finite() || number >= 1e15 {
        return "over a million millions".to_owned();
    }
    let digits = libm::floor(libm::log10(number));
    let scale = libm::pow(10.0, digits - 1.0);
    grouped(&format!("{:.0}", (number / scale).round() * scale))
}

/// A chance to one figure, as one in so many: `1 in 200`
pub fn one_in(chance: f64) -> String {
    let number = 1.0 / chance.max(f64::MIN_POSITIVE);
    let scale = libm::pow(10.0, libm::floor(libm::log10(number)));
    match (number / scale).round() * scale {
        rounded if rounded >= 1e6 => "under 1 in a million".to_owned(),
        rounded => format!("1 in {}", whole(rounded)),
    }
}

/// `, left roller 3`, or nothing for the machine
pub fn at(place: &str) -> String {
    if is_machine(place) { String::new() } else { format!(", {}", plain(place)) }
}

/// `left: `, `left roller 3: `, or nothing for the machine
pub fn place(place: impl Display) -> String {
    let words = place.to_string();
    if is_machine(&words) { String::new() } else { format!("{}: ", plain(&words)) }
}

/// A place as records write it is the machine as a whole
pub fn is_machine(place: &str) -> bool {
    place.is_empty() || place == Place::Machine.to_string()
}

/// Words in a row: `one`, `one and two`, `one, two and three`
pub fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// Words to choose from: `one`, `one or two`, `one, two or three`
pub fn either(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
    }
}

/// A share that somebody set as a bound, to two decimals of a per cent
pub fn bound(share: f64) -> String {
    format!("{} %", figure(share * 100.0))
}

/// A share as a per cent to three digits, so that two that lie close can be told apart
pub fn fine(share: f64) -> String {
    let percent = share * 100.0;
    let before = if percent > 0.0 { libm::floor(libm::log10(percent)) } else { 0.0 };
    let places = (2.0 - before).clamp(0.0, 9.0) as usize;
    let text = format!("{percent:.places$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    format!("{text} %")
}

/// A probability as a word
pub fn likely(share: f64) -> &'static str {
    match share {
        share if share >= 0.95 => "almost certain",
        share if share >= 0.80 => "very likely",
        share if share >= 0.55 => "likely",
        share if share >= 0.30 => "possible",
        share if share >= 0.10 => "less likely",
        share if share >= 0.02 => "unlikely",
        _ => "very unlikely",
    }
}

/// A name or grade without its underscores
pub fn plain(name: &str) -> String {
    name.replace('_', " ")
}

/// A place with a capital, to start a line with; empty for the machine as a whole
pub fn place_first(place: &Place) -> String {
    let side = |side: &Side| match side {
        Side::Left => "Left",
        Side::Right => "Right",
    };
    match place {
        Place::Machine => String::new(),
        Place::Side(at) => side(at).to_owned(),
        Place::Numbered { side: at, part, number } => format!("{} {} {number}", side(at), plain(part)),
    }
}

/// Minutes or hours, without needless decimals
pub fn minutes(minutes: f64) -> String {
    if minutes < 1.0 { "under a minute".to_owned() } else { format!("{minutes:.0} min") }
}

/// A number without needless decimals
pub fn figure(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The text with a capital at the start
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
