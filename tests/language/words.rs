//! The table of the words of the language, held against the grammar and against its own examples.

use pinboss::source::Sources;
use pinboss::syntax::language::{ClauseWord, ROW, Sort, clauses, taken};
use pinboss::syntax::parse;
use std::collections::BTreeSet;

/// What each clause that the grammar reads starts with, a bare sentence left out, which belongs to the line above it
fn read_by_the_grammar() -> BTreeSet<&'static str> {
    let grammar = include_str!("../../grammar/rules.pest");
    let body =
        |opening: &str| grammar.split_once(opening).and_then(|(_, rest)| rest.split_once("}\n")).unwrap().0;
    let keyed = body("\nkeyed = _{").split('|').map(str::trim);
    let starts = keyed.filter(|rule| *rule != "sentence").map(|rule| {
        let keyword = body(&format!("\n{rule} = {{")).trim_start().strip_prefix("kw_");
        keyword.unwrap_or_else(|| panic!("`{rule}` starts with no keyword")).split(' ').next().unwrap()
    });
    starts.chain([ROW]).collect()
}

#[test]
fn every_clause_of_the_grammar_stands_in_the_table() {
    let told: BTreeSet<&str> = clauses().map(|clause| clause.keyword().unwrap_or(clause.word)).collect();
    assert_eq!(told, read_by_the_grammar());
}

/// The start of a block of a sort
pub fn head(sort: Sort) -> String {
    match sort {
        Sort::Scale => "scale".to_owned(),
        Sort::Kind => "kind x: \"x\" counts against owner".to_owned(),
        sort => format!("{} x: \"x\"", sort.word()),
    }
}

/// An example is read to the clause whose row it stands in, in every block that takes it
#[test]
fn every_example_is_read_to_its_own_clause() {
    for clause in clauses() {
        for (sort, _) in clause.blocks {
            let mut sources = Sources::default();
            let id = sources.add("example.rules", format!("{}\n    {}\n", head(*sort), clause.example));
            let (file, problems) = parse(&sources, id);
            assert!(problems.is_empty(), "{} in {}", clause.example, sort.word());
            let read = file.declarations.first().and_then(|block| block.clauses.first());
            assert_eq!(read.map(|read| read.value.word()), Some(clause.word), "{}", sort.word());
        }
    }
}

#[test]
fn no_two_clauses_start_with_the_same_word_and_no_block_takes_one_twice() {
    let keywords: Vec<&str> = clauses().filter_map(ClauseWord::keyword).collect();
    assert_eq!(keywords.len(), keywords.iter().collect::<BTreeSet<_>>().len());
    for sort in Sort::ALL {
        let words: Vec<&str> = taken(sort).map(|(clause, _)| clause.word).collect();
        assert_eq!(words.len(), words.iter().collect::<BTreeSet<_>>().len(), "{}", sort.word());
    }
}
