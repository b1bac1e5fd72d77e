//! The blanks between the words of a head or of a clause.

use crate::invariant::Hold;
use crate::source::run;
use crate::syntax::language::{ClauseWord, starting_with};

/// What sort of text is spaced
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Spacing {
    /// Most clauses
    Plain,
    /// A clause with an expression before its colon, or before its `where`
    Reckoned,
    /// A row of a table, its first word filled up to so many columns
    Row(usize),
}

/// One word, number, text or sign
#[derive(Clone, Copy)]
struct Token<'a> {
    text: &'a str,
    /// A minus sign that belongs to the number after it
    unary: bool,
}

/// A piece of a line with the canonical blanks between its words
pub(super) fn spaced(piece: &str, spacing: Spacing) -> String {
    let mut out = String::with_capacity(piece.len() + 8);
    let mut before: Option<Token<'_>> = None;
    for token in tokens(piece, spacing) {
        if let Some(before) = before {
            out.extend(std::iter::repeat_n(' ', blanks(before, token, spacing, out.len())));
        }
        out.push_str(token.text);
        before = Some(token);
    }
    out
}

/// Blanks between two tokens, the first of which ends at the column `column`
fn blanks(before: Token<'_>, token: Token<'_>, spacing: Spacing, column: usize) -> usize {
    if matches!(token.text, "," | ":" | ")") || before.text == "(" || before.unary {
        return 0;
    }
    if token.text == "%" && before.text.starts_with(|sign: char| sign.is_ascii_digit()) {
        return 0;
    }
    match spacing {
        Spacing::Row(width) if column < width => width - column,
        Spacing::Row(_) if matches!(token.text, "tolerance" | "only") => 2,
        Spacing::Row(_) if token.text == "where" && before.text != "only" => 2,
        _ => 1,
    }
}

fn tokens(piece: &str, spacing: Spacing) -> Vec<Token<'_>> {
    let mut tokens: Vec<Token<'_>> = Vec::new();
    let mut reckons = spacing == Spacing::Reckoned;
    // From here on a word may start with a digit.
    let mut names = false;
    let mut rest = piece.trim();
    while let Some(first) = rest.chars().next() {
        let before = tokens.last().map(|token| token.text);
        let length = match first {
            '"' => rest.get(1..).and_then(|inner| inner.find('"')).map_or(rest.len(), |end| end + 2),
            _ if first.is_ascii_digit() => {
                let before = tokens.iter().rev().find(|token| !token.unary).map(|token| token.text);
                number_length(rest, has_unit(before, spacing, names))
            }
            _ if is_word(first) => word_length(rest),
            _ => first.len_utf8(),
        };
        let (text, after) = rest.split_at_checked(length).hold("a token ends at a letter");
        names |= text == "where" || (reckons && text == ":");
        reckons &= text != ":" && text != "where";
        let unary = text == "-" && !(reckons && before.is_some_and(ends_operand));
        tokens.push(Token { text, unary });
        rest = after.trim_start();
    }
    tokens
}

/// Whether letters right behind a number are its unit, and not the rest of a word that starts with a digit
fn has_unit(before: Option<&str>, spacing: Spacing, names: bool) -> bool {
    match before {
        Some("over" | "under" | "nearest") => true,
        Some(word) if starting_with(word).is_some_and(ClauseWord::takes_time) => true,
        Some("of" | "across") => false,
        _ => !names && matches!(spacing, Spacing::Row(_) | Spacing::Reckoned),
    }
}

/// Whether an expression may end with a token, so that a minus after it takes away
fn ends_operand(text: &str) -> bool {
    const OPENERS: [&str; 4] = ["from", "is", "of", "across"];
    text == ")" || (text.starts_with(is_word) && !OPENERS.contains(&text))
}

fn is_word(sign: char) -> bool {
    sign.is_alphanumeric() || matches!(sign, '_' | '°' | '·')
}

fn word_length(text: &str) -> usize {
    run(text, is_word).len()
}

/// Length of a number with its decimals; or of the whole word that starts with it
fn number_length(text: &str, has_unit: bool) -> usize {
    let digits = |text: &str| run(text, |sign| sign.is_ascii_digit()).len();
    let whole = digits(text);
    let decimals = text.get(whole..).and_then(|rest| rest.strip_prefix('.')).map_or(0, digits);
    match decimals {
        0 if has_unit => whole,
        0 => word_length(text),
        _ => whole + 1 + decimals,
    }
}
