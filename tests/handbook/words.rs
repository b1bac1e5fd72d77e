//! The handbook's lists of blocks and clauses, made from the table of the language.

use pinboss::syntax::language::{ClauseWord, Often, Sort, Use, clauses, taken};
use std::fmt::Write;

/// Blocks a list names before it names those left out instead
const MOST_LEFT_OUT: usize = 4;

/// A page with its lists made anew, each between the two lines that mark it; none where a mark is missing
pub fn made_anew(page: &str) -> Option<String> {
    let page = between(page, "blocks", &blocks())?;
    between(&page, "clauses", &all_clauses())
}

fn between(page: &str, list: &str, made: &str) -> Option<String> {
    let (before, rest) =
        page.split_once(&format!("<!-- {list}: made from the table of the language -->\n"))?;
    let (_, after) = rest.split_once(&format!("<!-- end of {list} -->\n"))?;
    Some(format!(
        "{before}<!-- {list}: made from the table of the language -->\n{made}<!-- end of {list} -->\n{after}"
    ))
}

fn blocks() -> String {
    let mut list = "| block | what it declares |\n| --- | --- |\n".to_owned();
    for block in Sort::ALL.map(Sort::block) {
        let _ = writeln!(list, "| `{}` | {} |", block.written, block.means);
    }
    list
}

fn all_clauses() -> String {
    let mut list =
        "| clause | in | means | without it | shown under |\n| --- | --- | --- | --- | --- |\n".to_owned();
    for clause in clauses() {
        for line in clause.uses {
            let cells = [line.written, &blocks_of(clause, line), line.means, line.without, &shown(clause)];
            let _ = writeln!(list, "| {} |", cells.map(|cell| cell.replace('|', "\\|")).join(" | "));
        }
    }
    list
}

fn blocks_of(clause: &ClauseWord, line: &Use) -> String {
    let takes = |sort: &Sort| clause.blocks.iter().any(|(takes, _)| takes == sort);
    let told: Vec<Sort> = Sort::ALL
        .into_iter()
        .filter(|sort| if line.of.is_empty() { takes(sort) } else { line.of.contains(sort) })
        .collect();
    let left_out: Vec<Sort> = Sort::ALL.into_iter().filter(|sort| !told.contains(sort)).collect();
    let listed = |sorts: &[Sort]| sorts.iter().map(|sort| sort.word()).collect::<Vec<_>>().join(", ");
    if left_out.len() <= MOST_LEFT_OUT { format!("all but {}", listed(&left_out)) } else { listed(&told) }
}

/// A link to where the course shows the clause at work
fn shown(clause: &ClauseWord) -> String {
    clause.section.map_or_else(String::new, |heading| format!("[{heading}](README.md#{})", anchor(heading)))
}

/// The name by which a link finds a heading
pub fn anchor(heading: &str) -> String {
    let kept = |letter: &char| letter.is_ascii_alphanumeric() || *letter == ' ';
    heading.chars().filter(kept).collect::<String>().to_lowercase().replace(' ', "-")
}

/// Clauses whose section does not show them in an example or between back quotes
pub fn not_shown(page: &str) -> Vec<String> {
    let shows = |heading: &str, word: &str| {
        let section = page.split("\n## ").find(|section| section.starts_with(&format!("{heading}\n")));
        section.is_some_and(|section| {
            let fenced = section.split("\n```rules").skip(1).filter_map(|rest| rest.split("\n```").next());
            let quoted = section.split('`').skip(1).step_by(2);
            fenced.chain(quoted).any(|code| starts_with(code, word))
        })
    };
    let lost = clauses().filter(|clause| {
        let at_work = clause.section.is_none_or(|heading| match clause.keyword() {
            Some(_) => shows(heading, clause.word),
            None => page.contains(&format!("\n## {heading}\n")),
        });
        !at_work
    });
    lost.map(|clause| clause.word.to_owned()).collect()
}

/// Whether a clause stands somewhere in a piece of code
fn starts_with(code: &str, clause: &str) -> bool {
    let words: Vec<&str> = code.split_whitespace().collect();
    let wanted: Vec<&str> = clause.split(' ').collect();
    words.windows(wanted.len()).any(|some| some == wanted)
}

/// Clauses and blocks that the table says something false or nothing of
pub fn unsaid() -> Vec<String> {
    let mut unsaid = Vec::new();
    for clause in clauses() {
        if clause.uses.is_empty() || clause.blocks.is_empty() {
            unsaid.push(format!("{}: no block, or no line of the list", clause.word));
        }
        let sorts = clause.uses.iter().flat_map(|line| line.of);
        for sort in sorts.filter(|sort| clause.blocks.iter().all(|(takes, _)| takes != *sort)) {
            unsaid.push(format!("{}: `{}` does not take it", clause.word, sort.word()));
        }
    }
    for sort in Sort::ALL {
        let known = |word: &str| taken(sort).any(|(clause, _): (_, Often)| clause.word == word);
        for word in sort.block().must.iter().flat_map(|group| group.iter()).filter(|word| !known(word)) {
            unsaid.push(format!("{}: must have `{word}`, which it does not take", sort.word()));
        }
    }
    unsaid
}
