//! Words that mirrored lines swap, and the twin of a line.

use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{File, Line, Reach, Relation, Statement, Value};
use std::collections::BTreeMap;

/// What is swapped for what, by the words in small letters
#[derive(Clone, Debug, Default)]
pub struct Opposites<'t> {
    by_word: BTreeMap<&'t str, (&'t str, Span)>,
}

impl<'t> Opposites<'t> {
    /// The pairs that some files declare; a word counts with the first opposite it is given
    pub fn of(files: &'t [File], problems: &mut Problems) -> Self {
        let mut opposites = Opposites::default();
        for statement in files.iter().flat_map(|file| &file.statements) {
            let Statement::Opposites(pairs) = &statement.value else { continue };
            for [one, other] in pairs {
                opposites.add(one, other, problems);
            }
        }
        opposites
    }

    fn add(&mut self, one: &'t Spanned<String>, other: &'t Spanned<String>, problems: &mut Problems) {
        let before = problems.counts().0;
        for word in [one, other] {
            if !is_word(&word.value) {
                let message = format!("`{}` is no single word", word.value.trim());
                problems.push(
                    Problem::new(Code::Syntax, word.at, message)
                        .help("write one word of letters, digits and `_`, small letters only"),
                );
            }
            if let Some(&(opposite, first)) = self.by_word.get(word.value.as_str()) {
                let message = format!("`{}` has `{opposite}` for an opposite already", word.value);
                problems.push(
                    Problem::new(Code::DuplicateName, word.at, message)
                        .also(first, "first given here")
                        .help("keep one of the two"),
                );
            }
        }
        if one.value == other.value {
            problems.push(
                Problem::new(
                    Code::DuplicateName,
                    other.at,
                    format!("`{}` is no opposite of itself", one.value),
                )
                .also(one.at, "the same word")
                .help("write the word that is swapped for it"),
            );
        }
        if problems.counts().0 == before {
            self.by_word.insert(&one.value, (&other.value, one.at));
            self.by_word.insert(&other.value, (&one.value, other.at));
        }
    }

    /// Whether there is no pair at all
    pub fn is_empty(&self) -> bool {
        self.by_word.is_empty()
    }

    /// What a word is swapped for
    pub fn of_word(&self, word: &str) -> Option<&'t str> {
        self.by_word.get(word).map(|&(opposite, _)| opposite)
    }

    /// A line with all grades, forms, choices and words of its sentence swapped, and this side for the other; none where no
    /// grade or form has an opposite
    pub fn twin(&self, line: &Line) -> Option<Line> {
        let mut twin = line.clone();
        let parents = twin.parents.iter_mut().filter_map(|parent| parent.grade.as_mut());
        let effects = twin.effects.iter_mut().filter_map(|effect| effect.grade.as_mut());
        let mut swapped = false;
        for grade in parents.chain(effects) {
            swapped |= self.swap(&mut grade.value);
        }
        for reach in twin.parents.iter_mut().filter_map(|parent| parent.reach.as_mut()) {
            match reach.value {
                Reach::ThisSide => reach.value = Reach::OtherSide,
                Reach::OtherSide => reach.value = Reach::ThisSide,
                Reach::EitherSide | Reach::Any(_) => {}
            }
        }
        for term in &mut twin.test {
            let Relation::Is { values, .. } = &mut term.relation else { continue };
            for value in values {
                if let Value::Word(word) = &mut value.value {
                    self.swap(word);
                }
            }
        }
        if let Some(because) = &mut twin.because {
            because.value = self.sentence(&because.value);
        }
        swapped.then_some(twin)
    }

    fn swap(&self, word: &mut String) -> bool {
        let Some(opposite) = self.of_word(word) else { return false };
        opposite.clone_into(word);
        true
    }

    /// A sentence with all its words swapped; one that starts with a capital keeps it
    pub fn sentence(&self, text: &str) -> String {
        let mut swapped = String::with_capacity(text.len());
        let mut rest = text;
        while !rest.is_empty() {
            let word = rest.find(|sign| !is_sign(sign)).unwrap_or(rest.len()); // else: the text is one word
            let length = if word > 0 { word } else { rest.find(is_sign).unwrap_or(rest.len()) }; // else: no word is left
            let (piece, after) = rest.split_at_checked(length).unwrap_or((rest, "")); // else: the text ends there
            swapped.push_str(&self.capital(piece).unwrap_or_else(|| piece.to_owned())); // else: it has no opposite
            rest = after;
        }
        swapped
    }

    fn capital(&self, word: &str) -> Option<String> {
        if let Some(opposite) = self.of_word(word) {
            return Some(opposite.to_owned());
        }
        let (first, rest) = word.split_at_checked(1)?;
        let opposite = self.of_word(&(first.to_ascii_lowercase() + rest))?;
        let (first, rest) = opposite.split_at_checked(1)?;
        Some(first.to_ascii_uppercase() + rest)
    }
}

fn is_word(word: &str) -> bool {
    !word.is_empty() && word.chars().all(|sign| is_sign(sign) && !sign.is_ascii_uppercase())
}

fn is_sign(sign: char) -> bool {
    sign.is_ascii_alphanumeric() || sign == '_'
}
