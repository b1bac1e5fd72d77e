//! Checks and remedies that have to do with a hazard of the rules and carry no caution.

use crate::check::names::Names;
use crate::model::{Check, Common, Hazard, Model, Remedy, StateId};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::Span;
use crate::syntax::tree::{Clause, Declaration};

/// A piece of a block that may tell of a hazard, with its place where it has one
type Piece<'m> = (&'m str, Option<Span>);

/// Says which checks and remedies lack a caution
pub(super) fn check(model: &Model, names: &Names<'_>, problems: &mut Problems) {
    for check in model.checks.iter().filter(|check| check.cautions.is_empty()) {
        let Some(declaration) = names.block(&check.common) else { continue };
        tell(&model.hazards, &check.common, of_check(model, check, declaration), problems);
    }
    for remedy in model.remedies.iter().filter(|remedy| remedy.cautions.is_empty()) {
        let Some(declaration) = names.block(&remedy.common) else { continue };
        tell(&model.hazards, &remedy.common, of_remedy(model, remedy, declaration), problems);
    }
}

fn tell(hazards: &[Hazard], block: &Common, pieces: Vec<Piece<'_>>, problems: &mut Problems) {
    let found = pieces.into_iter().find_map(|(text, at)| Some((hazard(hazards, text)?, at)));
    let Some(((hazard, word), at)) = found else { return };
    let message = format!("`{}` has to do with {hazard} (`{word}`) and carries no caution", block.name);
    let problem = Problem::new(Code::HazardNoCaution, block.at, message)
        .help("add a line `caution \"…\"` that says what to beware of");
    problems.push(match at {
        Some(at) => problem.also(at, "this tells of it"),
        None => problem,
    });
}

/// The hazard a text tells of, with the word that does
fn hazard<'m>(hazards: &'m [Hazard], text: &str) -> Option<(&'m str, &'m str)> {
    hazards.iter().find_map(|hazard| Some((hazard.what.as_str(), hazard.named_in(text)?)))
}

/// How the machine stands, its state, and what is said of the check
fn of_check<'m>(model: &'m Model, check: &'m Check, declaration: &'m Declaration) -> Vec<Piece<'m>> {
    let mut pieces = said(&check.common, declaration);
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::Access(word) => pieces.push((&word.value, Some(word.at))),
            Clause::While(name) => pieces.extend(state(model, check.needs_state, name.at)),
            Clause::Makes(name) => pieces.extend(state(model, check.makes, name.at)),
            Clause::Needs(tools) => pieces.extend(tools.iter().map(|it| (it.value.as_str(), Some(it.at)))),
            _ => {}
        }
    }
    pieces
}

/// What is said of the remedy, and of what it fixes
fn of_remedy<'m>(model: &'m Model, remedy: &'m Remedy, declaration: &'m Declaration) -> Vec<Piece<'m>> {
    let mut pieces = said(&remedy.common, declaration);
    let names = declaration.clauses.iter().flat_map(|clause| match &clause.value {
        Clause::Fixes(names) => names.as_slice(),
        _ => &[],
    });
    for (&fixed, name) in remedy.fixes.iter().zip(names) {
        pieces.push((&model.common(fixed).label, Some(name.at)));
    }
    pieces
}

fn said<'m>(block: &'m Common, declaration: &'m Declaration) -> Vec<Piece<'m>> {
    let mut pieces = vec![(block.label.as_str(), declaration.label.as_ref().map(|label| label.at))];
    pieces.extend(declaration.clauses.iter().filter_map(|clause| match &clause.value {
        Clause::Text(text) => Some((text.value.as_str(), Some(text.at))),
        _ => None,
    }));
    pieces
}

fn state(model: &Model, id: Option<StateId>, at: Span) -> Vec<Piece<'_>> {
    let common = id.map(|id| &model[id].common);
    common.into_iter().flat_map(|it| [(it.name.as_str(), Some(at)), (it.label.as_str(), Some(at))]).collect()
}
