//! What stands in a case where the rules have no name or place for it, or before the state that it waits for.

use crate::model::{Extent, Model, StateId};
use crate::place::Place;
use crate::problem::code::Code;
use crate::problem::{Problem, did_you_mean};
use crate::source::Spanned;

/// Says that the rules have no such name
pub(super) fn unknown<'a>(
    what: &str,
    name: &Spanned<String>,
    known: impl Iterator<Item = &'a str>,
) -> Problem {
    let help = did_you_mean(&name.value, known, "`pinboss words` lists what the rules know");
    Problem::new(Code::CaseUnknownName, name.at, format!("the rules know no {what} `{}`", name.value))
        .help(help)
}

/// True when a block with this extent has the very place
pub(super) fn fits(model: &Model, extent: Extent, place: &Place) -> bool {
    match (extent, place) {
        (Extent::Machine, Place::Machine) | (Extent::Side, Place::Side(_)) => true,
        (Extent::Each(id), Place::Numbered { part, .. }) => model[id].common.name == *part,
        _ => false,
    }
}

/// Says that something stands under the wrong place
pub(super) fn misplaced(model: &Model, name: &Spanned<String>, extent: Extent) -> Problem {
    let (what, help) = match extent {
        Extent::Machine => ("of the whole machine".to_owned(), "note it under `machine`".to_owned()),
        Extent::Side => ("of one side".to_owned(), "note it under `left` or `right`".to_owned()),
        Extent::Each(part) => {
            let part = &model[part].common.name;
            (format!("of one {part}"), format!("note it under a side and `{part} 1`, `{part} 2` and so on"))
        }
    };
    Problem::new(Code::CaseUnknownPlace, name.at, format!("`{}` is a thing {what}", name.value)).help(help)
}

/// Why something waits for a state, and how to say that it was there
pub(super) fn state_wanted(model: &Model, state: StateId) -> String {
    let common = &model[state].common;
    let makers: Vec<&str> = model
        .checks
        .iter()
        .filter(|check| check.makes == Some(state))
        .map(|check| check.common.name.as_str())
        .collect();
    let made = match makers.first() {
        Some(maker) => format!(", or `looked: [{maker}]`"),
        None => String::new(),
    };
    format!(
        "it counts only on a machine that is {}; if it was, write `visit: {{state: [{}]}}`{made}",
        common.label, common.name
    )
}
