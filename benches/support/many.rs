//! The shipped rules over and over: as many declarations as one likes, each copy with names of its own.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// Blocks that all copies share
const SHARED: [&str; 5] = ["scale", "kind", "state", "part", "fact"];
/// Declarations in one file: a file may not be larger than a megabyte
const TO_A_FILE: usize = 1000;

/// Rule texts with so many declarations together, and as many more as end the last copy
pub fn rules(declarations: usize) -> Vec<String> {
    let blocks = blocks();
    let own: BTreeSet<&str> = blocks
        .iter()
        .filter(|(sort, ..)| !SHARED.contains(&sort.as_str()))
        .map(|(_, name, _)| name.as_str())
        .collect();
    let mut texts = vec![String::new()];
    let mut count = 0;
    for copy in 0.. {
        // A copy without its end would speak of causes that nothing declares.
        if count >= declarations {
            break;
        }
        for (sort, _, text) in &blocks {
            if copy > 0 && SHARED.contains(&sort.as_str()) {
                continue;
            }
            if count > 0 && count % TO_A_FILE == 0 {
                texts.push(String::new());
            }
            let text = if copy == 0 { text.clone() } else { renamed(text, &own, copy) };
            texts.last_mut().unwrap().push_str(&text);
            count += 1;
        }
    }
    texts
}

/// Each declaration of the shipped rules: its keyword, its name, its text
fn blocks() -> Vec<(String, String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules");
    let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "rules"));
    paths.sort();
    let mut blocks: Vec<(String, String, String)> = Vec::new();
    for path in paths {
        for line in fs::read_to_string(path).unwrap().lines() {
            if line.starts_with(|sign: char| sign.is_ascii_lowercase()) {
                let mut words = line.split([' ', ',', ':']);
                let (sort, name) = (words.next().unwrap(), words.next().unwrap_or(""));
                blocks.push((sort.to_owned(), name.to_owned(), String::new()));
            }
            if let Some((.., text)) = blocks.last_mut() {
                text.push_str(line);
                text.push('\n');
            }
        }
    }
    blocks
}

/// A text with the number of the copy behind every name that is a copy's own; labels may change too
fn renamed(text: &str, own: &BTreeSet<&str>, copy: usize) -> String {
    let mut out = String::with_capacity(text.len() + text.len() / 8);
    let is_word = |sign: char| sign.is_ascii_alphanumeric() || sign == '_';
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let length = if is_word(first) {
            rest.find(|sign| !is_word(sign)).unwrap_or(rest.len())
        } else {
            first.len_utf8()
        };
        let (word, after) = rest.split_at(length);
        out.push_str(word);
        if own.contains(word) {
            out.push_str(&format!("_{copy}"));
        }
        rest = after;
    }
    out
}
