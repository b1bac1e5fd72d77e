//! The strengths of the rules: every share behind `with`, `without` and `chance`, and the same rules with them moved.
//!
//! A strength is moved against what its line leaves over, so that a line of several grades stays a line of shares; each line
//! draws its own number even where several use the same word. 0 and 1 are certainties and stay.

use crate::infer::draw::Dice;
use crate::model::{Basis, Model};

/// Shares that leave less than this to the normal grade are taken to fill 100 %, since sums of decimals round
const ROUNDING: f64 = 1e-9;

/// How far a strength may well be off, as a standard deviation in log-odds: 0.5 for common practice, 0.3 for a published
/// source, 0.7 for an estimate and for a block that does not say where it comes from
pub fn spread(basis: Option<&Basis>) -> f64 {
    match basis {
        Some(Basis::CommonPractice) => 0.5,
        Some(Basis::Source(_)) => 0.3,
        Some(Basis::Estimate) | None => 0.7,
    }
}

/// A copy of the rules with every strength drawn anew around its value.
///
/// The odds of each share against the normal grade are multiplied by e^n, n drawn from N(0, [`spread`]) for that share
/// alone, even where several lines use the same word of the scale. So a line of one grade moves in log-odds; in a line of several each
/// moves against what is left over, their sum stays under 1 where it was, and a line that fills 100 % still does. Shares
/// of 0 and 1 stay. The choices of facts are no strengths and stay too.
pub fn moved(model: &Model, dice: &mut Dice) -> Model {
    let mut moved = model.clone();
    for cause in &mut moved.causes {
        let spread = spread(cause.common.basis.as_ref());
        for chance in &mut cause.chances {
            shift(&mut [&mut chance.share], spread, dice);
        }
    }
    let symptoms = moved.symptoms.iter_mut().map(|symptom| &mut symptom.effect);
    for effect in moved.conditions.iter_mut().chain(symptoms) {
        let spread = spread(effect.common.basis.as_ref());
        let lines = effect.lines.iter_mut().map(|line| &mut line.effects);
        for row in lines.chain(effect.leaks.iter_mut().map(|leak| &mut leak.effects)) {
            let mut shares: Vec<&mut f64> = row.iter_mut().map(|(_, share)| share).collect();
            shift(&mut shares, spread, dice);
        }
    }
    moved
}

/// Moves the shares of one line, each against what they leave over
fn shift(shares: &mut [&mut f64], spread: f64, dice: &mut Dice) {
    let rest = 1.0 - shares.iter().map(|share| **share).sum::<f64>();
    let rest = if rest < ROUNDING { 0.0 } else { rest };
    for share in shares.iter_mut() {
        **share *= libm::exp(spread * dice.normal());
    }
    let sum = rest + shares.iter().map(|share| **share).sum::<f64>();
    for share in shares.iter_mut().filter(|share| ***share > 0.0) {
        **share /= sum;
    }
}
