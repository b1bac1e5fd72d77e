//! What is said about a line that does not follow the language, in the author's words.

use super::grammar::{Rule, RuleParser};
use super::language::{self, ACCESS, ClauseWord, Sort, has_rows};
use super::piece::Piece;
use crate::problem::code::Code;
use crate::problem::{Problem, nearest};
use crate::source::{Span, piece, run};
use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};
use std::collections::BTreeSet;

/// Words that go on with a clause, and start none
const GOING_ON: [&str; 12] =
    ["across", "after", "and", "for", "loses", "of", "on", "or", "then", "tolerance", "toward", "where"];

/// More expected words than this are named as a group
const MOST_WORDS: usize = 6;

/// Words that start a statement
const STATEMENTS: [&str; 3] = ["basis", "opposites", "hazard"];

/// What is wrong with a line that should start a declaration
pub(super) fn broken_head(line: &Piece<'_>) -> Problem {
    let first = first_word(line.as_str());
    match Sort::of(first) {
        Some(Sort::Kind) => expected(line, Rule::only_kind),
        Some(sort) if has_rows(sort) => expected(line, Rule::only_row_head),
        Some(_) => expected(line, Rule::only_head),
        None if STATEMENTS.contains(&first) => expected(line, Rule::only_statement),
        None => no_declaration(word_span(line, first), first),
    }
}

fn no_declaration(at: Span, first: &str) -> Problem {
    let sorts = Sort::ALL.map(Sort::word);
    let message = format!("no declaration starts with `{}`", shown(first));
    Problem::new(Code::Syntax, at, message).help(match nearest(first, sorts.into_iter().chain(STATEMENTS)) {
        _ if let Some(help) = odd_sign(first) => help.to_owned(),
        Some(sort) => format!("did you mean `{sort}`?"),
        None if is_clause(first) => {
            format!("`{first}` starts a clause: indent the line by at least one space")
        }
        None if first == "\"" || GOING_ON.contains(&first) => {
            "indent the line by at least one space if it belongs to the declaration above".to_owned()
        }
        None => format!("a declaration starts with {}", listed(&sorts)),
    })
}

/// Whether a word starts a clause
fn is_clause(word: &str) -> bool {
    language::starting_with(word).is_some()
}

/// The words that start a clause, in the order of the alphabet
fn clause_words() -> BTreeSet<&'static str> {
    language::clauses().filter_map(ClauseWord::keyword).collect()
}

/// Whether a line starts with the keyword of a clause
pub(super) fn starts_clause(line: &Piece<'_>) -> bool {
    is_clause(first_word(line.as_str()))
}

/// What is wrong with an indented line
pub(super) fn broken_clause(line: &Piece<'_>, sort: Option<Sort>) -> Problem {
    let first = first_word(line.as_str());
    let rows = sort.is_some_and(has_rows);
    if is_clause(first) || first == "\"" {
        expected(line, Rule::only_clauses)
    } else if rows {
        expected(line, Rule::only_rows)
    } else {
        no_clause(word_span(line, first), first)
    }
}

/// Says that a word starts no clause
pub(super) fn no_clause(at: Span, word: &str) -> Problem {
    let starts_block = Sort::of(word).is_some();
    let message = format!("no clause starts with `{}`", shown(word));
    let meant = SLIPS.iter().find(|(slip, _)| *slip == word).map(|(_, meant)| *meant);
    let meant = meant.or_else(|| nearest(word, clause_words().into_iter().chain(GOING_ON)));
    Problem::new(Code::Syntax, at, message).help(match meant {
        _ if let Some(help) = odd_sign(word) => help.to_owned(),
        _ if GOING_ON.contains(&word) => {
            "put it on the line it belongs to: a clause stands on one line".to_owned()
        }
        _ if starts_block => format!("`{word}` starts a declaration: it must stand at the first column"),
        Some(clause) => format!("did you mean `{clause}`?"),
        None => "a clause starts with its keyword, such as `with`, `grades` or `basis`".to_owned(),
    })
}

/// Reads the line again by itself and tells what the grammar missed, and where
fn expected(line: &Piece<'_>, rule: Rule) -> Problem {
    let text = line.as_str();
    let start = line.span().start;
    let Err(fault) = RuleParser::parse(rule, text) else {
        return Problem::new(Code::Syntax, line.span(), "this line cannot be read");
    };
    let (InputLocation::Pos(offset) | InputLocation::Span((offset, _))) = fault.location;
    let found = first_sign(piece(text, offset..));
    let at = Span { source: line.span().source, start: start + offset, end: start + offset + found.len() };
    let words = match &fault.variant {
        ErrorVariant::ParsingError { positives, .. } => wanted(positives, rule),
        ErrorVariant::CustomError { .. } => Vec::new(),
    };
    let wanted = match words.as_slice() {
        [] => "something else".to_owned(),
        words if words.len() > MOST_WORDS => "a clause or the end of the line".to_owned(),
        words => listed(&words.iter().map(String::as_str).collect::<Vec<_>>()),
    };
    let message = match found {
        "" => format!("expected {wanted} before the end of the line"),
        found => format!("expected {wanted}, found `{}`", shown(found)),
    };
    let declares = text.get(..offset).is_some_and(|before| before.trim_end() == first_word(text));
    let code = if declares && is_reserved(found) && rule != Rule::only_clauses {
        Code::ReservedName
    } else {
        Code::Syntax
    };
    let (before, after) = (piece(text, ..offset), piece(text, offset + found.len()..));
    let help = if has_decimal_comma(before, found, after) {
        "write a point before decimals, as in `0.5`".to_owned()
    } else {
        advice(found, &words)
    };
    Problem::new(code, at, message).help(help)
}

/// Whether the fault lies in a number written with a comma before its decimals
fn has_decimal_comma(before: &str, found: &str, after: &str) -> bool {
    let digit = |sign: char| sign.is_ascii_digit();
    let decimals = after.strip_prefix(',').is_some_and(|decimals| decimals.starts_with(digit));
    (found == "," && before.ends_with(digit) && after.starts_with(digit))
        || (found.ends_with(digit) && decimals)
}

fn is_reserved(word: &str) -> bool {
    RuleParser::parse(Rule::stop, word).is_ok() || RuleParser::parse(Rule::formula_word, word).is_ok()
}

/// What to do, where the sign found shows what was meant
fn advice(found: &str, words: &[String]) -> String {
    let wants = |word: &str| words.iter().any(|wanted| wanted == word);
    let reserved = is_reserved(found);
    if let Some(help) = odd_sign(found) {
        help.to_owned()
    } else if reserved && (wants(NAME) || wants_word(words)) {
        format!("`{found}` is a word of the language and cannot name anything")
    } else if let Some(meant) = meant(found, words) {
        format!("did you mean `{meant}`?")
    } else if (wants(NAME) || wants(ROW)) && is_word(found) && !reserved && !is_name(found) {
        "a name is made of small letters, digits and `_`, and starts with a letter".to_owned()
    } else if (wants(PERCENT) || wants(SHARE))
        && found.bytes().all(|byte| byte.is_ascii_digit())
        && !found.is_empty()
    {
        "a share is written in per cent, as in `5%`".to_owned()
    } else if wants("`,`") && matches!(found, "each" | "numbered" | "of") {
        format!("put a comma before `{found}`")
    } else if wants(TEXT) && is_word(found) && !reserved {
        "put the text in double quotes".to_owned()
    } else if found.is_empty() {
        "a declaration or a clause stands whole on its line".to_owned()
    } else {
        String::new()
    }
}

/// Whether nothing but a word that names a grade, a choice or a form can stand here
fn wants_word(words: &[String]) -> bool {
    matches!(words, [word] if [GRADE, OUTCOME, CHOICE, FORM].contains(&word.as_str()))
}

pub(super) fn is_name(word: &str) -> bool {
    RuleParser::parse(Rule::name, word).is_ok_and(|name| name.as_str() == word)
}

pub(super) fn is_grade(word: &str) -> bool {
    RuleParser::parse(Rule::grade, word).is_ok_and(|grade| grade.as_str() == word)
}

fn is_word(found: &str) -> bool {
    found.starts_with(char::is_alphanumeric)
}

/// Words that a hand writes for another word of the language
const SLIPS: [(&str, &str); 6] = [
    ("above", "over"),
    ("below", "under"),
    ("if", "where"),
    ("when", "where"),
    ("both", "either"),
    ("each", "any"),
];

/// The word of the language that was meant, among those that could stand here
fn meant<'w>(found: &str, words: &'w [String]) -> Option<&'w str> {
    let keywords = || words.iter().filter_map(|word| word.strip_prefix('`')?.strip_suffix('`'));
    if !is_word(found) {
        return None;
    }
    let slip = SLIPS.iter().find(|(slip, _)| *slip == found).map(|(_, meant)| *meant);
    let clauses = words.iter().any(|word| word == CLAUSE).then(clause_words).into_iter().flatten();
    match keywords().find(|&word| Some(word) == slip) {
        Some(meant) => Some(meant),
        None => nearest(found, keywords().chain(clauses)).filter(|&meant| meant != found),
    }
}

/// A sign as it can be printed: what shows nothing by its number
fn shown(found: &str) -> String {
    let shows_nothing = |sign: char| sign.is_control() || sign.is_whitespace();
    let sign =
        |sign: char| if shows_nothing(sign) { sign.escape_unicode().to_string() } else { sign.to_string() };
    found.chars().map(sign).collect()
}

/// What to do about a sign that a word processor puts in the place of a plain one
fn odd_sign(found: &str) -> Option<&'static str> {
    match found.chars().next()? {
        sign if "“”„‟«»″".contains(sign) => Some("write the plain double quote, `\"`"),
        sign if !sign.is_ascii() && (sign.is_whitespace() || sign.is_control()) => {
            Some("this is a space of another kind: write a plain one")
        }
        _ => None,
    }
}

/// The author's words for what the grammar wanted, each once
fn wanted(rules: &[Rule], read_as: Rule) -> Vec<String> {
    let words: BTreeSet<String> = rules.iter().filter_map(|&rule| word(rule)).collect();
    let rows = matches!(read_as, Rule::only_rows | Rule::only_row_head);
    let row = |word: String| if rows && word == CLAUSE { ROW.to_owned() } else { word };
    words.into_iter().map(row).collect()
}

const NAME: &str = "a name";
const GRADE: &str = "a grade";
const OUTCOME: &str = "a grade or a choice";
const CHOICE: &str = "a choice";
const FORM: &str = "a form";
const TEXT: &str = "a text in quotes";
const CLAUSE: &str = "a clause";
const ROW: &str = "a row";
const PERCENT: &str = "a per cent";
const SHARE: &str = "a per cent or a word of the scale";

/// The author's word for a rule of the grammar; none for what never stands alone
fn word(rule: Rule) -> Option<String> {
    let word = match rule {
        Rule::name | Rule::names | Rule::renewed | Rule::mended | Rule::taken => NAME,
        Rule::parent => "a cause or condition",
        Rule::grade | Rule::counted => GRADE,
        Rule::outcome | Rule::bounded => OUTCOME,
        Rule::choice | Rule::choice_word => CHOICE,
        Rule::form => FORM,
        Rule::subject | Rule::test | Rule::term => "a fact, `side`, `hours` or a part",
        Rule::setting | Rule::value => CHOICE,
        Rule::thing => "what is counted",
        Rule::noun => "`machines`, `sides` or the plural of a numbered part",
        Rule::row | Rule::row_word => "`sides` or the plural of a numbered part",
        Rule::place_word => "`side` or a numbered part",
        Rule::stand => return Some(listed(&ACCESS)),
        Rule::factor | Rule::sum | Rule::product => "a measure or a number",
        Rule::text | Rule::sentence => TEXT,
        Rule::of_sort => "a word that starts a declaration",
        Rule::pair => "two texts in quotes with `and` between them",
        Rule::colon => "`:`",
        Rule::comma => "`,`",
        Rule::close => "`)`",
        Rule::number | Rule::figure => "a number",
        Rule::percent | Rule::whole => PERCENT,
        Rule::quantity | Rule::point => "a number with its unit",
        Rule::unit_word => "a unit",
        Rule::frequency | Rule::effect | Rule::effects => SHARE,
        Rule::common_practice | Rule::kw_common => "`common practice`",
        Rule::attribute => "`each`, `numbered` or `of`",
        Rule::grade_sign => "a sign between grades (`,` `|` `<` `>`)",
        Rule::plus | Rule::minus | Rule::times | Rule::over => "a sign (`+` `-` `*` `/`)",
        Rule::EOI => "the end of the line",
        Rule::clause | Rule::keyed_clause | Rule::clauses | Rule::entry => CLAUSE,
        _ => return keyword(rule),
    };
    Some(word.to_owned())
}

/// The keyword that a rule stands for, or the one its construct starts with
fn keyword(rule: Rule) -> Option<String> {
    let name = format!("{rule:?}");
    let word = match rule {
        Rule::line_where => "where",
        Rule::drawn_as => "as",
        Rule::drawn_along => "along",
        Rule::toward_one | Rule::toward_this | Rule::toward_other => "toward",
        Rule::either_side | Rule::any_part => "on",
        Rule::of_noun | Rule::of_part => "of",
        Rule::half_row => "in",
        Rule::since_turned => "since",
        Rule::counts_against => "counts",
        Rule::equals => "is",
        Rule::above | Rule::over_percent => "over",
        Rule::below => "under",
        Rule::to_percent | Rule::nearest => "to",
        Rule::file_basis => "basis",
        Rule::across | Rule::gather => "mean",
        Rule::half_of => "half",
        Rule::of_part_hours => "hours",
        Rule::of_part_turn => "turn",
        Rule::about => "worn",
        Rule::bracket => "(",
        // else: it is called by its own name
        _ => language::read_by(rule)
            .and_then(ClauseWord::keyword)
            .unwrap_or_else(|| name.strip_prefix("kw_").unwrap_or(&name)),
    };
    (!NOT_NAMED.contains(&rule)).then(|| format!("`{word}`"))
}

/// Rules that hold others, or that the grammar never asks for by themselves
const NOT_NAMED: [Rule; 27] = [
    Rule::WHITESPACE,
    Rule::file,
    Rule::block,
    Rule::head_line,
    Rule::stray_line,
    Rule::clause_line,
    Rule::broken,
    Rule::head,
    Rule::opening,
    Rule::keyed,
    Rule::only_head,
    Rule::only_row_head,
    Rule::only_kind,
    Rule::only_statement,
    Rule::statement,
    Rule::only_clauses,
    Rule::only_rows,
    Rule::sort,
    Rule::stop,
    Rule::formula_word,
    Rule::word,
    Rule::word_char,
    Rule::empty_line,
    Rule::last_line,
    Rule::line_end,
    Rule::blank,
    Rule::comment,
];

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

/// The first word of a line, or its first sign, spaces before it passed over
fn first_word(line: &str) -> &str {
    first_sign(line.trim_start_matches([' ', '\t']))
}

/// The word that a text starts with, or its first sign
fn first_sign(line: &str) -> &str {
    let word = run(line, |sign| sign.is_alphanumeric() || sign == '_');
    let first_sign = line.chars().next().map_or(0, char::len_utf8);
    piece(line, ..word.len().max(first_sign))
}

fn word_span(line: &Piece<'_>, word: &str) -> Span {
    let indent = line.as_str().len() - line.as_str().trim_start_matches([' ', '\t']).len();
    let start = line.span().start + indent;
    Span { source: line.span().source, start, end: start + word.len() }
}
