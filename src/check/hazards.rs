//! The hazards that files declare, each once, with the words that tell of it.

use crate::model::Hazard;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};
use crate::source::{Span, Spanned};
use crate::syntax::tree::{File, Statement};
use std::collections::BTreeMap;

/// The hazards of all files, in their order
pub(super) fn declared(files: &[File], problems: &mut Problems) -> Vec<Hazard> {
    let mut hazards = Vec::new();
    let mut first: BTreeMap<String, Span> = BTreeMap::new();
    let mut seen_words: BTreeMap<String, Span> = BTreeMap::new();
    for statement in files.iter().flat_map(|file| &file.statements) {
        let Statement::Hazard { what, words, beware } = &statement.value else { continue };
        if is_said(what, "name what can hurt, such as `lifting`", problems) {
            let help = "put all its words into one line";
            once(&mut first, what, "is declared twice", help, problems);
        }
        let tells = "write a word that tells of it, or how such words start";
        let known = words.iter().filter(|word| {
            is_said(word, tells, problems)
                && once(&mut seen_words, word, "tells of a hazard already", "keep one of the two", problems)
        });
        let words: Vec<String> = known.map(|word| as_found(&word.value)).collect();
        let speaks = "write a word that a caution says, or how such words start";
        let said = beware.iter().filter(|word| is_said(word, speaks, problems));
        let said: Vec<String> = said.map(|word| as_found(&word.value)).collect();
        let beware = if beware.is_empty() { words.clone() } else { said };
        hazards.push(Hazard { what: what.value.clone(), words, beware });
    }
    hazards
}

/// A word as it is looked for
fn as_found(word: &str) -> String {
    word.trim().to_lowercase()
}

/// Whether something is written between the quotes; otherwise says that nothing is
fn is_said(text: &Spanned<String>, help: &str, problems: &mut Problems) -> bool {
    let said = !text.value.trim().is_empty();
    if !said {
        problems.push(Problem::new(Code::Syntax, text.at, "nothing stands between these quotes").help(help));
    }
    said
}

/// Whether a text stands here for the first time; otherwise says where it stood first
fn once(
    seen: &mut BTreeMap<String, Span>,
    text: &Spanned<String>,
    what: &str,
    help: &str,
    problems: &mut Problems,
) -> bool {
    let known = seen.get(&as_found(&text.value)).copied();
    match known {
        None => {
            seen.insert(as_found(&text.value), text.at);
        }
        Some(first) => problems.push(
            Problem::new(Code::DuplicateName, text.at, format!("`{}` {what}", text.value))
                .also(first, "first given here")
                .help(help),
        ),
    }
    known.is_none()
}
