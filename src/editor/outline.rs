//! The declarations of a file, as a list to jump by.

use super::Rules;
use crate::source::{SourceId, Span};
use crate::syntax::tree::{Clause, Declaration, Sort};

/// One declaration in a list
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What is declared
    pub sort: Sort,
    /// Its name
    pub name: String,
    /// Its sort and label, such as `cause: idler yoke bent`
    pub detail: String,
    /// Where its name stands
    pub at: Span,
    /// The whole block
    pub whole: Span,
}

/// The declarations of one file, in order
pub fn of_file(rules: &Rules, id: SourceId) -> Vec<Item> {
    rules.declarations().filter(|it| it.sort.at.source == id).map(item).collect()
}

/// The declarations whose name or label holds a word, capitals or not
pub fn search(rules: &Rules, word: &str) -> Vec<Item> {
    let word = word.to_lowercase();
    let items = rules.declarations().map(item);
    items
        .filter(|item| item.name.to_lowercase().contains(&word) || item.detail.to_lowercase().contains(&word))
        .collect()
}

fn item(declaration: &Declaration) -> Item {
    let sort = declaration.sort.value;
    let label = declaration.label.as_ref();
    let detail = match label {
        Some(label) => format!("{}: {}", sort.word(), label.value),
        None if sort == Sort::Scale => "what the words of frequency mean".to_owned(),
        None => sort.word().to_owned(),
    };
    Item {
        sort,
        name: declaration.name.value.clone(),
        detail,
        at: declaration.name.at,
        whole: whole(declaration),
    }
}

/// From the keyword to the end of the last thing that could be read
fn whole(declaration: &Declaration) -> Span {
    let head = declaration.sort.at.to(declaration.name.at);
    let ends = declaration.clauses.iter().map(|clause| match &clause.value {
        Clause::With(line) | Clause::Without(line) => {
            line.because.as_ref().map_or(clause.at, |because| clause.at.to(because.at))
        }
        _ => clause.at,
    });
    let label = declaration.label.iter().map(|label| label.at);
    ends.chain(label).fold(head, Span::to)
}
