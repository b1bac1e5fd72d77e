//! Any text at all: no panic, every place inside the text, and agreement with another YAML library on what stands there.

use crate::case_reading::{Reading, read};
use pinboss::case::Inspection;
use pinboss::source::Spanned;
use proptest::prelude::*;
use std::collections::BTreeMap;

/// A sound case with most kinds of YAML in it
const SOUND: &str = include_str!("sound.yaml");

/// Pieces that mean something to YAML or to a case file
const PIECES: [&str; 40] = [
    "\n",
    "\n  ",
    "\r\n",
    "\t",
    " ",
    ": ",
    ":",
    "- ",
    "? ",
    ", ",
    "[",
    "]",
    "{",
    "}",
    "#",
    " # ",
    "&a ",
    "*a",
    "!t ",
    "!!str ",
    "|\n",
    ">-\n",
    "\"",
    "'",
    "\\",
    "%",
    "---\n",
    "...\n",
    "@",
    "`",
    "~",
    "case: a\n",
    "machine: ",
    "seen: ",
    "left",
    "roller 3",
    "70%",
    "é",
    "\u{feff}",
    "\u{85}",
];

/// What ends a line in YAML 1.1 and not in 1.2
const ENDS_A_LINE: [char; 3] = ['\u{85}', '\u{2028}', '\u{2029}'];

fn pieces() -> impl Strategy<Value = String> {
    proptest::collection::vec(proptest::sample::select(&PIECES[..]), 0..40).prop_map(|list| list.concat())
}

/// A sound case with a few stretches of it cut out, doubled or overwritten
fn damaged() -> impl Strategy<Value = String> {
    let cut = (any::<proptest::sample::Index>(), 0..12_usize, proptest::sample::select(&PIECES[..]), 0..3_u8);
    proptest::collection::vec(cut, 1..6).prop_map(|cuts| {
        let mut letters: Vec<char> = SOUND.chars().collect();
        for (at, length, piece, kind) in cuts {
            let start = at.index(letters.len() + 1);
            let end = (start + length).min(letters.len());
            let old: Vec<char> = letters.drain(start..end).collect();
            let new: Vec<char> = match kind {
                0 => Vec::new(),
                1 => piece.chars().collect(),
                _ => [old.clone(), old].concat(),
            };
            letters.splice(start..start, new);
        }
        letters.into_iter().collect()
    })
}

fn holds(text: &str) -> Result<Reading, TestCaseError> {
    let reading = read(text);
    let kept = reading.sources.text(reading.id);
    for at in reading.places() {
        let inside = at.start <= at.end && kept.get(at.start..at.end).is_some();
        prop_assert!(inside, "{at:?} does not lie in {kept:?}");
    }
    for problem in &reading.problems {
        prop_assert!(!problem.message.contains(['\n', '\r']), "{}", problem.message);
    }
    // The library goes by YAML 1.1 and the reader by 1.2, so that either refuses some texts that the other reads: what is
    // asked is that they agree on what stands at each place. In YAML 1.1 three more characters end a line.
    let one_version = !kept.contains(ENDS_A_LINE);
    // Between brackets the reader takes `|` and `>` for the start of a text; alone they start a block.
    let starts_a_block = |text: &&Spanned<String>| text.value.starts_with(['|', '>']);
    let texts = reading.inspection.iter().filter(|_| one_version).flat_map(texts);
    for text in texts.filter(|text| !starts_a_block(text)) {
        prop_assert_eq!(alone(kept, text), Some(words(&text.value)), "in {:?}", kept);
    }
    Ok(reading)
}

/// Texts of a case that stand as one piece in the file
fn texts(case: &Inspection) -> Vec<&Spanned<String>> {
    let facts = case.machine.facts.iter();
    let visit = &case.visit;
    let mut texts = vec![&case.title, &case.machine.tag];
    texts.extend([&visit.on, &visit.by, &visit.place].into_iter().flatten());
    texts.extend(facts.flat_map(|fact| [&fact.name, &fact.value]));
    texts.extend(visit.state.iter().chain(&case.earlier));
    texts.extend(case.parts.iter().map(|fitted| &fitted.part));
    texts.extend(case.photos.iter().flat_map(|photo| [&photo.name, &photo.file]));
    for seen in &case.seen {
        texts.extend(&seen.looked);
        texts.extend(seen.found.iter().map(|found| &found.symptom));
        texts.extend(seen.not_possible.iter().map(|(name, _)| name));
        texts.extend(seen.photos.iter().flat_map(|(name, file)| [name, file]));
        for read in &seen.read {
            texts.push(&read.measure);
            texts.extend(&read.void);
        }
    }
    texts.retain(|text| !text.value.is_empty());
    texts
}

/// Words that the library reads from the place of a text alone, with the quotes around it
fn alone(file: &str, text: &Spanned<String>) -> Option<String> {
    let piece = file.get(text.at.start..text.at.end)?;
    if piece == text.value {
        return Some(words(piece));
    }
    let quote = file.get(..text.at.start)?.chars().next_back();
    let quote = quote.filter(|letter| ['"', '\''].contains(letter));
    let quote = quote.map(String::from).unwrap_or_default();
    // A space more on every line, for in a list of its own a text may not begin at the first column.
    let piece = piece.replace("\r\n", "\n").replace('\n', "\n ").replace('\u{85}', "\u{85} ");
    let item: [String; 1] = serde_yaml::from_str(&format!("- {quote}{piece}{quote}")).ok()?;
    Some(words(&item[0]))
}

/// A text without regard to space, for how much of it a line keeps hangs on its indent
fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_sound_case_is_sound() {
    read(SOUND).clean().unwrap();
}

/// A case as the YAML library writes it; empty should it not write
fn written(title: &str, facts: &BTreeMap<String, String>) -> String {
    let value = |text: &str| serde_yaml::Value::from(text);
    let facts: serde_yaml::Mapping = facts.iter().map(|(k, v)| (value(k), value(v))).collect();
    let machine =
        serde_yaml::Mapping::from_iter([(value("facts"), facts.into()), (value("tag"), value("T1"))]);
    let file = BTreeMap::from([("case", value(title)), ("machine", machine.into())]);
    serde_yaml::to_string(&file).unwrap_or_default()
}

fn often() -> ProptestConfig {
    ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(500) }
}

proptest! {
    #![proptest_config(often())]

    #[test]
    fn any_string_is_read_or_refused(text in any::<String>()) {
        holds(&text)?;
    }

    #[test]
    fn any_pieces_of_yaml_are_read_or_refused(text in pieces()) {
        holds(&text)?;
    }

    #[test]
    fn any_damage_to_a_sound_case_is_told_inside_the_text(text in damaged()) {
        holds(&text)?;
    }

    // The library's own writer chooses quotes, escapes and blocks as each text needs them.
    #[test]
    fn any_text_comes_back_as_the_library_wrote_it(
        title in "\\PC{0,30}",
        name in "\\PC{0,12}",
        value in "[ -~é\n'\"\\\\:#]{0,20}",
    ) {
        let facts = BTreeMap::from([(name, value), ("behind".to_owned(), "here".to_owned())]);
        let reading = holds(&written(&title, &facts))?;
        let Some(case) = &reading.inspection else {
            let refused = reading.told()[0].2;
            let known = refused.contains("is no text") || refused.contains("begins with `%`");
            prop_assert!(known, "{}", refused);
            return Ok(());
        };
        prop_assume!(!title.contains(ENDS_A_LINE) && !facts.keys().any(|name| name.contains(ENDS_A_LINE)));
        prop_assert_eq!(&case.title.value, title.trim());
        let told = case.machine.facts.iter();
        let told = told.map(|fact| (fact.name.value.as_str(), fact.value.value.as_str()));
        let filled = facts.iter().map(|(name, value)| (name.as_str(), value.trim()));
        let filled = filled.filter(|(_, value)| !value.is_empty());
        prop_assert_eq!(told.collect::<BTreeMap<_, _>>(), filled.collect::<BTreeMap<_, _>>());
    }
}
