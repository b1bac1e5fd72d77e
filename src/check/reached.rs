//! Lines that no machine and no place reaches, because those before them answer everywhere.

use super::names::Names;
use super::situation::situations;
use super::written::{Lines, lists};
use crate::model::Model;
use crate::model::test::Test;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use std::collections::BTreeSet;

/// Most earlier lines pointed at
const MOST_EARLIER: usize = 4;

/// Says which lines are never reached, in rules without errors
pub(super) fn check(model: &Model, names: &Names<'_>, problems: &mut Problems) {
    for lines in lists(model, names).iter().filter(|lines| lines.len() > 1) {
        of_list(model, lines, problems);
    }
}

fn of_list(model: &Model, lines: &Lines<'_>, problems: &mut Problems) {
    let tests: Vec<&Test> = lines.iter().flat_map(|line| [line.test, line.gate]).collect();
    let Some(situations) = situations(model, tests) else {
        return;
    };
    let mut reached: BTreeSet<usize> = BTreeSet::new();
    let mut answered: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); lines.len()];
    for situation in &situations {
        let holding = lines
            .iter()
            .enumerate()
            .filter(|(_, line)| situation.holds(line.test) && situation.holds(line.gate));
        let holding: Vec<usize> = holding.map(|(number, _)| number).collect();
        if let Some((&first, later)) = holding.split_first() {
            reached.insert(first);
            for &number in later {
                answered.get_mut(number).map(|by| by.insert(first));
            }
        }
    }
    for ((number, line), by) in lines.iter().enumerate().zip(&answered) {
        if reached.contains(&number) || by.is_empty() {
            continue;
        }
        let message = "this line is never reached: wherever it holds, one before it holds too";
        let mut problem = Problem::new(Code::DeadLine, line.clause, message)
            .help("the first line that holds counts: take this one out, or narrow those before it");
        for earlier in by.iter().filter_map(|&earlier| lines.get(earlier)).take(MOST_EARLIER) {
            problem = problem.also(earlier.clause, "this one answers before it");
        }
        problems.push(problem);
    }
}
