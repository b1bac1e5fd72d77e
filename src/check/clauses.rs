//! Which clauses a sort of block takes, how often, and which it must have.

use super::names::Names;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{Clause, Declaration, Sort};
use std::collections::BTreeMap;

/// The word for a row of a table, which has no keyword
pub const ROW: &str = "row";

/// Says which clauses do not belong, stand twice, or are missing
pub(super) fn check(names: &Names<'_>, problems: &mut Problems) {
    for sort in Sort::ALL {
        for (_, declaration) in names.of(sort) {
            misplaced(declaration, problems);
            if sort == Sort::Remedy {
                mended_by_a_look(declaration, problems);
            }
            if !declaration.broken {
                missing(declaration, problems);
            }
        }
    }
}

fn misplaced(declaration: &Declaration, problems: &mut Problems) {
    let sort = declaration.sort.value;
    let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
    for clause in &declaration.clauses {
        let word = word(&clause.value);
        match allowed(sort, word) {
            Allowed::Never => problems.push(
                Problem::new(
                    Code::WrongClause,
                    keyword(clause),
                    format!("`{word}` does not belong in {}", block(sort)),
                )
                .help(format!("what belongs there is {}", listed(sort))),
            ),
            Allowed::Once => {
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
            Allowed::Often => {}
        }
    }
}

/// Says which clauses a look cannot have, since they tell of work on a part
fn mended_by_a_look(declaration: &Declaration, problems: &mut Problems) {
    let Some(look) = declaration.clauses.iter().find(|clause| clause.value == Clause::FindsOut) else {
        return;
    };
    for clause in &declaration.clauses {
        let word = word(&clause.value);
        if ["renews", "lasts"].contains(&word) {
            problems.push(
                Problem::new(
                    Code::WrongClause,
                    keyword(clause),
                    format!("`{word}` does not belong in a remedy that finds out"),
                )
                .also(keyword(look), "by this it mends nothing")
                .help("take `finds out` away, or write the look as a remedy of its own"),
            );
        }
    }
}

/// Where the words stand that a clause starts with; the name of a row, which has none
fn keyword(clause: &Spanned<Clause>) -> Span {
    match &clause.value {
        Clause::Entry(entry) => entry.name.at,
        other => Span { end: clause.at.end.min(clause.at.start + word(other).len()), ..clause.at },
    }
}

/// A block of a sort, as it is spoken of
fn block(sort: Sort) -> String {
    match sort {
        Sort::Scale => "the scale".to_owned(),
        Sort::Dimensions | Sort::Life => format!("`{}`", sort.word()),
        _ => format!("a {}", sort.word()),
    }
}

fn missing(declaration: &Declaration, problems: &mut Problems) {
    let has = |words: &[&str]| declaration.clauses.iter().any(|clause| words.contains(&word(&clause.value)));
    let needed: &[&[&str]] = match declaration.sort.value {
        Sort::Cause => &[&["kind"], &["chance"]],
        Sort::Fact => &[&["choices"]],
        Sort::Condition => &[&["with", "without"]],
        Sort::Symptom => &[&["with", "without"]],
        Sort::Measure if has(&["against"]) && !has(&["more", "less"]) => &[&["more", "less"]],
        Sort::Measure if has(&["more", "less"]) && !has(&["against"]) => &[&["against"]],
        Sort::Measure if has(&["is"]) && !has(&["unit", "range", "error"]) => &[],
        Sort::Measure if has(&["is"]) => &[&["unit"], &["range"], &["error"]],
        Sort::Measure => &[&["unit", "is"], &["range"], &["error"]],
        Sort::Check => &[&["shows", "reads", "makes"], &["takes"]],
        Sort::Remedy => &[&["fixes", "renews"]],
        Sort::Scale | Sort::Dimensions | Sort::Life => &[&[ROW]],
        Sort::Kind | Sort::State | Sort::Part => &[],
    };
    for words in needed {
        if !has(words) {
            let message = format!(
                "`{}` has no {}",
                declaration.name.value,
                quoted(words, " and no ").replace("a row", ROW)
            );
            let help = match declaration.sort.value {
                Sort::Scale => "add an indented row, such as `often 60%`".to_owned(),
                Sort::Dimensions => {
                    "add an indented row, such as `link_height 114 mm 0%, 103 mm 100%`".to_owned()
                }
                Sort::Life => "add an indented row, such as `link_height 5000 h`".to_owned(),
                _ => format!("add an indented line with {}", quoted(words, " or ")),
            };
            problems.push(Problem::new(Code::MissingClause, declaration.name.at, message).help(help));
        }
    }
}

/// Words of clauses with something between them
fn quoted(words: &[&str], between: &str) -> String {
    let quoted = words.iter().map(|&word| if word == ROW { "a row".to_owned() } else { format!("`{word}`") });
    quoted.collect::<Vec<_>>().join(between)
}

/// How often a block takes a clause
#[derive(Clone, Copy, PartialEq)]
enum Allowed {
    Never,
    Once,
    Often,
}

/// The words of the clauses that a sort of block takes: those taken once, and those taken as often as one likes
pub fn taken(sort: Sort) -> (&'static [&'static str], &'static [&'static str]) {
    match sort {
        Sort::Scale => (&[], &[ROW]),
        Sort::Dimensions => (&["basis", "text"], &[ROW]),
        Sort::Life => (&["spread", "basis", "text"], &[ROW]),
        Sort::Kind | Sort::State => (&["text"], &[]),
        Sort::Part => (&["rubs", "only where", "text"], &[]),
        Sort::Fact => (&["from", "tell", "takes", "only where", "basis", "text"], &["choices"]),
        Sort::Cause => (&["kind", "forms", "only where", "basis", "text"], &["chance"]),
        Sort::Condition => (&["grades", "only where", "basis", "text"], &["with", "without"]),
        Sort::Symptom => (
            &["grades", "from", "counts", "seen", "only where", "basis", "text"],
            &["with", "without", "gives way"],
        ),
        Sort::Measure => (
            &["unit", "range", "error", "against", "more", "less", "needs", "only where", "basis", "text"],
            &["is", "advice"],
        ),
        Sort::Check => (
            &["while", "makes", "takes", "access", "only where", "basis", "text"],
            &["shows", "reads", "ends", "needs", "caution"],
        ),
        Sort::Remedy => (
            &["finds out", "while", "takes", "costs", "within", "left", "only where", "basis", "text"],
            &["fixes", "renews", "spares", "lasts", "caution"],
        ),
    }
}

fn allowed(sort: Sort, word: &str) -> Allowed {
    let (once, often) = taken(sort);
    if once.contains(&word) {
        Allowed::Once
    } else if often.contains(&word) {
        Allowed::Often
    } else {
        Allowed::Never
    }
}

fn listed(sort: Sort) -> String {
    let (once, often) = taken(sort);
    let words: Vec<&str> = often.iter().chain(once).copied().collect();
    quoted(&words, ", ")
}

/// The words a clause starts with; [`ROW`] for a row of a table
pub fn word(clause: &Clause) -> &'static str {
    match clause {
        Clause::Grades(_) => "grades",
        Clause::With(_) => "with",
        Clause::Without(_) => "without",
        Clause::Chance(_) => "chance",
        Clause::Choices { .. } => "choices",
        Clause::Forms(_) => "forms",
        Clause::OnlyWhere(_) => "only where",
        Clause::Kind(_) => "kind",
        Clause::Basis(_) => "basis",
        Clause::Text(_) => "text",
        Clause::From { .. } => "from",
        Clause::Counts(_) => "counts",
        Clause::GivesWay(_) => "gives way",
        Clause::Unit(_) => "unit",
        Clause::Range(_) => "range",
        Clause::Error(_) => "error",
        Clause::Needs(_) => "needs",
        Clause::Is { .. } => "is",
        Clause::Against { .. } => "against",
        Clause::More(_) => "more",
        Clause::Less(_) => "less",
        Clause::Advice { .. } => "advice",
        Clause::Tell(_) => "tell",
        Clause::Takes(_) => "takes",
        Clause::Shows(_) => "shows",
        Clause::Reads(_) => "reads",
        Clause::While(_) => "while",
        Clause::Makes(_) => "makes",
        Clause::Ends(_) => "ends",
        Clause::Access(_) => "access",
        Clause::Caution(_) => "caution",
        Clause::Fixes(_) => "fixes",
        Clause::FindsOut => "finds out",
        Clause::Renews(..) => "renews",
        Clause::Spares(_) => "spares",
        Clause::Lasts(_) => "lasts",
        Clause::Costs(_) => "costs",
        Clause::Within(_) => "within",
        Clause::Left(..) => "left",
        Clause::Rubs(_) => "rubs",
        Clause::Spread(_) => "spread",
        Clause::Seen { .. } => "seen",
        Clause::Entry(_) => ROW,
    }
}
