//! What is said to be missing where a line breaks off or goes wrong, wherever that is: the author's words, and never those of
//! the grammar.

use crate::language::words::head;
use pinboss::source::Sources;
use pinboss::syntax::language::{Sort, clauses};
use pinboss::syntax::parse;
use std::collections::BTreeSet;

/// Words that are told in quotes and are no keywords
const NO_KEYWORDS: [&str; 7] =
    ["machines", "sides", "common practice", "parked", "moved", "lifted", "records"];

/// Heads and statements that use all that can stand in one
const HEADS: [&str; 11] = [
    "kind x: \"x\" counts against owner text \"y\"",
    "part roller, each side, numbered 5 to 9: \"roller\" rubs chain",
    "symptom edge, each roller, of idler: \"edge\" grades none, slight",
    "fact f, each side: \"f\" choices a 40%, b 60%",
    "dimensions medium: \"d\" gap 20 mm 0%, 4 mm 100%",
    "life medium: \"l\" spread 18%",
    "scale always 98%",
    "basis common practice for remedy, check",
    "basis \"a book\"",
    "opposites \"left\" and \"right\", \"in\" and \"out\"",
    "hazard \"lifting\": \"lift\", \"jack\" beware \"crib\", \"sling\"",
];

/// Lines of a sign that use what no example of a clause does
const LINES: [&str; 5] = [
    "from half of (hours of chain since turned - turn of chain): a, b over 3",
    "from mean of worn gap across front half of rollers * smallest of new gap and limit gap: a, b under 3 mm",
    "with a on either side and b on any roller: 5% where roller is not in front half and hours over 3000",
    "with a toward this side and b toward the other side: often yes only where sides are left or right",
    "counts one 1, most over 40% of joints or pins gives way to c",
];

/// A line broken off, and going on with a sign that stands nowhere, at each of its places
fn broken(line: &str) -> Vec<String> {
    let cuts = line.char_indices().map(|(at, _)| &line[..at]).chain([line]);
    cuts.flat_map(|cut| [cut.to_owned(), format!("{cut} ?")]).collect()
}

/// What a text is said to lack
fn missing(text: &str) -> Vec<String> {
    let mut sources = Sources::default();
    let id = sources.add("one.rules", text);
    let (_, problems) = parse(&sources, id);
    let expected =
        problems.sorted().into_iter().filter_map(|problem| problem.message.strip_prefix("expected "));
    let told = expected.map(|told| {
        let end = told.rfind(", found `").or_else(|| told.rfind(" before the end of the line"));
        told[..end.unwrap()].to_owned()
    });
    told.collect()
}

#[test]
fn what_is_missing_is_told_in_the_authors_words() {
    let grammar = include_str!("../../grammar/rules.pest");
    let rules = grammar.lines().filter_map(|line| line.strip_prefix("kw_")?.split_once(' '));
    let keywords: BTreeSet<&str> = rules.map(|(word, _)| word).collect();
    let heads = HEADS.into_iter().flat_map(broken).map(|head| format!("{head}\n"));
    let within = |sort: Sort, line: &str| -> Vec<String> {
        broken(line).iter().map(|line| format!("{}\n    {line}\n", head(sort))).collect()
    };
    let lines = clauses()
        .flat_map(|clause| clause.blocks.iter().flat_map(move |(sort, _)| within(*sort, clause.example)));
    let signs = LINES.into_iter().flat_map(|line| within(Sort::Symptom, line));
    let mut quoted = BTreeSet::new();
    for text in heads.chain(lines).chain(signs) {
        for told in missing(&text) {
            assert!(!told.contains('_') && !told.contains("kw"), "{text:?} is told to lack {told}");
            let words = told.split('`').skip(1).step_by(2).filter(|word| word.contains(char::is_alphabetic));
            for word in words {
                assert!(
                    keywords.contains(word) || NO_KEYWORDS.contains(&word),
                    "{text:?} is told to lack {told}"
                );
                quoted.insert(word.to_owned());
            }
        }
    }
    assert!(quoted.len() >= 50, "{quoted:?}");
}
