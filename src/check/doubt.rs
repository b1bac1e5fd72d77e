//! What is legal and doubtful: told once the rules hold together.

mod choices;
mod pairs;
mod remedies;
mod seen;
mod shares;
mod unused;

use super::names::Names;
use crate::model::{Common, Model};
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};

/// Warnings about a model without errors
pub(super) fn check(model: &Model, names: &Names<'_>, problems: &mut Problems) {
    seen::check(model, problems);
    remedies::check(model, names, problems);
    pairs::check(model, problems);
    unused::check(model, problems);
    choices::check(model, names, problems);
    shares::check(model, names, problems);
    bases(model, problems);
}

fn bases(model: &Model, problems: &mut Problems) {
    let causes = model.causes.iter().map(|cause| &cause.common);
    let conditions = model.conditions.iter().map(|condition| &condition.common);
    let symptoms = model.symptoms.iter().map(|symptom| &symptom.effect.common);
    let blocks: Vec<&Common> = causes.chain(conditions).chain(symptoms).collect();
    for block in blocks.into_iter().filter(|block| block.basis.is_none()) {
        problems.push(
            Problem::new(
                Code::NoBasis,
                block.at,
                format!("`{}` does not say where it comes from", block.name),
            )
            .help("add `basis common practice`, `basis estimate`, or a source in quotes"),
        );
    }
}
