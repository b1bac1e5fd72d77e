//! The machine that rules are tried on: that of a case, or one of which nothing is given.

use crate::command::rulebook::Rulebook;
use crate::command::{cases, files};
use crate::ground;
use crate::machine::Machine;
use crate::model::{Model, PartId};
use crate::problem::Problems;
use crate::report::rules::shown;
use crate::source::Sources;
use std::path::Path;

/// The machine of a case, or without one a machine of which nothing is given; none when the case is no case
pub(super) fn machine(
    rulebook: &Rulebook,
    case: Option<&Path>,
    sources: &mut Sources,
    said: &mut Problems,
) -> Option<Machine> {
    let Some(path) = case.filter(|_| !rulebook.problems.any_error()) else {
        return Some(usual(&rulebook.model));
    };
    let id = files::read(path, sources, said);
    cases::read(sources, id, said).map(|inspection| {
        let (ground, found) = ground::ground(&rulebook.model, &inspection);
        said.append(found);
        ground.machine
    })
}

/// The machine in words
pub(super) fn words(model: &Model, case: Option<&Path>, machine: &Machine) -> String {
    match case {
        Some(path) => format!("the machine of {}", path.display()),
        None => shown::bare_machine(model, machine.counts.iter().map(|(part, count)| (*part, *count))),
    }
}

/// A machine of which nothing is given: of each numbered part as many as lie in the middle of what can be
fn usual(model: &Model) -> Machine {
    let counts = model.parts.iter().enumerate().filter_map(|(number, part)| {
        let (least, most) = part.taken()?;
        Some((PartId(number), least.midpoint(most)))
    });
    Machine { counts: counts.collect(), ..Machine::default() }
}
