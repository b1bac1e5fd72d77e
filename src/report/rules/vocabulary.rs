//! What a word of the rule language says, for the author who meets it in a file of rules.

use super::entry::{Entry, Says};
use crate::syntax::language::{self, BlockWord, ClauseWord, LATER, LaterWord, Often, Sort};

/// The entry of a word of the language, wherever it can stand; none for any other word
pub fn of_word(word: &str) -> Option<Entry> {
    let block = Sort::of(word).map(Sort::block);
    let clause = language::clauses().find(|it| it.word == word).or_else(|| language::starting_with(word));
    let later = LATER.iter().find(|it| it.word == word);
    let label = clause.map(|it| it.says).or(block.map(|it| it.says)).or(later.map(|it| it.says))?;
    let says = block.map(of_block).into_iter().chain(clause.map(of_clause)).chain(later.map(of_later));
    Some(Entry {
        id: word.to_owned(),
        sort: "word of the rule language",
        label: label.split_inclusive(". ").next().unwrap_or(label).trim_end().to_owned(), // else: it says nothing
        places: "told wherever it can stand".to_owned(),
        says: says.flatten().collect(),
    })
}

fn of_block(block: &BlockWord) -> Vec<Says> {
    let written = format!("`{}`: {}", block.written, block.means);
    vec![Says { about: "At the start of a block", lines: vec![block.says.to_owned(), written] }]
}

fn of_clause(clause: &ClauseWord) -> Vec<Says> {
    let often = |often: Often| match often {
        Often::Once => "once",
        Often::Often => "any number of times",
    };
    let blocks = clause.blocks.iter().map(|(sort, times)| format!("{} ({})", sort.word(), often(*times)));
    let uses = clause
        .uses
        .iter()
        .map(|line| format!("{}: {}. Without it: {}.", line.written, line.means, line.without));
    let shown = clause.section.map(|heading| format!("The handbook shows it under “{heading}”."));
    let says = [clause.says.to_owned()].into_iter().chain(shown).collect();
    vec![
        Says { about: "As a clause", lines: says },
        Says { about: "Blocks that take it", lines: blocks.collect() },
        Says { about: "How it is written", lines: uses.collect() },
        Says { about: "For instance", lines: vec![clause.example.to_owned()] },
    ]
}

fn of_later(later: &LaterWord) -> Vec<Says> {
    let example = format!("For instance: {}", later.example);
    vec![Says { about: "Further on in a line", lines: vec![later.says.to_owned(), example] }]
}
