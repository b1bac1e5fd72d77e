//! Shares from 0 to 1, as they are written and as they are shown.

use super::context::CheckContext;
use crate::model::Extent;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{Clause, Declaration, Frequency, Sort};

/// A share from 0 to 1, by figure or by a word of the scale
pub(super) fn share(frequency: &Spanned<Frequency>, context: &mut CheckContext<'_>) -> f64 {
    let share = match &frequency.value {
        Frequency::Percent(percent) => percent / 100.0,
        Frequency::Word(word) => match context.model.scale.iter().find(|(known, _)| known == word) {
            Some(&(_, share)) => share,
            None if context.names.of(Sort::Scale).any(|(_, scale)| scale.broken) => 0.0,
            None => {
                let known = context.model.scale.iter().map(|(known, _)| known.as_str());
                let help = did_you_mean(word, known, "write a per cent, or a word that `scale` explains");
                context.problems.push(
                    Problem::new(
                        Code::UnknownName,
                        frequency.at,
                        format!("`{word}` is no word of the scale"),
                    )
                    .help(help),
                );
                0.0
            }
        },
    };
    in_range(share, frequency.at, context.problems)
}

/// The share itself when it lies from 0 to 1, else a problem and 0
pub(super) fn in_range(share: f64, at: Span, problems: &mut Problems) -> f64 {
    if (0.0..=1.0).contains(&share) {
        return share;
    }
    problems.push(
        Problem::new(Code::ChanceRange, at, format!("{} % is no chance", percent(share)))
            .help("a chance lies from 0 % to 100 %"),
    );
    0.0
}

/// How far the places of a block go together, by its `shared` clause; 0 without one
pub(super) fn shared(declaration: &Declaration, extent: Extent, problems: &mut Problems) -> f64 {
    let written = declaration.clauses.iter().find_map(|clause| match &clause.value {
        Clause::Shared(percent) => Some((clause.at, percent)),
        _ => None,
    });
    let Some((at, percent)) = written else { return 0.0 };
    if extent == Extent::Machine {
        let message = "one block of the whole machine has no places that go together";
        let help = "take `shared` out, or declare the block `each side` or for each of a numbered part";
        problems.push(Problem::new(Code::PlaceUseless, at, message).help(help));
    }
    in_range(percent.value / 100.0, percent.at, problems)
}

/// A share in per cent, to four places and without zeros behind
pub(super) fn percent(share: f64) -> f64 {
    (share * 1e6).round() / 1e4
}
