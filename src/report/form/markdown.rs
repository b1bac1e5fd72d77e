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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::form::nest::tests::a_check;
    use rstest::rstest;

    #[test]
    fn every_sort_of_piece_has_its_markdown() {
        let mut prose = a_check();
        prose.step(4, true, "it", "shown");
        prose.step(4, false, "it", "not shown");
        prose.named(4, "To do", "mend it");
        prose.gap();
        prose.cautions_as_before(4, &["Keep clear.".to_owned(), "Block it.".to_owned()]);
        prose.item(4, "one");
        prose.item(4, "two");
        prose.passage("An example");
        prose.lines(2, "cause x\n\n  prior rare");
        let told = "\
## What to look at next

### 1. Look at it

> **Caution.** Keep clear.

How.

Speaks for it:

- shown

Speaks against it:

- not shown

**To do:** mend it

> **Caution.** Keep clear.

> **Caution.** Block it.

- one
- two

### An example

    cause x

      prior rare
";
        assert_eq!(markdown(prose), told);
    }

    #[rstest]
    #[case("2. of *three*", "2\\. of \\*three\\*")]
    #[case("- a_b <i>", "\\- a\\_b \\<i\\>")]
    #[case("wear 3.5 %,\n60 - 40", "wear 3.5 %, 60 - 40")]
    #[case("# no heading", "\\# no heading")]
    fn words_steer_nothing(#[case] words: &str, #[case] safe: &str) {
        let mut prose = Prose::new();
        prose.say(0, words);
        assert_eq!(markdown(prose), format!("{safe}\n"));
    }
}
