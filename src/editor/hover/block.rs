//! What is told of a declared name: label, sort, places, grades, text, basis, figures and uses.

use crate::editor::Rules;
use crate::editor::mention::{Mention, Thing};
use crate::editor::words::{label, listed, part, places, words};
use crate::report::entry;
use crate::syntax::tree::{Basis, Clause, Declaration, Sort};
use std::collections::BTreeMap;

/// Most names told of one sort of use
const MOST_NAMES: usize = 8;

/// The paragraphs on a block
pub(super) fn told(rules: &Rules, all: &[Mention<'_>], block: &Declaration) -> Vec<String> {
    let mut told = vec![format!("`{}`: {}", block.name.value, label(block)), what(rules, block)];
    told.extend(can_be(block));
    told.extend(block.clauses.iter().find_map(|clause| match &clause.value {
        Clause::Text(text) | Clause::Tell(text) => Some(text.value.clone()),
        _ => None,
    }));
    told.extend(as_read(rules, block));
    told.extend(based(block));
    told.extend(used(all, Thing::Block(&block.name.value)));
    told
}

/// `A symptom of the front idler, one for each side.`
fn what(rules: &Rules, block: &Declaration) -> String {
    let sort = block.sort.value;
    let seen_on = part(block)
        .map_or_else(String::new, |name| format!(" of `{name}` ({})", rules.block(name).map_or(name, label)));
    match sort {
        Sort::Kind => format!(
            "A kind of cause; it counts against {}.",
            block.against.as_ref().map_or("nobody", |against| against.value.as_str())
        ),
        Sort::State => "A state of the machine.".to_owned(),
        _ => format!("A {}{seen_on}, {}.", sort.word(), places(block)),
    }
}

/// `Its grades: `none` (normal), `inboard`, `outboard`.`
fn can_be(block: &Declaration) -> Option<String> {
    let words = words(block).filter(|words| !words.all.is_empty())?;
    let told: Vec<String> = words
        .all
        .iter()
        .enumerate()
        .map(|(number, word)| {
            let normal = if Some(number) == words.normal { " (normal)" } else { "" };
            format!("`{word}`{normal}")
        })
        .collect();
    Some(format!("Its {}s: {}.", words.noun, told.join(", ")))
}

/// The figures of a block as the checked rules read them; nothing while the rules hold an error
fn as_read(rules: &Rules, block: &Declaration) -> Option<String> {
    let entry = entry::entry(rules.model.as_ref()?, &block.name.value)?;
    let figures = ["How often it is there before anything is seen", "How it is read", "Takes", "Due within"];
    let told: Vec<String> = entry
        .says
        .iter()
        .filter(|says| figures.contains(&says.about))
        .map(|says| format!("{}: {}.", says.about, says.lines.join("; ")))
        .collect();
    (!told.is_empty()).then(|| told.join(" "))
}

fn based(block: &Declaration) -> Option<String> {
    block.clauses.iter().find_map(|clause| match &clause.value {
        Clause::Basis(Basis::CommonPractice) => Some("Basis: common practice.".to_owned()),
        Clause::Basis(Basis::Estimate) => Some("Basis: an estimate.".to_owned()),
        Clause::Basis(Basis::Source(source)) => Some(format!("Basis: {}.", source.value)),
        _ => None,
    })
}

/// `Used 3 times: `with` in `a` and `b`; `fixes` in `c`.`
pub(super) fn used(all: &[Mention<'_>], thing: Thing<'_>) -> Option<String> {
    let mut times = 0;
    let mut by_role: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for mention in all.iter().filter(|it| it.thing == thing && !it.declares) {
        times += 1;
        let names = by_role.entry(mention.role).or_default();
        let name = format!("`{}`", mention.within.name.value);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let roles: Vec<String> = by_role.iter().map(|(role, names)| in_role(role, names)).collect();
    match times {
        0 if matches!(thing, Thing::Row(_)) => None,
        0 => Some("Nothing uses it.".to_owned()),
        1 => Some(format!("Used once: {}.", roles.join("; "))),
        _ => Some(format!("Used {times} times: {}.", roles.join("; "))),
    }
}

fn in_role(role: &str, names: &[String]) -> String {
    let role = if role == crate::check::clauses::ROW { "a row".to_owned() } else { format!("`{role}`") };
    match names.split_at_checked(MOST_NAMES) {
        Some((told, rest)) if rest.len() > 1 => {
            format!("{role} in {} and {} more", told.join(", "), rest.len())
        }
        _ => format!("{role} in {}", listed(names, "and")),
    }
}
