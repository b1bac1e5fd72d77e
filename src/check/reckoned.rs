//! Measures reckoned from one another: no ring, and no more steps than can be gone through.

use super::loops::order;
use crate::model::{Common, Model};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};

/// Most measures from a reckoned one down to the readings, in a row
const MOST_NESTED: usize = 16;
/// Most operands when every reckoned measure is written out to its readings
const MOST_OPERANDS: usize = 1000;

/// Says which measures are reckoned from themselves, and which from too much
pub(super) fn check(model: &Model, problems: &mut Problems) {
    let inputs: Vec<Vec<usize>> = model
        .measures
        .iter()
        .map(|measure| measure.sums.iter().flat_map(|(sum, _)| sum.measures()).map(|id| id.0).collect())
        .collect();
    let common: Vec<&Common> = model.measures.iter().map(|measure| &measure.common).collect();
    let help = "reckon one of them from readings alone";
    let mut sizes: Vec<(usize, usize)> = vec![(0, 1); inputs.len()];
    for number in order(&inputs, &common, help, problems) {
        let own: Vec<(usize, usize)> =
            inputs.get(number).into_iter().flatten().filter_map(|&input| sizes.get(input).copied()).collect();
        let deep = own.iter().map(|(deep, _)| deep + 1).fold(0, usize::max);
        let wide = own.iter().fold(0_usize, |sum, (_, wide)| sum.saturating_add(*wide)).max(1);
        let before = own.iter().any(|&(deep, wide)| is_too_much(deep, wide));
        if is_too_much(deep, wide)
            && !before
            && let Some(common) = common.get(number)
        {
            problems.push(
                Problem::new(
                    Code::TooDeep,
                    common.at,
                    format!("`{}` is reckoned from more than can be followed", common.name),
                )
                .help(format!(
                    "written out to its readings it has at most {MOST_OPERANDS} operands, through {MOST_NESTED} measures in a row"
                )),
            );
        }
        if let Some(size) = sizes.get_mut(number) {
            *size = (deep, wide);
        }
    }
}

fn is_too_much(deep: usize, wide: usize) -> bool {
    deep > MOST_NESTED || wide > MOST_OPERANDS
}
