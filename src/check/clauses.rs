//! Which clauses a sort of block takes, how often, and which it must have.

use super::names::Names;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{Span, Spanned};
use crate::syntax::language::{self, Often, ROW};
use crate::syntax::tree::{Clause, Declaration, Sort};
use std::collections::BTreeMap;

/// Says which clauses do not belong, stand twice, or are missing
pub(super) fn check(names: &Names<'_>, problems: &mut Problems) {
    for sort in Sort::ALL {
        for (_, declaration) in names.of(sort) {
            misplaced(declaration, problems);
            if sort == Sort::Remedy {
                not_beside(declaration, &LOOKS, problems);
                not_beside(declaration, &SETS, problems);
                not_beside(declaration, &ON_SITE, problems);
            }
            if !declaration.broken {
                missing(declaration, problems);
            }
        }
    }
}

fn misplaced(declaration: &Declaration, problems: &mut Problems) {
    let sort = declaration.sort.value;
    let taken: BTreeMap<&str, Often> =
        language::taken(sort).map(|(clause, often)| (clause.word, often)).collect();
    let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
    for clause in &declaration.clauses {
        let word = clause.value.word();
        match taken.get(word) {
            None => problems.push(
                Problem::new(
                    Code::WrongClause,
                    keyword(clause),
                    format!("`{word}` does not belong in {}", sort.block().spoken),
                )
                .help(format!("what belongs there is {}", listed(sort))),
            ),
            Some(Often::Once) => {
                if let Some(&first) = seen.get(word) {
                    problems.push(
                        Problem::new(
                            Code::RepeatedClause,
                            keyword(clause),
                            format!("`{word}` stands twice in this block"),
                        )
                        .also(first, "first given here")
                        .help("keep one of the two"),
                    );
                }
                seen.entry(word).or_insert(keyword(clause));
            }
            Some(Often::Often) => {}
        }
    }
}

/// A clause that rules others out in its remedy
struct Alone {
    /// The clause
    word: &'static str,
    /// What it rules out
    others: &'static [&'static str],
    /// What a remedy with it does
    does: &'static str,
    /// Why it rules them out
    by_this: &'static str,
    /// What to do
    help: &'static str,
}

/// A look does no work on a part
const LOOKS: Alone = Alone {
    word: "finds out",
    others: &["renews", "lasts"],
    does: "finds out",
    by_this: "by this it mends nothing",
    help: "take `finds out` away, or write the look as a remedy of its own",
};
/// What is set right is no look, and nothing of it is new
const SETS: Alone = Alone {
    word: "sets right",
    others: &["renews", "lasts", "finds out"],
    does: "sets right",
    by_this: "by this it only sets right what is there",
    help: "take `sets right` away, or write the setting as a remedy of its own",
};

/// What is done on site shares no visit with other work
const ON_SITE: Alone = Alone {
    word: "on site",
    others: &["renews", "lasts", "along", "while"],
    does: "is done on site",
    by_this: "by this it is done in no visit",
    help: "take `on site` away, or write what is done on site as a remedy of its own",
};

/// Says which clauses a remedy cannot have beside one that rules them out
fn not_beside(declaration: &Declaration, alone: &Alone, problems: &mut Problems) {
    let Some(ruling) = declaration.clauses.iter().find(|clause| clause.value.word() == alone.word) else {
        return;
    };
    for clause in &declaration.clauses {
        let word = clause.value.word();
        if alone.others.contains(&word) {
            problems.push(
                Problem::new(
                    Code::WrongClause,
                    keyword(clause),
                    format!("`{word}` does not belong in a remedy that {}", alone.does),
                )
                .also(keyword(ruling), alone.by_this)
                .help(alone.help),
            );
        }
    }
}

/// Where the words stand that a clause starts with; the name of a row, which has none
fn keyword(clause: &Spanned<Clause>) -> Span {
    match &clause.value {
        Clause::Entry(entry) => entry.name.at,
        other => Span { end: clause.at.end.min(clause.at.start + other.word().len()), ..clause.at },
    }
}

fn missing(declaration: &Declaration, problems: &mut Problems) {
    let has = |words: &[&str]| declaration.clauses.iter().any(|clause| words.contains(&clause.value.word()));
    let sort = declaration.sort.value;
    let needed = match sort {
        Sort::Measure => measure_must(has),
        // What stands in another class could not be taken over, and that has been told.
        Sort::Dimensions | Sort::Life if has(&["as"]) => &[],
        _ => sort.block().must,
    };
    for words in needed {
        if !has(words) {
            let message = format!(
                "`{}` has no {}",
                declaration.name.value,
                quoted(words, " and no ").replace("a row", ROW)
            );
            let row = language::taken(sort).map(|(clause, _)| clause).find(|clause| clause.word == ROW);
            let help = match row {
                Some(row) => format!("add an indented row, such as `{}`", row.example),
                None => format!("add an indented line with {}", quoted(words, " or ")),
            };
            problems.push(Problem::new(Code::MissingClause, declaration.name.at, message).help(help));
        }
    }
}

/// What a measure must have hangs on what it has
fn measure_must(has: impl Fn(&[&str]) -> bool) -> &'static [&'static [&'static str]] {
    if has(&["against"]) && !has(&["more", "less"]) {
        &[&["more", "less"]]
    } else if has(&["more", "less"]) && !has(&["against"]) {
        &[&["against"]]
    } else if has(&["is"]) && !has(&["unit", "range", "error"]) {
        &[]
    } else if has(&["is"]) {
        &[&["unit"], &["range"], &["error"]]
    } else {
        Sort::Measure.block().must
    }
}

/// Words of clauses with something between them
fn quoted(words: &[&str], between: &str) -> String {
    let quoted = words.iter().map(|&word| if word == ROW { "a row".to_owned() } else { format!("`{word}`") });
    quoted.collect::<Vec<_>>().join(between)
}

fn listed(sort: Sort) -> String {
    let words: Vec<&str> = language::taken(sort).map(|(clause, _)| clause.word).collect();
    quoted(&words, ", ")
}
