//! One step of the words of frequency, up and down, for any share.

use crate::model::Model;

/// A step where the rules have no two words to tell it by, in log-odds; that from `often` to `usually` is about as much
const PLAIN: f64 = 1.4;

/// What a share becomes one step down and one step up the scale of the rules.
///
/// A word becomes its neighbour. A share between two words goes as far, in log-odds, as if the words between lay evenly along the
/// scale, and past the last word a step is as long as the last between two words. Words for 0 % and 100 % are no neighbours: what
/// is certain is no matter of strength. Shares of 0 and 1 stay.
pub fn one_step(model: &Model, share: f64) -> (f64, f64) {
    if share <= 0.0 || share >= 1.0 {
        return (share, share);
    }
    let mut words: Vec<f64> = model
        .scale
        .iter()
        .map(|(_, share)| *share)
        .filter(|share| (0.0..1.0).contains(share) && *share > 0.0)
        .collect();
    words.sort_by(f64::total_cmp);
    words.dedup();
    let words: Vec<f64> = words.into_iter().map(log_odds).collect();
    let place = place(&words, log_odds(share));
    (share_at(&words, place - 1.0), share_at(&words, place + 1.0))
}

/// Logarithm of the odds of a share between 0 and 1
pub(super) fn log_odds(share: f64) -> f64 {
    libm::log(share / (1.0 - share))
}

/// The share of some logarithm of the odds
pub(super) fn share(log_odds: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-log_odds))
}

/// The stretch of the scale that holds a place or lies next to it: its number, where it begins, and how long it is
fn stretch(words: &[f64], is_past: impl Fn(usize, f64) -> bool) -> (f64, f64, f64) {
    let mut found = None;
    for (number, pair) in words.windows(2).enumerate() {
        if let [from, to] = pair
            && (found.is_none() || is_past(number, *from))
        {
            found = Some((number as f64, *from, to - from));
        }
    }
    let first = words.first().copied().unwrap_or(0.0); // else: the scale has no words
    found.unwrap_or((0.0, first, PLAIN)) // else: it has no two
}

/// Place along the scale, the first word at 0, the next at 1
fn place(words: &[f64], log_odds: f64) -> f64 {
    let (number, from, length) = stretch(words, |_, from| from <= log_odds);
    number + (log_odds - from) / length
}

fn share_at(words: &[f64], place: f64) -> f64 {
    let (number, from, length) = stretch(words, |number, _| number as f64 <= place);
    share(from + (place - number) * length)
}
