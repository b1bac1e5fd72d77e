//! What is told as Markdown (CommonMark): one line a paragraph, every sign that would steer the layout taken as it stands.

use super::nest::{Block, Entry, Section, sections};
use crate::report::prose::{Level, Prose};
use crate::source::piece;

/// The text, with a line end behind it
pub fn markdown(prose: Prose) -> String {
    let blocks: Vec<String> = sections(prose).iter().flat_map(section).collect();
    blocks.join("\n\n") + "\n"
}

fn section(section: &Section) -> Vec<String> {
    let signs = match section.level {
        Level::Chapter => "##",
        Level::Passage => "###",
    };
    let heading = (!section.heading.is_empty()).then(|| format!("{signs} {}", inline(&section.heading)));
    heading.into_iter().chain(section.entries.iter().flat_map(entry)).collect()
}

fn entry(entry: &Entry) -> impl Iterator<Item = String> {
    let title = entry.title.as_ref().map(|title| format!("### {}", inline(title)));
    title.into_iter().chain(entry.blocks.iter().map(block))
}

fn block(block: &Block) -> String {
    match block {
        Block::Plain(words) => escaped(words),
        Block::Named(name, words) => format!("**{name}:** {}", inline(words)),
        Block::Caution(words) => format!("> **Caution.** {}", inline(words)),
        Block::List(lead, items) => {
            let items: Vec<String> = items.iter().map(|item| format!("- {}", escaped(item))).collect();
            let lead = if lead.is_empty() { String::new() } else { format!("{}\n\n", escaped(lead)) };
            lead + &items.join("\n")
        }
        Block::Lines(lines) => {
            let lines: Vec<String> =
                lines.iter().map(|line| format!("    {line}").trim_end().to_owned()).collect();
            lines.join("\n")
        }
    }
}

/// Words on one line that begins with them, none of whose signs means anything to Markdown
fn escaped(words: &str) -> String {
    let words = inline(words);
    let after_digits = words.trim_start_matches(|sign: char| sign.is_ascii_digit());
    let digits = words.len() - after_digits.len();
    let steers = match digits {
        0 => after_digits.starts_with(['-', '+', '=']),
        _ => after_digits.starts_with(['.', ')']),
    };
    if steers { format!("{}\\{after_digits}", piece(&words, ..digits)) } else { words }
}

/// The same where something stands before them on their line
fn inline(words: &str) -> String {
    let mut text = String::new();
    for sign in words.split_whitespace().collect::<Vec<_>>().join(" ").chars() {
        if matches!(sign, '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '&' | '#' | '|' | '~' | '!') {
            text.push('\\');
        }
        text.push(sign);
    }
    text
}
