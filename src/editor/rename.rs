//! Another name for a thing, everywhere it is named at once; or why it cannot have that name.
//!
//! A renaming is tried on a copy and refused when the check finds an error more.

use super::mention::{Mention, Thing, is_numbered, mentions, rows};
use super::uses::{declarations, mention_at};
use super::words::words;
use super::{Cursor, Rules, is_block};
use crate::check;
use crate::problem::Problems;
use crate::problem::code::Severity;
use crate::source::{Sources, Span, piece};
use crate::syntax;
use crate::syntax::short::Opposites;
use crate::syntax::tree::Clause;

/// Words that stand for places in a case file, or for numbers of them in a chance
const PLACES: [&str; 5] = ["machine", "left", "right", "machines", "sides"];

/// What can be renamed at a place, with its name; nothing where nothing is named
///
/// # Errors
/// Why it cannot, in a sentence, where something is named that has no name of its own.
pub fn renamed(rules: &Rules, cursor: Cursor) -> Result<Option<(Span, String)>, String> {
    let all = mentions(&rules.files);
    let Some(mention) = mention_at(&all, cursor) else {
        return Ok(None);
    };
    let word = rules.sources.slice(mention.at);
    if let Thing::Row(part) = mention.thing {
        return Err(format!("`{word}` follows the name of the part `{part}`: rename that"));
    }
    if declarations(&all, mention.thing).is_empty() {
        return Err(match mention.thing {
            Thing::Word { .. } => {
                format!("no line of a rule gives `{word}` its name: it is a word of the language")
            }
            _ => format!("nothing declares `{word}`"),
        });
    }
    Ok(Some((mention.at, word.to_owned())))
}

/// The pieces of text to be replaced so that what stands at a place has another name; none where nothing is named
///
/// # Errors
/// Why it cannot have that name, in a sentence.
pub fn rename(rules: &Rules, cursor: Cursor, name: &str) -> Result<Vec<(Span, String)>, String> {
    let Some((at, before)) = renamed(rules, cursor)? else {
        return Ok(Vec::new());
    };
    let all = mentions(&rules.files);
    let Some(mention) = mention_at(&all, Cursor { source: at.source, at: at.start }) else {
        return Ok(Vec::new());
    };
    if name == before {
        return Ok(Vec::new());
    }
    refused(rules, mention.thing, name)?;
    let edits = edits(&all, mention.thing, name);
    makes_errors(rules, &edits, name)?;
    Ok(edits)
}

fn edits(all: &[Mention<'_>], thing: Thing<'_>, name: &str) -> Vec<(Span, String)> {
    let replaced = all.iter().filter_map(|mention| match (thing, mention.thing) {
        (thing, other) if thing == other => Some((mention.at, name.to_owned())),
        (Thing::Block(part), Thing::Row(other)) if part == other => Some((mention.at, format!("{name}s"))),
        _ => None,
    });
    replaced.collect()
}

/// Says why a thing cannot have a name, where that can be said of the name alone
fn refused(rules: &Rules, thing: Thing<'_>, name: &str) -> Result<(), String> {
    match thing {
        Thing::Word { of, word } => {
            well_formed(name, syntax::is_grade(name), "letters, digits and `_`")?;
            let taken = rules.block(of).and_then(words).is_some_and(|words| words.all.contains(&name));
            if taken {
                return Err(format!("`{of}` has a `{name}` already"));
            }
            mirrored(rules, of, [word, name])
        }
        Thing::Share(_) | Thing::Size(_) | Thing::Block(_) | Thing::Row(_) => {
            well_formed(name, syntax::is_name(name), "small letters, digits and `_`")?;
            taken(rules, thing, name)
        }
    }
}

/// Says when a word of a block is swapped in mirrored lines, or would be: these would come to mean something else
fn mirrored(rules: &Rules, of: &str, words: [&str; 2]) -> Result<(), String> {
    let opposites = Opposites::of(&rules.files, &mut Problems::default());
    let swapped = words.into_iter().find_map(|word| Some((word, opposites.of_word(word)?)));
    let Some((word, opposite)) = swapped else { return Ok(()) };
    let mirrors = rules.declarations().filter(|block| {
        block.clauses.iter().any(|clause| match &clause.value {
            Clause::Mirror(line) => {
                block.name.value == of || line.parents.iter().any(|parent| parent.name.value == of)
            }
            _ => false,
        })
    });
    match mirrors.map(|block| block.name.value.as_str()).next() {
        Some(block) => Err(format!(
            "`{word}` is swapped for `{opposite}` in the mirrored lines of `{block}`: write these out as `with` lines first"
        )),
        None => Ok(()),
    }
}

fn well_formed(name: &str, good: bool, made_of: &str) -> Result<(), String> {
    if good {
        return Ok(());
    }
    let is_word = !name.is_empty() && name.bytes().all(|byte| byte.is_ascii_lowercase());
    Err(if is_word && name.len() <= 20 {
        format!("`{name}` is a word of the language and cannot name anything")
    } else {
        format!(
            "`{name}` is no name: a name is made of {made_of}, starts with a letter, and is no word of the language"
        )
    })
}

fn taken(rules: &Rules, thing: Thing<'_>, name: &str) -> Result<(), String> {
    if let Thing::Share(_) = thing {
        let scale = super::uses::scale(rules);
        let taken = scale.iter().any(|(word, _)| *word == name);
        return if taken { Err(format!("the scale has a `{name}` already")) } else { Ok(()) };
    }
    if let Thing::Size(_) = thing {
        let sizes = rules.declarations().filter(|it| !is_block(it.sort.value));
        let taken = sizes.into_iter().any(|it| it.name.value == name);
        return if taken { Err(format!("there is a size class `{name}` already")) } else { Ok(()) };
    }
    if PLACES.contains(&name) {
        return Err(format!("`{name}` stands for places on every machine: choose another name"));
    }
    if let Some(other) = rules.block(name) {
        return Err(format!("there is a {} called `{name}` already", other.sort.value.word()));
    }
    if let Some(part) = rows(&rules.files).get(name) {
        return Err(format!("`{name}` says how many of `{part}` a side has"));
    }
    let renamed = if let Thing::Block(of) = thing { rules.block(of) } else { None };
    let plural = format!("{name}s");
    match rules.block(&plural) {
        Some(_) if renamed.is_some_and(is_numbered) => {
            Err(format!("`{plural}` would say how many of `{name}` a side has, and names something already"))
        }
        _ => Ok(()),
    }
}

/// Says which error the new name would bring, if any
fn makes_errors(rules: &Rules, edits: &[(Span, String)], name: &str) -> Result<(), String> {
    let mut sources = Sources::default();
    let mut problems = Problems::default();
    let mut files = Vec::new();
    for id in rules.sources.ids() {
        let here: Vec<_> = edits.iter().filter(|(at, _)| at.source == id).cloned().collect();
        let id = sources.add(rules.sources.name(id), replaced(rules.sources.text(id), &here));
        let (file, said) = syntax::parse(&sources, id);
        problems.append(said);
        files.push(file);
    }
    problems.append(check::check(&files).1);
    if problems.counts().0 <= rules.problems.counts().0 {
        return Ok(());
    }
    let known: Vec<&str> = rules.problems.sorted().iter().map(|problem| problem.message.as_str()).collect();
    let sorted = problems.sorted();
    let errors = sorted.iter().filter(|problem| problem.code.severity() == Severity::Error);
    let mut new = errors.filter(|problem| !known.contains(&problem.message.as_str()));
    let why = new.next().map_or("the rules would hold an error more", |problem| problem.message.as_str());
    Err(format!("with `{name}` the rules would be faulty: {why}"))
}

/// A text with pieces replaced, which stand in order and do not overlap
pub fn replaced(text: &str, edits: &[(Span, String)]) -> String {
    let mut new = String::with_capacity(text.len());
    let mut start = 0;
    for (at, word) in edits {
        new.push_str(piece(text, start..at.start));
        new.push_str(word);
        start = at.end;
    }
    new + piece(text, start..)
}
