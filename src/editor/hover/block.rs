//! What is told of a declared name: label, sort, places, grades, text, basis, figures and uses.

use crate::editor::Rules;
use crate::editor::mention::{Mention, Thing};
use crate::editor::words::{label, listed, part, places, words};
use crate::report::rules::shown;
use crate::syntax::language::ROW;
use crate::syntax::short::default_basis;
use crate::syntax::tree::{Basis, Clause, Declaration, File, Sort};
use std::collections::BTreeMap;

/// Most names listed of one sort of use
const MOST_NAMES: usize = 8;

/// The paragraphs on a block: what `rules show` says where the rules are sound, what stands there where they are not
pub(super) fn paragraphs(rules: &Rules, all: &[Mention<'_>], block: &Declaration) -> Vec<String> {
    let mut paragraphs = vec![format!("`{}`: {}", block.name.value, label(block)), what(rules, block)];
    // else: the rules are not sound
    paragraphs.extend(as_understood(rules, block).unwrap_or_else(|| as_written(rules, block)));
    paragraphs.extend(used(all, Thing::Block(&block.name.value)));
    paragraphs
}

/// What the checked rules say of a block, with counts; none while they hold an error
fn as_understood(rules: &Rules, block: &Declaration) -> Option<Vec<String>> {
    let says = shown::shown(rules.model.as_ref()?, &block.name.value)?.entry.says;
    let paragraph = |about: &str, lines: &[String]| match lines {
        [line] => format!("{about}: {line}"),
        lines => format!("{about}:\n- {}", lines.join("\n- ")),
    };
    Some(says.iter().map(|says| paragraph(says.about, &says.lines)).collect())
}

/// What can be told of a block from its own lines alone
fn as_written(rules: &Rules, block: &Declaration) -> Vec<String> {
    let text = block.clauses.iter().find_map(|clause| match &clause.value {
        Clause::Text(text) | Clause::Tell(text) => Some(text.value.clone()),
        _ => None,
    });
    can_be(block).into_iter().chain(text).chain(based(rules, block)).collect()
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
    let quoted: Vec<String> = words
        .all
        .iter()
        .enumerate()
        .map(|(number, word)| {
            let normal = if Some(number) == words.normal { " (normal)" } else { "" };
            format!("`{word}`{normal}")
        })
        .collect();
    Some(format!("Its {}s: {}.", words.noun, quoted.join(", ")))
}

/// Its own basis, or that of its file
fn based(rules: &Rules, block: &Declaration) -> Option<String> {
    let own = block.clauses.iter().find_map(|clause| match &clause.value {
        Clause::Basis(basis) => Some(basis),
        _ => None,
    });
    let holds = |file: &&File| file.declarations.iter().any(|own| own.sort.at == block.sort.at);
    let of_file = || default_basis(rules.files.iter().find(holds)?, block.sort.value);
    Some(match own.or_else(|| of_file().map(|basis| basis.value))? {
        Basis::CommonPractice => "Basis: common practice.".to_owned(),
        Basis::Estimate => "Basis: an estimate.".to_owned(),
        Basis::Source(source) => format!("Basis: {}.", source.value),
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
    let role = if role == ROW { "a row".to_owned() } else { format!("`{role}`") };
    match names.split_at_checked(MOST_NAMES) {
        Some((first, rest)) if rest.len() > 1 => {
            format!("{role} in {} and {} more", first.join(", "), rest.len())
        }
        _ => format!("{role} in {}", listed(names, "and")),
    }
}
