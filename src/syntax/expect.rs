//! What is said about a line that does not follow the language, in the author's words.

use super::grammar::{Rule, RuleParser};
use super::lower::Piece;
use super::tree::Sort;
use crate::problem::code::Code;
use crate::problem::{Problem, nearest};
use crate::source::Span;
use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};
use std::collections::BTreeSet;

/// Words that start a clause
pub(super) const CLAUSES: [&str; 38] = [
    "access",
    "basis",
    "caution",
    "chance",
    "choices",
    "costs",
    "counts",
    "ends",
    "error",
    "fixes",
    "forms",
    "from",
    "gives",
    "grades",
    "is",
    "kind",
    "left",
    "makes",
    "needs",
    "only",
    "range",
    "reads",
    "renews",
    "rubs",
    "shows",
    "spread",
    "takes",
    "tell",
    "text",
    "unit",
    "while",
    "with",
    "within",
    "without",
    "loses",
    "toward",
    "where",
    "tolerance",
];

/// More expected words than this are told as a group
const MOST_WORDS: usize = 6;

/// What is wrong with a line that should start a declaration
pub(super) fn broken_head(line: &Piece<'_>) -> Problem {
    let first = first_word(line.as_str());
    if !Sort::ALL.iter().any(|sort| sort.word() == first) {
        let at = word_span(line, first);
        let sorts = Sort::ALL.map(Sort::word);
        let message = format!("no declaration starts with `{first}`");
        return Problem::new(Code::Syntax, at, message).help(match nearest(first, sorts) {
            Some(sort) => format!("did you mean `{sort}`?"),
            None if CLAUSES.contains(&first) => {
                format!("`{first}` starts a clause: indent the line by at least one space")
            }
            None => format!("a declaration starts with {}", listed(&sorts)),
        });
    }
    expected(line, Rule::only_head)
}

/// The name that a broken head line seems to declare
pub(super) fn name_in_head(line: &Piece<'_>) -> Option<String> {
    let rest = line.as_str().strip_prefix(first_word(line.as_str()))?;
    let name = first_word(rest);
    RuleParser::parse(Rule::name, name).is_ok().then(|| name.to_owned())
}

/// What is wrong with an indented line
pub(super) fn broken_clause(line: &Piece<'_>, sort: Option<Sort>) -> Problem {
    let first = first_word(line.as_str());
    let takes_entries = matches!(sort, Some(Sort::Scale | Sort::Dimensions | Sort::Life));
    if !takes_entries && !first.is_empty() && !CLAUSES.contains(&first) {
        let at = word_span(line, first);
        let message = format!("no clause starts with `{first}`");
        return Problem::new(Code::Syntax, at, message).help(match nearest(first, CLAUSES) {
            Some(clause) => format!("did you mean `{clause}`?"),
            None if Sort::ALL.iter().any(|sort| sort.word() == first) => {
                format!("`{first}` starts a declaration: it must stand at the first column")
            }
            None => "a clause starts with its keyword, such as `with`, `grades` or `basis`".to_owned(),
        });
    }
    expected(line, Rule::only_clauses)
}

/// Reads the line again by itself and tells what the grammar missed, and where
fn expected(line: &Piece<'_>, rule: Rule) -> Problem {
    let start = line.span().start;
    let Err(fault) = RuleParser::parse(rule, line.as_str()) else {
        return Problem::new(Code::Syntax, line.span(), "this line cannot be read");
    };
    let offset = match fault.location {
        InputLocation::Pos(offset) | InputLocation::Span((offset, _)) => offset,
    };
    let rest = line.as_str().get(offset..).unwrap_or("");
    let found = first_word(rest);
    let at = Span { source: line.span().source, start: start + offset, end: start + offset + found.len() };
    let words = match fault.variant {
        ErrorVariant::ParsingError { positives, .. } => wanted(&positives),
        ErrorVariant::CustomError { .. } => Vec::new(),
    };
    let wanted = match words.as_slice() {
        [] => "something else".to_owned(),
        words if words.len() > MOST_WORDS => "a clause, or the end of the line".to_owned(),
        words => listed(&words.iter().map(String::as_str).collect::<Vec<_>>()),
    };
    let message = match found {
        "" => format!("expected {wanted} before the end of the line"),
        found => format!("expected {wanted}, found `{found}`"),
    };
    Problem::new(Code::Syntax, at, message).help(advice(found, &words))
}

fn advice(found: &str, words: &[String]) -> String {
    let reserved =
        RuleParser::parse(Rule::stop, found).is_ok() || RuleParser::parse(Rule::formula_word, found).is_ok();
    if reserved && words.iter().any(|word| word == "a name" || word == "a word") {
        format!("`{found}` is a word of the language and cannot name anything; choose another")
    } else {
        String::new()
    }
}

/// The author's words for what the grammar wanted, each once
fn wanted(rules: &[Rule]) -> Vec<String> {
    let words: BTreeSet<String> = rules.iter().filter_map(|&rule| word(rule)).collect();
    words.into_iter().collect()
}

/// The author's word for a rule of the grammar; none for what never helps
fn word(rule: Rule) -> Option<String> {
    let word = match rule {
        Rule::name | Rule::names | Rule::factor | Rule::sum | Rule::product => "a name",
        Rule::word | Rule::bounded | Rule::counted | Rule::choice | Rule::value => "a word",
        Rule::text | Rule::sentence => "a text in quotes",
        Rule::colon => "`:`",
        Rule::number | Rule::figure => "a number",
        Rule::percent => "a per cent",
        Rule::quantity | Rule::point => "a number with its unit",
        Rule::unit_word => "a unit",
        Rule::frequency | Rule::effect | Rule::effects => "a per cent or a word of the scale",
        Rule::parent => "a cause or condition",
        Rule::term | Rule::test | Rule::equals | Rule::above | Rule::below => {
            "a test such as `chain_type is dry`"
        }
        Rule::attribute | Rule::each | Rule::numbered | Rule::of_part => "`each …`, `numbered` or `of …`",
        Rule::grade_sign => "`,` `|` `<` or `>`",
        Rule::plus | Rule::minus | Rule::times | Rule::over => "`+` `-` `*` or `/`",
        Rule::EOI => "the end of the line",
        Rule::clause | Rule::clauses => "a clause",
        _ => return keyword(rule),
    };
    Some(word.to_owned())
}

/// The keyword that a rule stands for, or the one its construct starts with
fn keyword(rule: Rule) -> Option<String> {
    let name = format!("{rule:?}");
    let word = match rule {
        Rule::line_where => "where",
        Rule::toward_one | Rule::toward_this | Rule::toward_other => "toward",
        Rule::either_side | Rule::any_part => "on",
        Rule::of_noun => "of",
        Rule::half_row => "in",
        Rule::since_turned => "since",
        Rule::counts_against => "counts",
        Rule::common_practice => "common",
        Rule::after | Rule::tolerance => return Some(format!("`{name}`")),
        _ => name.strip_prefix("kw_")?,
    };
    Some(format!("`{word}`"))
}

fn listed(words: &[&str]) -> String {
    let quoted: Vec<String> = words
        .iter()
        .map(|word| if word.contains([' ', '`']) { (*word).to_owned() } else { format!("`{word}`") })
        .collect();
    match quoted.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// The first word of a line, or its first sign
fn first_word(line: &str) -> &str {
    let line = line.trim_start();
    let length = line.find(|sign: char| !(sign.is_alphanumeric() || sign == '_')).unwrap_or(line.len());
    let first_sign = line.chars().next().map_or(0, char::len_utf8);
    line.get(..length.max(first_sign)).unwrap_or("")
}

fn word_span(line: &Piece<'_>, word: &str) -> Span {
    let start = line.span().start + line.as_str().len() - line.as_str().trim_start().len();
    Span { source: line.span().source, start, end: start + word.len() }
}
