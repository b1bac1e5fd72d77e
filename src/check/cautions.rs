//! Cautions: work that meets a hazard of the rules, or stands at a machine, says what to beware of.

use super::names::Names;
use crate::model::{Check, Common, Hazard, Model, Remedy, StateId};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::Span;
use crate::syntax::tree::{Clause, Declaration, Sort};
use std::borrow::Cow;

/// A piece of a block that may tell of a hazard, with its place where it has one
type Piece<'m> = (Cow<'m, str>, Option<Span>);

/// Says which checks and remedies lack a caution against what they meet
pub(super) fn check(model: &Model, names: &Names<'_>, problems: &mut Problems) {
    for check in &model.checks {
        let Some(declaration) = names.block(&check.common) else { continue };
        let pieces = of_check(model, check, declaration);
        let met = lacking(&model.hazards, &check.common, &pieces, &check.cautions, problems);
        if !met && check.cautions.is_empty() && !check.is_of_records() {
            at_a_machine(&check.common, declaration, problems);
        }
    }
    for remedy in &model.remedies {
        let Some(declaration) = names.block(&remedy.common) else { continue };
        let pieces = of_remedy(model, remedy, declaration);
        lacking(&model.hazards, &remedy.common, &pieces, &remedy.cautions, problems);
    }
}

/// Says which hazards a block meets without a caution; whether there is any
fn lacking(
    hazards: &[Hazard],
    block: &Common,
    pieces: &[Piece<'_>],
    cautions: &[String],
    problems: &mut Problems,
) -> bool {
    let mut any = false;
    for hazard in hazards.iter().filter(|hazard| !cautions.iter().any(|own| hazard.cautioned_in(own))) {
        let met = pieces.iter().find_map(|(text, at)| Some((hazard.named_in(text)?, at)));
        let Some((word, at)) = met else { continue };
        any = true;
        let lacks =
            if cautions.is_empty() { "carries no caution" } else { "no caution of it speaks of that" };
        let message = format!("`{}` has to do with {} (`{word}`) and {lacks}", block.name, hazard.what);
        let says = hazard.beware.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(" or ");
        let help = format!("add a line `caution \"…\"` that says what to beware of, with {says} in it");
        let problem = Problem::new(Code::HazardNoCaution, block.at, message).help(help);
        problems.push(match *at {
            Some(at) => problem.also(at, "this tells of it"),
            None => problem,
        });
    }
    any
}

/// Says that a check needs the machine itself and carries no caution at all
fn at_a_machine(block: &Common, declaration: &Declaration, problems: &mut Problems) {
    let access = declaration.clauses.iter().find_map(|clause| match &clause.value {
        Clause::Access(word) => Some(word),
        _ => None,
    });
    let Some(word) = access else { return };
    let message =
        format!("`{}` is done at a machine that is {} and carries no caution", block.name, word.value);
    problems.push(
        Problem::new(Code::HazardNoCaution, block.at, message)
            .also(word.at, "this tells of it")
            .help("add a line `caution \"…\"` that says what to beware of"),
    );
}

/// How the machine stands, its state, and what is said of the check
fn of_check<'m>(model: &'m Model, check: &'m Check, declaration: &'m Declaration) -> Vec<Piece<'m>> {
    let mut pieces = said(&check.common, declaration);
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::Access(word) => {
                pieces.push((format!("access {}", word.value).into(), Some(word.at)));
            }
            Clause::While(name) => pieces.extend(state(model, check.needs_state, name.at)),
            Clause::Needs(tools) => {
                pieces.extend(tools.iter().map(|it| (it.value.as_str().into(), Some(it.at))))
            }
            _ => {}
        }
    }
    pieces
}

/// How it is done, what is said of the remedy, and of what it fixes
fn of_remedy<'m>(model: &'m Model, remedy: &'m Remedy, declaration: &'m Declaration) -> Vec<Piece<'m>> {
    let mut pieces = said(&remedy.common, declaration);
    if !remedy.on_site {
        pieces.push((Sort::Remedy.word().into(), Some(declaration.sort.at)));
    }
    for clause in &declaration.clauses {
        match &clause.value {
            Clause::While(name) => pieces.extend(state(model, remedy.state, name.at)),
            Clause::Fixes(names) => {
                let labels = remedy.fixes.iter().map(|&fixed| model.common(fixed).label.as_str());
                pieces.extend(labels.zip(names).map(|(label, name)| (label.into(), Some(name.at))));
            }
            _ => {}
        }
    }
    pieces
}

fn said<'m>(block: &'m Common, declaration: &'m Declaration) -> Vec<Piece<'m>> {
    let label = declaration.label.as_ref().map(|label| label.at);
    let texts = declaration.clauses.iter().filter_map(|clause| match &clause.value {
        Clause::Text(text) => Some((text.value.as_str().into(), Some(text.at))),
        _ => None,
    });
    std::iter::once((block.label.as_str().into(), label)).chain(texts).collect()
}

fn state(model: &Model, id: Option<StateId>, at: Span) -> impl Iterator<Item = Piece<'_>> {
    id.into_iter().flat_map(move |id| {
        let common = &model[id].common;
        [(format!("while {}", common.name).into(), Some(at)), (common.label.as_str().into(), Some(at))]
    })
}
